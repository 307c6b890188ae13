#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "batch/sort_plan.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "ledger/ledger.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

std::string block_name(const BatchPlan& plan, const SortedBlock& b) {
  return fmt::format("{}, {}", plan.split.shapes[static_cast<std::size_t>(b.shape)].full_name(), b.wood);
}

std::string which(const SortedBlock& b) {
  return b.reading ? fmt::format("reading {} ({:+.3f} mm)", *b.reading, b.off_mm) : "any that was not measured";
}

std::string sort_report(const BatchPlan& plan, const SortPlan& s) {
  std::string out = fmt::format(
      "Sorted so, the tightest of {} puzzles has {:.3f} mm of play, from its measured blocks alone; taken as they come "
      "it would be {:.3f} mm. {}\n",
      s.puzzles.size(), s.worst_mm, s.as_they_come_mm,
      s.verdict == Verdict::found ? "No other sorting is better: proven."
                                  : fmt::format("No sorting has more than {:.3f} mm.", s.bound_mm));
  if (s.without_wood > 0)
    out += fmt::format("{} readings are left out: nobody wrote down the wood of the block.\n", s.without_wood);
  for (int shape : s.no_matter)
    out += fmt::format("Which {} goes where does not matter: the size that was measured does nothing to the play.\n",
                       plan.split.shapes[static_cast<std::size_t>(shape)].full_name());
  for (const SortedPuzzle& p : s.puzzles) {
    out += fmt::format("\n{} {}: {:.3f} mm\n", p.design, p.copy + 1, p.play_mm);
    for (const SortedPlace& at : p.places)
      out += fmt::format("  {:<12} block {:<2} {:<44} {}\n", at.piece, at.block + 1, block_name(plan, at.content),
                         which(at.content));
  }
  if (!s.left.empty()) out += "\nLeft on the shelf\n";
  for (const SortedBlock& b : s.left) out += fmt::format("  {:<44} {}\n", block_name(plan, b), which(b));
  return out;
}

Json block_json(const BatchPlan& plan, const SortedBlock& b) {
  return {{"set_up", set_up_id(plan, plan.set_ups[static_cast<std::size_t>(b.shape)])},
          {"wood", b.wood},
          {"reading", b.reading ? Json(*b.reading) : Json(nullptr)},
          {"off_mm", b.off_mm}};
}

Json sort_json(const BatchPlan& plan, const SortPlan& s) {
  Json j = {{"proven", s.verdict == Verdict::found},
            {"worst_play_mm", s.worst_mm},
            {"bound_mm", s.bound_mm},
            {"as_they_come_mm", s.as_they_come_mm},
            {"without_wood", s.without_wood},
            {"puzzles", Json::array()},
            {"left", Json::array()}};
  for (const SortedPuzzle& p : s.puzzles) {
    Json puzzle = {{"design", p.design}, {"copy", p.copy + 1}, {"play_mm", p.play_mm}, {"places", Json::array()}};
    for (const SortedPlace& at : p.places) {
      Json place = {{"piece", at.piece}, {"block", at.block + 1}};
      place.update(block_json(plan, at.content));
      puzzle["places"].push_back(std::move(place));
    }
    j["puzzles"].push_back(std::move(puzzle));
  }
  for (const SortedBlock& b : s.left) j["left"].push_back(block_json(plan, b));
  return j;
}

}  // namespace

int sort_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const auto sorted = plan_sorting(plan.value(), ledger_path(options.file));
  if (!sorted) return tell(sorted.problem());
  if (options.json)
    print_json(sort_json(plan.value(), sorted.value()));
  else
    fmt::print("{}", sort_report(plan.value(), sorted.value()));
  return kDone;
}

}  // namespace stickwright
