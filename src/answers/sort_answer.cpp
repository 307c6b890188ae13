#include "answers/sort_answer.h"

#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/numbers.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

std::string block_name(const BatchPlan& plan, const SortedBlock& b) {
  return fmt::format("{}, {}", plan.split.shapes[static_cast<std::size_t>(b.shape)].full_name(), b.wood);
}

// "number 7 (widths +0.020/-0.010 mm)", "reading 12 (+0.020 mm)"
std::string which(const SortedBlock& b) {
  if (!b.measured()) return "any that was not measured";
  const auto size = [](const std::optional<double>& off) { return off ? fmt::format("{:+.3f}", *off) : "?"; };
  std::string sizes = b.off_mm ? fmt::format("{} mm across flats", size(b.off_mm)) : "";
  if (b.width_off_mm[0] || b.width_off_mm[1])
    sizes +=
        fmt::format("{}widths {}/{} mm", sizes.empty() ? "" : ", ", size(b.width_off_mm[0]), size(b.width_off_mm[1]));
  return fmt::format("{} ({})",
                     b.number > 0 ? fmt::format("number {}", b.number) : fmt::format("reading {}", *b.reading), sizes);
}

// ", width 1 against block 3": how it lies in its piece.
std::string how_it_lies(const SortedPlace& at) {
  std::string out;
  if (!at.content.width_off_mm[0] && !at.content.width_off_mm[1]) return out;
  for (std::size_t side = 0; side < 2; ++side)
    for (const int block : at.against[side]) out += fmt::format(", width {} against block {}", side + 1, block + 1);
  return out;
}

Json or_null(const std::optional<double>& x) {
  return x ? Json(short_of(*x)) : Json(nullptr);
}

Json block_json(const BatchPlan& plan, const SortedBlock& b) {
  return {{"set_up", set_up_id(plan, plan.set_ups[static_cast<std::size_t>(b.shape)])},
          {"wood", b.wood},
          {"number", b.number > 0 ? Json(b.number) : Json(nullptr)},
          {"reading", b.reading ? Json(*b.reading) : Json(nullptr)},
          {"off_mm", or_null(b.off_mm)},
          {"width_1_off_mm", or_null(b.width_off_mm[0])},
          {"width_2_off_mm", or_null(b.width_off_mm[1])}};
}

Json blocks_json(const std::vector<int>& blocks) {
  Json out = Json::array();
  for (const int b : blocks) out.push_back(b + 1);
  return out;
}

}  // namespace

std::string sort_report(const BatchPlan& plan, const SortPlan& s) {
  std::string out = fmt::format(
      "Sorted so, the tightest of {} puzzles has {:.3f} mm of play, from its measured blocks alone; taken as they come "
      "it would be {:.3f} mm. {}\n",
      s.puzzles.size(), s.worst_mm, s.as_they_come_mm,
      s.verdict == Verdict::found ? "No other sorting is better: proven."
                                  : fmt::format("No sorting has more than {:.3f} mm.", s.bound_mm));
  if (s.without_wood > 0)
    out += fmt::format("{} readings are left out: nobody wrote down the wood of the block.\n", s.without_wood);
  if (s.without_number > 0)
    out += fmt::format("{} readings are left out: they do not say which of the numbered blocks they are of.\n",
                       s.without_number);
  for (int shape : s.no_matter)
    out += fmt::format("Which {} goes where does not matter: the size that was measured does nothing to the play.\n",
                       plan.split.shapes[static_cast<std::size_t>(shape)].full_name());
  for (const SortedPuzzle& p : s.puzzles) {
    out += fmt::format("\n{} {}: {:.3f} mm\n", p.design, p.copy + 1, p.play_mm);
    for (const SortedPlace& at : p.places)
      out += fmt::format("  {:<12} block {:<2} {:<32} {}{}\n", at.piece, at.block + 1, block_name(plan, at.content),
                         which(at.content), how_it_lies(at));
  }
  if (!s.left.empty()) out += "\nLeft on the shelf\n";
  for (const SortedBlock& b : s.left) out += fmt::format("  {:<32} {}\n", block_name(plan, b), which(b));
  return out;
}

Json sort_json(const BatchPlan& plan, const SortPlan& s) {
  Json j = {{"proven", s.verdict == Verdict::found},
            {"worst_play_mm", short_of(s.worst_mm)},
            {"bound_mm", short_of(s.bound_mm)},
            {"as_they_come_mm", short_of(s.as_they_come_mm)},
            {"without_wood", s.without_wood},
            {"without_number", s.without_number},
            {"puzzles", Json::array()},
            {"left", Json::array()}};
  for (const SortedPuzzle& p : s.puzzles) {
    Json puzzle = {
        {"design", p.design}, {"copy", p.copy + 1}, {"play_mm", short_of(p.play_mm)}, {"places", Json::array()}};
    for (const SortedPlace& at : p.places) {
      Json place = {{"piece", at.piece}, {"block", at.block + 1}};
      place.update(block_json(plan, at.content));
      place["width_1_against"] = blocks_json(at.against[0]);
      place["width_2_against"] = blocks_json(at.against[1]);
      puzzle["places"].push_back(std::move(place));
    }
    j["puzzles"].push_back(std::move(puzzle));
  }
  for (const SortedBlock& b : s.left) j["left"].push_back(block_json(plan, b));
  return j;
}

}  // namespace stickwright
