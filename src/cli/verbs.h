// verbs.h - one function a verb. Each prints its answer to stdout, problems to stderr, and returns an exit code.
#pragma once
#include <string>

namespace stickwright {

struct Options {
  std::string file;
  std::string out = "out";  // folder for files that a verb writes
  bool json = false;
  bool timing = false;
};

int check_verb(const Options& options);
int blocks_verb(const Options& options);
int setups_verb(const Options& options);
int sticks_verb(const Options& options);
int week_verb(const Options& options);
int plan_verb(const Options& options);

}  // namespace stickwright
