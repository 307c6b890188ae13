// correct.h - a test block was measured: what to do about the stop.
#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "metrology/leaves.h"
#include "truing/likely.h"

namespace stickwright {

enum class StopAdvice { shim, leave, remake, true_the_miter };
const char* to_string(StopAdvice advice);  // "shim", "leave", "remake", "true the miter first"

// How much of the deviation each cause is likely to have.
struct LikelyCause {
  std::string name;  // as to_string(CauseGroup)
  double mm = 0;
};

struct Correction {
  // Of the stop, along the axis, if nothing else were off: by so much it would have to move for the test block to have
  // its size. Positive: too far from the blade, the blocks are too long.
  Mm error;
  Mm u;  // standard uncertainty of that
  // What is likely to be its doing, with what was known of it and of the rest before.
  Mm likely;
  Mm u_likely;
  Mm lasting;  // the part of it that a stop made anew with the same stack would have again
  Mm wanted;   // shim: as thick as the error, when it is positive
  Shim shim;   // from the leaves owned, when that is the advice
  StopAdvice advice = StopAdvice::leave;
  std::string why;  // one or two sentences
  std::vector<LikelyCause> causes;
  std::optional<int> more_readings;  // as many in all would decide, when it is left for its uncertainty
};

// What to do about the first of the stops measured; the others say whether a miter that is off explains them all.
//   measured  at least one, each with its prediction; different stops
//   advice    leave when the error is no larger than its uncertainty, or when nothing is likely to bring the stop
//   nearer.
//             True the miter first when its share is the larger and more than it is known by. Leaves are chosen for the
//             whole of the error, as the trade does, and advised where it is clear, more than twice its uncertainty, or
//             where they are likely to leave less than nothing done.
//             A new stop is advised where leaves do not reach and the error is clear.
//   source    docs/derivations/correcting.md
Correction correct_stop(std::span<const Measured> measured, std::span<const Leaf> leaves);

}  // namespace stickwright
