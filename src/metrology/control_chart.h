// control_chart.h - how far readings of one size spread, and the limits between which a steady saw keeps them.
#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace stickwright {

// From the published table of control-chart constants, for ranges of two readings: mean range / sigma, and upper limit
// / mean range.
//   source   NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.1 and 6.3.2.2; d2 is 2 / sqrt(pi), rounded
inline constexpr double kRangeOfTwo = 1.128;       // d2
inline constexpr double kRangeOfTwoUpper = 3.267;  // D4

// Equal readings have exactly their own value as mean.   assumes  at least one
double mean_of(std::span<const double> readings);

// Standard deviation, n - 1 in the denominator.   assumes  at least two
double sd_of(std::span<const double> readings);

// |reading - the one before|: one fewer than readings.
std::vector<double> moving_ranges(std::span<const double> readings);

// Chart for individual readings and their moving ranges, all in the unit of the readings.
struct ControlChart {
  double center = 0;
  double sigma = 0;  // of the short run: mean moving range / d2
  double mean_moving_range = 0;
  double lower = 0, upper = 0;    // center -+ 3 sigma
  double moving_range_upper = 0;  // D4 times the mean moving range
};

//   least_sigma  what the instrument's steps amount to at least: readings that come out equal on a coarse scale do not
//                spread less. The moving-range limit is raised along with it. 0: the readings alone tell
//   returns      nothing with fewer than two readings
//   source       NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2
std::optional<ControlChart> control_chart(std::span<const double> readings, double least_sigma = 0);

}  // namespace stickwright
