// fit_inputs.h - what the fit of a puzzle starts from: how its pieces stand, and what is known of the shop.
#pragma once
#include <vector>

#include "batch/plan.h"
#include "fit/puzzle_errors.h"

namespace stickwright {

// The pieces of a puzzle as they stand in its assembly.
ClosedPuzzle closed_puzzle(const BatchPlan& plan, const PuzzlePlan& puzzle);

// The saw of the plan at every set-up, and the shop's glue. What the shop file does not say is assumed, and says so.
ShopKnown shop_known(const BatchPlan& plan);

// As [fit] says; else what is assumed.
Mm hand_gives(const Shop& shop);
Mm eased(const Shop& shop);

}  // namespace stickwright
