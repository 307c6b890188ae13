#include "metrology/control_chart.h"

#include <algorithm>
#include <cmath>

namespace stickwright {

double mean_of(std::span<const double> readings) {
  // Differences from the first reading are small: their sum keeps the digits that matter.
  double sum = 0;
  for (const double x : readings) sum += x - readings.front();
  return readings.front() + sum / static_cast<double>(readings.size());
}

double sd_of(std::span<const double> readings) {
  const double mean = mean_of(readings);
  double squares = 0;
  for (const double x : readings) squares += (x - mean) * (x - mean);
  return std::sqrt(squares / static_cast<double>(readings.size() - 1));
}

std::vector<double> moving_ranges(std::span<const double> readings) {
  std::vector<double> ranges;
  for (std::size_t i = 1; i < readings.size(); ++i) ranges.push_back(std::abs(readings[i] - readings[i - 1]));
  return ranges;
}

std::optional<ControlChart> control_chart(std::span<const double> readings, double least_sigma) {
  if (readings.size() < 2) return std::nullopt;
  ControlChart chart;
  chart.center = mean_of(readings);
  chart.mean_moving_range = mean_of(moving_ranges(readings));
  chart.sigma = std::max(chart.mean_moving_range / kRangeOfTwo, least_sigma);
  chart.lower = chart.center - 3 * chart.sigma;
  chart.upper = chart.center + 3 * chart.sigma;
  chart.moving_range_upper = kRangeOfTwoUpper * chart.sigma * kRangeOfTwo;
  return chart;
}

}  // namespace stickwright
