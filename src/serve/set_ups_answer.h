// set_ups_answer.h - the set-ups of a batch, step by step as on their cards. Private to this room.
#pragma once
#include <nlohmann/json.hpp>

#include "serve/batch_asked.h"

namespace stickwright {

// As `setups --json`, and what else the page shows: docs/api.yaml, SetUps.
nlohmann::ordered_json set_ups_on_the_page(const BatchAsked& batch);

// What to draw: a step of the card, or a cut of the block, counted from 1.
struct DrawingAsked {
  std::string set_up;
  int step = 0, cut = 0;  // one of them is 0
};
//   errors   unknown_set_up, unknown_step
Result<nlohmann::ordered_json> drawing_answer(const BatchPlan& plan, const DrawingAsked& asked);

}  // namespace stickwright
