// align.h - how the saw is off, from what was seen at it: the forward model run backward.
#pragma once
#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "metrology/least_squares.h"
#include "metrology/most_telling.h"
#include "truing/observation.h"

namespace stickwright {

// The four errors that truing is about, in this order.
enum class Error { miter, tilt, roll, pitch };
inline constexpr std::array kErrors = {Error::miter, Error::tilt, Error::roll, Error::pitch};
const char* to_string(Error error);

// What is known besides the readings: standard uncertainties.
struct TruingKnowledge {
  Mm stick{16};  // planned side
  double u_width_mm = 0.05;
  double u_corner_rad = 0.001;
  double u_square_rad = 1e-4;  // of the square's right angle
};

struct Found {
  double rad = 0;
  double u_rad = 0;   // infinite when nothing was measured that tells it
  bool seen = false;  // the readings determine it
};

struct Alignment {
  std::array<Found, 4> errors;  // by Error
  LinearFit fit;                // the last step of the solution: residuals, chi-square, covariance
  std::vector<Unknown> unknowns;
  // What the readings cannot tell, in words: "tilt", or "miter +0.01 degrees and length of the truing block +0.68 mm",
  // which together leave all readings as they are.
  std::vector<std::string> hidden;
  // The further reading that would tell most, and what it would leave.
  std::string next;
  bool next_shows_more = false;  // it would show something that is hidden now; else it would only sharpen
  const Found& operator[](Error e) const { return errors[static_cast<std::size_t>(e)]; }
};

// Estimates miter, tilt, roll and pitch together, with the widths of the stick, its squareness, the block's length and
// the square's own error as unknowns beside them, by weighted least squares about the point reached so far, until it
// moves no more.
//   readings  at least one; each u > 0
//   returns   what the readings determine, with covariance; hidden directions named
//   assumes   one stick and one cradle; errors of a few degrees at most
//   source    docs/derivations/truing.md
Alignment align(std::span<const Observation> readings, const TruingKnowledge& known);

// How many readings of each kind there would have to be for `wanted_u_rad`.
//   returns  2 .. 100; nothing when more of the same would not do (the square itself is not good enough)
std::optional<int> repeats_for(std::span<const Observation> readings, const TruingKnowledge& known, Error error,
                               double wanted_u_rad);

}  // namespace stickwright
