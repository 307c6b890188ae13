// drift.h - does the size creep from reading to reading? A straight line through all, and a moving average as a hint.
#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace stickwright {

// A straight line through the readings, in the unit of the readings per reading.
struct Drift {
  double slope = 0;
  double u_slope = 0;  // its standard error
  double at_last = 0;  // where the line is at the last reading
  double t = 0;        // slope / standard error; infinite when all readings lie on the line
  double p = 1;        // how often a steady saw would show a slope as great as this, either way, by chance
};

//   returns  nothing with fewer than three readings
//   assumes  readings that scatter independently and normally about the line
//   source   least squares and its t test with n - 2 degrees of freedom, NIST/SEMATECH e-Handbook 4.4
std::optional<Drift> fit_drift(std::span<const double> readings);

// Exponentially weighted moving average: z_i = lambda x_i + (1 - lambda) z_(i-1), z before the first = start.
struct Ewma {
  std::vector<double> z;  // one a reading
  double lower = 0, upper = 0;
  bool is_out(std::size_t i) const { return z[i] < lower || z[i] > upper; }
};

//   source   NIST/SEMATECH e-Handbook 6.3.2.4, with the limits for a long series: start -+ 3 sigma sqrt(l / (2 - l))
Ewma ewma(std::span<const double> readings, double start, double sigma, double lambda = 0.3);

}  // namespace stickwright
