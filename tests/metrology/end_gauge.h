// end_gauge.h - the 50 mm end gauge of JCGM 100:2008, H.1: the budget that several tests look at. In nanometers.
#pragma once
#include <vector>

#include "metrology/budget.h"

namespace stickwright::end_gauge {

inline constexpr double kStandardNm = 50'000'623;  // H.1.3.1, from the certificate

// The difference between the two gauges, H.1.3.2: mean of five readings (13 nm from 25 earlier ones), the comparator's
// random (0.01 um at 95 % from six) and systematic errors (0.02 um at 3 sigma, reliable to 25 %).
inline std::vector<BudgetInput> difference() {
  const auto normal = [](double value, double u, double freedom, const char* source) {
    return Estimate{value, u, Spread::normal, freedom, source};
  };
  return {{"repeats", "nm", normal(215, 5.8, 24, "five readings"), 1},
          {"comparator random", "nm", normal(0, 3.9, 5, "certificate"), 1},
          {"comparator systematic", "nm", normal(0, 6.7, 8, "certificate"), 1}};
}

// The mean temperature of the bed and its cycle, H.1.3.4.
inline std::vector<BudgetInput> temperature() {
  return {{"mean", "degC", {-0.1, 0.2, Spread::normal, std::numeric_limits<double>::infinity(), "mean of the bed"}, 1},
          {"cycle", "degC", within(0, 0.5, Spread::u_shaped, "thermostat"), 1}};
}

// Table H.1, in its order: l_S, d, alpha_S, theta, delta alpha, delta theta; with sensitivities of H.1.3 and H.1.4.
inline std::vector<BudgetInput> inputs() {
  Estimate length{kStandardNm, 25, Spread::normal, 18, "certificate"};
  Estimate d = as_estimate(make_budget({"d", "nm", 215, 0.99}, difference()));
  Estimate theta = as_estimate(make_budget({"theta", "degC", -0.1, 0.99}, temperature()));
  Estimate delta_alpha = within(0, 1e-6, Spread::rectangular, "bounds reliable to 10 %");
  delta_alpha.freedom = freedom_of_inexact(0.10);
  Estimate delta_theta = within(0, 0.05, Spread::rectangular, "bounds reliable to 50 %");
  delta_theta.freedom = freedom_of_inexact(0.50);
  return {{"standard", "nm", length, 1},
          {"difference", "nm", d, 1},
          {"expansion", "/degC", within(11.5e-6, 2e-6, Spread::rectangular, "handbook"), 0},
          {"temperature", "degC", theta, 0},
          {"difference of expansion", "/degC", delta_alpha, -kStandardNm * -0.1},
          {"difference of temperature", "degC", delta_theta, -kStandardNm * 11.5e-6}};
}

}  // namespace stickwright::end_gauge
