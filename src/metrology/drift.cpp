#include "metrology/drift.h"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <limits>

#include "metrology/control_chart.h"

namespace stickwright {
namespace {

void test_slope(Drift& d, double freedom) {
  if (d.slope == 0) return;
  if (!(d.u_slope > 0)) {
    d.t = std::copysign(std::numeric_limits<double>::infinity(), d.slope);
    d.p = 0;
    return;
  }
  d.t = d.slope / d.u_slope;
  const boost::math::students_t_distribution<double> spread(freedom);
  d.p = 2 * boost::math::cdf(boost::math::complement(spread, std::abs(d.t)));
}

}  // namespace

std::optional<Drift> fit_drift(std::span<const double> readings) {
  if (readings.size() < 3) return std::nullopt;
  const double n = static_cast<double>(readings.size()), middle = (n - 1) / 2, mean = mean_of(readings);
  double products = 0;
  for (std::size_t i = 0; i < readings.size(); ++i)
    products += (static_cast<double>(i) - middle) * (readings[i] - mean);
  const double squares_of_places = n * (n * n - 1) / 12;
  Drift d;
  d.slope = products / squares_of_places;
  d.at_last = mean + d.slope * middle;
  double squares = 0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double off = readings[i] - mean - d.slope * (static_cast<double>(i) - middle);
    squares += off * off;
  }
  d.u_slope = std::sqrt(squares / (n - 2) / squares_of_places);
  test_slope(d, n - 2);
  return d;
}

Ewma ewma(std::span<const double> readings, double start, double sigma, double lambda) {
  Ewma e;
  double z = start;
  for (const double x : readings) e.z.push_back(z = lambda * x + (1 - lambda) * z);
  const double reach = 3 * sigma * std::sqrt(lambda / (2 - lambda));
  e.lower = start - reach;
  e.upper = start + reach;
  return e;
}

}  // namespace stickwright
