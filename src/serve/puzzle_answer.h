// puzzle_answer.h - a design as the page shows it: where every piece stands, what it is glued of, how it comes apart.
// Private to this room.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "batch/design_plan.h"
#include "glueup/glueup.h"
#include "serve/call.h"

namespace stickwright {

// A puzzle to be shown.
struct ShownPuzzle {
  std::string file;  // of the design, in the folder
  const DesignPlan* plan = nullptr;
  const Split* split = nullptr;  // null: the pieces are not glued from blocks
  std::size_t first = 0;         // of its made pieces in the split
  // By made piece, copy and block; null without a batch.
  const std::vector<std::vector<std::vector<std::string>>>* wood_of = nullptr;
  std::optional<double> unit_mm;
};

// Reply: docs/api.yaml, Puzzle.
nlohmann::ordered_json puzzle_json(const ShownPuzzle& shown);

// In plain words: how many ways, the first move, hands, what is not proven; or why it does not work.
std::vector<std::string> puzzle_in_words(const DesignPlan& plan);
// "arm 3, arm 5 and arm 6 slide together out of the puzzle; hold arm 1, arm 2 and arm 4."
std::string step_in_words(const DesignPlan& plan, std::size_t step);

Reply puzzle_reply(Workbench& bench, const Call& call);

}  // namespace stickwright
