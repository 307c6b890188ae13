// correct.h - a test block was measured: what to do about the stop.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "metrology/leaves.h"
#include "truing/prediction.h"

namespace stickwright {

// Readings of one stop's test blocks, and what they should have been.
struct Measured {
  const Prediction* prediction = nullptr;
  double mean_mm = 0;
  int readings = 1;  // blocks measured, one reading each
};

enum class StopAdvice { shim, leave, remake, true_the_miter };
const char* to_string(StopAdvice advice);  // "shim", "leave", "remake", "true the miter first"

// How much of the deviation each cause is likely to have: its share of what was thought possible before, to the side
// that the deviation lies on. A turned cradle may make a block smaller only, whichever way it is turned: it is no cause
// of a block that is too big.
struct LikelyCause {
  std::string name;  // "stop", "miter", "stick", "cradle and blade", "seating and reading", "the rest"
  double mm = 0;
};

struct Correction {
  Mm error;      // of the stop, along the axis; positive: too far from the blade, the blocks are too long
  Mm u;          // standard uncertainty of that
  Mm wanted;     // shim
  Shim shim;     // from the leaves owned
  Mm remaining;  // error left when the advice is followed
  StopAdvice advice = StopAdvice::leave;
  std::string why;  // one or two sentences
  std::vector<LikelyCause> causes;
  std::optional<int> more_readings;  // as many in all would decide, when it is left for its uncertainty
};

// What to do about the first of the stops measured; the others say whether a miter that is off explains them all.
//   measured  at least one, each with its prediction; different stops
//   advice    leave when neither leaf nor new stop would come out nearer: the mean square of what is left, the error's
//             own uncertainty in it, would be no less than that of the error as it is. True the miter first when
//             the miter is the likelier cause. Remake when the stop stands too near to the blade, or leaves do not
//             reach.
//   source    docs/derivations/correcting.md
Correction correct_stop(std::span<const Measured> measured, std::span<const Leaf> leaves);

}  // namespace stickwright
