// shim_table.h - what to do for every reading that may come, to be used away from a screen.
#pragma once
#include <span>
#include <vector>

#include "truing/correct.h"

namespace stickwright {

// All readings from first to last call for the same.
struct ShimRow {
  Mm first, last;
  StopAdvice advice = StopAdvice::leave;
  Shim shim;                   // of the leaves owned, when that is the advice
  Mm error_first, error_last;  // of the stop
};

// Advice for readings of one test block, from `low` to `high` in steps, rows of one advice and one shim joined.
//   assumes  step > 0; the same as correct_stop says for each of them
std::vector<ShimRow> shim_table(const Prediction& prediction, std::span<const Leaf> leaves, Mm low, Mm high, Mm step);

}  // namespace stickwright
