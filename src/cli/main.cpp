// stickwright VERB FILE [--json] [--out DIR]: the command line.
#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <exception>
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
};

constexpr Verb kVerbs[] = {
    {"plan", "BATCH.toml",
     "everything for the evenings at the saw: blocks, stops, sticks, week, and the printed packet", plan_verb},
    {"check", "DESIGN.toml", "does it go together, in how many ways, and how does it come apart", check_verb},
    {"blocks", "DESIGN.toml", "the blocks that each piece is glued from", blocks_verb},
    {"setups", "BATCH.toml", "cuts, stops, gauge-block stacks and test blocks for each block shape", setups_verb},
    {"sticks", "BATCH.toml", "which blocks are sawn from which stick", sticks_verb},
    {"week", "BATCH.toml", "when to do what", week_verb},
};

// CLI11 does not name a verb that it does not know.
int unknown_verb(const std::string& verb) {
  std::vector<std::string> known;
  for (const Verb& v : kVerbs) known.push_back(v.name);
  fmt::print(stderr, "there is no verb \"{}\"{}. `stickwright --help` lists them. [unknown_verb]\n", verb,
             did_you_mean(verb, known));
  return kBadInput;
}

int run(int argc, char** argv) {
  CLI::App app{"stickwright: from the design of an interlocking wooden puzzle to the evening at the saw"};
  app.set_version_flag("--version", "stickwright 0.1.0");
  app.require_subcommand(1);
  Options options;
  std::map<CLI::App*, const Verb*> verbs;
  for (const Verb& v : kVerbs) {
    CLI::App* sub = app.add_subcommand(v.name, v.says);
    sub->add_option("file", options.file, v.file)->required();
    sub->add_flag("--json", options.json, "print one JSON document");
    if (std::string(v.name) == "plan") {
      sub->add_option("--out", options.out, "folder to write the packet and plan.json to")->capture_default_str();
      sub->add_flag("--timing", options.timing, "print how long it took and how much memory it used, to stderr");
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
  return verbs.at(app.get_subcommands().front())->run(options);
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
