// likely.h - a test block deviates: how much of it each cause is likely to have.
#pragma once
#include <array>
#include <span>

#include "truing/prediction.h"

namespace stickwright {

// Readings of one stop's test blocks, and what they should have been.
struct Measured {
  const Prediction* prediction = nullptr;
  double mean_mm = 0;
  int readings = 1;  // blocks measured, one reading each
};

enum class CauseGroup { stop, miter, stick, cradle, reading, rest };
inline constexpr std::size_t kCauseGroups = 6;
const char* to_string(CauseGroup cause);  // "cradle and blade"

// Of the first of the stops measured.
struct Likely {
  std::array<double, kCauseGroups> mm{};  // by CauseGroup: shares of the deviation across flats; they add up to it
  double u_miter = 0;                     // of the miter's share
  double stop = 0, u_stop = 0;            // error of the stop, mm along the axis; positive: too far from the blade
  double lasting = 0;                     // the part of it that a stop made anew with the same stack would have again
  double alone = 0, u_alone = 0;          // error of the stop if all that was read were its doing
  double share(CauseGroup c) const { return mm[static_cast<std::size_t>(c)]; }
};

// Everything that is known of saw and stops beforehand, and what was read, taken together.
//   measured  at least one, each with its prediction; different stops
//   assumes   miter, blade, cradle and temperatures are the same for all tests; each has a stick of its own, and its
//             own seating and readings. What the mean slope at a kink does not see is taken for chance,
//             as wide as the sampling found it
//   exact     for a model that is straight and normal distributions: the most likely shares, and their u
//   source    docs/derivations/correcting.md
Likely likely_causes(std::span<const Measured> measured);

}  // namespace stickwright
