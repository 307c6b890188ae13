// fit_inputs.h - what the fit of a puzzle starts from: how its pieces stand, and what is known of the shop.
#pragma once
#include <string>
#include <vector>

#include "batch/plan.h"
#include "fit/dimensions.h"
#include "fit/puzzle_errors.h"

namespace stickwright {

// The pieces of a puzzle as they stand in its assembly.
ClosedPuzzle closed_puzzle(const BatchPlan& plan, const PuzzlePlan& puzzle);

// The saw of the plan at every set-up, and the shop's glue. What the shop file does not say is assumed, and says so.
ShopKnown shop_known(const BatchPlan& plan);

// The sizes that a maker can choose, and how much smaller each may be made: a stop that is set short comes nearer to
// the blade, and must keep as clear of it as the shop asks for.
std::vector<Dimension> sizes_to_choose(const BatchPlan& plan, const PuzzleErrors& errors);

// As [fit] says; else what is assumed.
Mm hand_gives(const Shop& shop);
Mm eased(const Shop& shop);

// What the wood of the blocks has when they are cut and glued, percent: as the air of the shop says, else assumed.
double moisture_at_making(const Shop& shop);

// What had to be assumed of the shop, since its file does not say: "glue lines of 0.030 mm".
std::vector<std::string> assumed_of(const Batch& batch);

}  // namespace stickwright
