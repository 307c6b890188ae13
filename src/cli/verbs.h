// verbs.h - one function a verb. Each prints its answer to stdout, problems to stderr, and returns an exit code.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace stickwright {

struct Options {
  std::string file;
  std::string out = "out";  // folder for files that a verb writes
  bool json = false;
  bool timing = false;

  // Of check.
  std::int64_t stop_after = 0;  // assemblies; 0: find all
  std::int64_t nodes = 0;       // choices to open at most; 0: the engine's own limit
  int threads = 0;              // 0: as many as the machine has
  bool mirrors_once = false;    // an assembly and its mirror image count once
  bool turning = false;         // look at motions that turn, too
  bool each = false;            // print every assembly as it is found
  std::string bookmark;         // file that says where a stopped search is to go on; empty: none

  // Of record and history.
  std::string set_up;  // its id or number
  int stop = 0;        // from 1; 0: the first one to record, all of them to look at

  // Of record; `each` stores line by line what comes from a pipe.
  bool width = false;  // readings are widths across the sides of the stick
  int block = 0;       // number written on the first block; 0: not said
  std::vector<std::string> values;
  std::string stick, wood, by, instrument, note;
  std::string csv;  // file to read from
  bool inches = false;
  std::int64_t correct = 0, withdraw = 0;  // number of an entry

  // Of history.
  bool as_csv = false;
  std::string chart;  // folder for the control charts

  // Of setups and fit.
  std::string plots;  // folder for the pictures

  // Of align.
  std::vector<std::string> gaps;
  std::string over, light = "tip", gap_u, readings;

  // Of correct.
  std::vector<std::string> measured;

  bool keep = false;  // of align and correct: write into the ledger what was advised

  // Of export.
  bool steps = false;  // the take-apart as key frames

  // Of serve; `file` is the folder.
  std::optional<int> port;  // nothing: the usual one, or the next that is free
  bool lan = false;         // open to the shop's network
};

int check_verb(const Options& options);
int export_verb(const Options& options);
int blocks_verb(const Options& options);
int setups_verb(const Options& options);
int sticks_verb(const Options& options);
int week_verb(const Options& options);
int plan_verb(const Options& options);
int record_verb(const Options& options);
int history_verb(const Options& options);
int align_verb(const Options& options);
int correct_verb(const Options& options);
int fit_verb(const Options& options);
int sort_verb(const Options& options);
int serve_verb(const Options& options);

}  // namespace stickwright
