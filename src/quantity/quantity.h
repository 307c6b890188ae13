// quantity.h - lengths, times and shares with their units: how the shop's numbers are held and read.
#pragma once
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "quantity/result.h"

namespace stickwright {

inline constexpr double kMmPerInch = 25.4;  // exact, by definition

// A real length in millimeters: measured, predicted or drawn.
struct Mm {
  double v = 0;
  constexpr Mm() = default;
  explicit constexpr Mm(double millimeters) : v(millimeters) {}
  constexpr double inches() const { return v / kMmPerInch; }
  friend constexpr auto operator<=>(Mm, Mm) = default;
  friend constexpr Mm operator+(Mm a, Mm b) { return Mm{a.v + b.v}; }
  friend constexpr Mm operator-(Mm a, Mm b) { return Mm{a.v - b.v}; }
  friend constexpr Mm operator*(double k, Mm a) { return Mm{k * a.v}; }
};

// A nominal size in whole nanometers (gauge blocks, leaves): sums are exact.
struct Nm {
  std::int64_t v = 0;
  friend constexpr auto operator<=>(Nm, Nm) = default;
  friend constexpr Nm operator+(Nm a, Nm b) { return Nm{a.v + b.v}; }
  friend constexpr Nm operator-(Nm a, Nm b) { return Nm{a.v - b.v}; }
};

constexpr Mm to_mm(Nm n) {
  return Mm{static_cast<double>(n.v) / 1e6};
}
Nm to_nm(Mm length);  // rounded to the nearest nanometer

// A span of time in whole seconds.
struct Seconds {
  std::int64_t v = 0;
  friend constexpr auto operator<=>(Seconds, Seconds) = default;
};

// Reads "16 mm", "0.63 in", "3/4 in", "1 1/2 in", "4 ft", "0.6 m", "80 um".
//   errors   bad_length (no number, no unit, a unit that is no length, or a length that a double does not hold)
Result<Mm> parse_length(std::string_view text);

// The same, exact: decimal inches and fractions with denominators of 2^a 5^b turn into whole nanometers.
//   errors   bad_length; not_whole_nm when the size is not a whole number of nanometers
Result<Nm> parse_nominal(std::string_view text);

// Reads "12 s", "20 min", "1.5 h", "2 d".   errors  bad_duration
Result<Seconds> parse_duration(std::string_view text);

// Reads "8 %".   returns a share, 0.08   errors  bad_share
Result<double> parse_share(std::string_view text);

// "22.627 mm (0.8908 in)"
std::string show_mm_inch(Mm length, int mm_places = 3, int inch_places = 4);

}  // namespace stickwright
