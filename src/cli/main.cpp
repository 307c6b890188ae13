// stickwright VERB FILE [--json] [--out DIR]: the command line.
#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <exception>
#include <limits>
#include <map>
#include <vector>

#include "cli/exit_code.h"
#include "cli/verbs.h"
#include "text/nearest.h"

namespace stickwright {
namespace {

struct Verb {
  const char* name;
  const char* file;
  const char* says;
  int (*run)(const Options&);
  const char* if_left_out = nullptr;  // the file then; nullptr: it has to be named
};

constexpr Verb kVerbs[] = {
    {"plan", "BATCH.toml",
     "everything for the evenings at the saw: blocks, stops, sticks, week, and the printed packet", plan_verb},
    {"check", "DESIGN.toml", "does it go together, in how many ways, and how does it come apart", check_verb},
    {"export", "DESIGN.toml", "files for other programs: the take-apart as key frames", export_verb},
    {"blocks", "DESIGN.toml", "the blocks that each piece is glued from", blocks_verb},
    {"setups", "BATCH.toml", "cuts, stops, gauge-block stacks and test blocks for each block shape", setups_verb},
    {"fit", "BATCH.toml", "whether the puzzles close, how snug, what to set otherwise, and the play over a year",
     fit_verb},
    {"sort", "BATCH.toml", "which measured block goes into which piece of which puzzle", sort_verb},
    {"sticks", "BATCH.toml", "which blocks are sawn from which stick", sticks_verb},
    {"week", "BATCH.toml", "when to do what", week_verb},
    {"align", "BATCH.toml", "how the saw is off, from light gaps and lengths, and which leaf trues it", align_verb},
    {"correct", "BATCH.toml", "a test block was measured: which leaf goes under the stop, or what else to do",
     correct_verb},
    {"record", "BATCH.toml", "write readings into the ledger, and hear whether to go on", record_verb},
    {"history", "BATCH.toml", "what the readings in the ledger say, stop by stop", history_verb},
    {"serve", "FOLDER", "the workbench: the page for a browser on this machine, or for a phone in the shop", serve_verb,
     "."},
};

// CLI11 does not name a verb that it does not know.
int unknown_verb(const std::string& verb) {
  std::vector<std::string> known;
  for (const Verb& v : kVerbs) known.push_back(v.name);
  fmt::print(stderr, "there is no verb \"{}\"{}. `stickwright --help` lists them. [unknown_verb]\n", verb,
             did_you_mean(verb, known));
  return kBadInput;
}

void add_check_options(CLI::App& sub, Options& options) {
  const auto whole = CLI::Range(std::int64_t{1}, std::int64_t{1'000'000'000'000'000});
  sub.add_option("--stop-after", options.stop_after, "end when so many assemblies are found")->check(whole);
  sub.add_option("--nodes", options.nodes, "end when so many choices were opened")->check(whole);
  sub.add_option("--threads", options.threads, "how many to use; the answer is the same with any number")
      ->check(CLI::Range(1, 256));
  sub.add_flag("--mirrors-once", options.mirrors_once, "count an assembly and its mirror image once");
  sub.add_flag("--turning", options.turning, "look at pieces that turn as they start to move, too");
  sub.add_flag("--each", options.each, "print every assembly as it is found, one JSON document a line");
  sub.add_option("--bookmark", options.bookmark,
                 "file to go on from when it exists, and to note where the search was stopped");
}

void add_record_options(CLI::App& sub, Options& options) {
  const auto whole = CLI::Range(std::int64_t{1}, std::numeric_limits<std::int64_t>::max());
  sub.add_option("values", options.values, "readings; without any, they are read from the keyboard or a pipe");
  sub.add_option("--setup", options.set_up, "which set-up was measured: its id, or its number on the cards");
  auto* stop = sub.add_option("--stop", options.stop, "which of its stops, from 1; the first if left out");
  stop->check(CLI::Range(1, 99));
  sub.add_flag("--width", options.width,
               "readings are widths across the stick's own sides, 15.98/16.01 for both pairs of a block")
      ->excludes(stop);
  sub.add_option("--block", options.block, "number that is written on the first block measured; the next ones count on")
      ->check(CLI::Range(1, 999'999));
  sub.add_option("--stick", options.stick, "the stick that the block is from");
  sub.add_option("--wood", options.wood, "its wood");
  sub.add_option("--by", options.by, "who measured");
  sub.add_option("--instrument", options.instrument, "what was measured with; the shop's caliper if left out");
  sub.add_option("--note", options.note, "anything worth keeping");
  sub.add_flag("--inches", options.inches, "numbers without a unit are inches");
  sub.add_flag("--each", options.each, "store what comes from a pipe line by line, as at a keyboard");
  auto* csv = sub.add_option("--csv", options.csv, "read a table; its first row names the columns");
  auto* correct =
      sub.add_option("--correct", options.correct, "say what this entry should have been: --correct ID VALUE");
  auto* withdraw = sub.add_option("--withdraw", options.withdraw, "say that this entry does not count");
  correct->check(whole)->excludes(csv);
  withdraw->check(whole)->excludes(csv)->excludes(correct);
}

void add_align_options(CLI::App& sub, Options& options) {
  sub.add_option("--gap", options.gaps, "light gap of two opposite miters against a square; once for each reading");
  sub.add_option("--over", options.over, "length of arm at which the gap is");
  sub.add_option("--light", options.light, "where light shows: tip (the point is too wide) or ends")
      ->capture_default_str();
  sub.add_option("--u", options.gap_u, "standard uncertainty of one gap; else what the eye tells");
  sub.add_option("--readings", options.readings, "file of readings of every kind, see docs/files.md");
  sub.add_flag("--keep", options.keep, "write into the ledger what is left when the advice is followed");
  sub.add_option("--by", options.by, "with --keep: who did it");
  sub.add_option("--note", options.note, "with --keep: a remark");
}

void add_correct_options(CLI::App& sub, Options& options) {
  sub.add_option("--setup", options.set_up, "set-up, by its id or number")->required();
  sub.add_option("--stop", options.stop, "of the set-up, from 1")->check(CLI::Range(1, 99));
  sub.add_option("--measured", options.measured,
                 "test block across flats, once for each block; else the readings in the ledger");
  sub.add_flag("--keep", options.keep, "write into the ledger that the leaf was put in");
  sub.add_option("--by", options.by, "with --keep: who did it");
  sub.add_option("--note", options.note, "with --keep: a remark");
}

void add_history_options(CLI::App& sub, Options& options) {
  sub.add_option("--setup", options.set_up, "only this set-up: its id, or its number on the cards");
  sub.add_option("--stop", options.stop, "only this stop, from 1")->check(CLI::Range(1, 99));
  sub.add_flag("--csv", options.as_csv, "print all readings as a table");
  sub.add_option("--chart", options.chart, "folder to write control charts to, as SVG and PDF");
}

void add_serve_options(CLI::App& sub, Options& options) {
  sub.add_option("--port", options.port, "where to listen; 8765 or the next free one if left out, 0: any free one")
      ->check(CLI::Range(0, 65535));
  sub.add_flag("--lan", options.lan, "let phones and tablets in the shop's network in, once they gave a code");
}

// Its file, or folder, and what every verb has.
CLI::App* add_verb(CLI::App& app, const Verb& verb, Options& options) {
  CLI::App* sub = app.add_subcommand(verb.name, verb.says);
  CLI::Option* file = sub->add_option("file", options.file, verb.file);
  if (!verb.if_left_out) {
    file->required();
    sub->add_flag("--json", options.json, "print one JSON document");
  }
  return sub;
}

int run(int argc, char** argv) {
  CLI::App app{"stickwright: from the design of an interlocking wooden puzzle to the evening at the saw"};
  app.set_version_flag("--version", "stickwright 0.1.0");
  app.require_subcommand(1);
  Options options;
  std::map<CLI::App*, const Verb*> verbs;
  for (const Verb& v : kVerbs) {
    CLI::App* sub = add_verb(app, v, options);
    if (std::string(v.name) == "plan") {
      sub->add_option("--out", options.out, "folder to write the packet and plan.json to")->capture_default_str();
      sub->add_flag("--timing", options.timing, "print how long it took and how much memory it used, to stderr");
    }
    if (std::string(v.name) == "setups")
      sub->add_option("--plots", options.plots, "folder to write each stop's error budget to, as SVG and PDF");
    if (std::string(v.name) == "fit")
      sub->add_option("--plots", options.plots, "folder to write the pictures of the play to, as SVG and PDF");
    if (std::string(v.name) == "check") add_check_options(*sub, options);
    if (std::string(v.name) == "align") add_align_options(*sub, options);
    if (std::string(v.name) == "correct") add_correct_options(*sub, options);
    if (std::string(v.name) == "record") add_record_options(*sub, options);
    if (std::string(v.name) == "history") add_history_options(*sub, options);
    if (std::string(v.name) == "serve") add_serve_options(*sub, options);
    if (std::string(v.name) == "export") {
      sub->add_flag("--steps", options.steps, "steps.json: where every piece is before and after each step")
          ->required();
      sub->add_option("--out", options.out, "folder to write to")->capture_default_str();
    }
    verbs[sub] = &v;
  }
  const std::string first = argc > 1 ? argv[1] : "";
  const bool known = std::any_of(std::begin(kVerbs), std::end(kVerbs), [&](const Verb& v) { return first == v.name; });
  if (!first.empty() && first[0] != '-' && !known) return unknown_verb(first);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& success) {
    return app.exit(success) == 0 ? kDone : kBadInput;
  } catch (const CLI::ParseError& error) {
    app.exit(error);
    return kBadInput;
  }
  const Verb& verb = *verbs.at(app.get_subcommands().front());
  if (options.file.empty() && verb.if_left_out) options.file = verb.if_left_out;
  return verb.run(options);
}

}  // namespace
}  // namespace stickwright

int main(int argc, char** argv) {
  try {
    return stickwright::run(argc, argv);
  } catch (const std::exception& error) {
    fmt::print(stderr, "stickwright failed: {} [internal]\n", error.what());
    return stickwright::kNotFinished;
  }
}
