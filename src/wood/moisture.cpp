#include "wood/moisture.h"

#include <fmt/core.h>

namespace stickwright {
namespace {

// FPL-GTR-282, eq (4-5), constants for degrees Celsius.
double handbook_moisture(double t, double h) {
  const double w = 349 + 1.29 * t + 0.0135 * t * t;
  const double k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const double k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const double k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const double kh = k * h, squared = k1 * k2 * kh * kh;
  return 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * squared) / (1 + k1 * kh + squared));
}

// Table 4-2 runs from 30 to 270 F, to within the rounding of that.
constexpr double kColdest = (29.99 - 32) * 5 / 9, kHottest = (270.01 - 32) * 5 / 9;

bool coefficient_holds(double percent) {
  return percent >= 6 && percent <= 14;
}

}  // namespace

Result<Estimate> equilibrium_moisture(Celsius temperature, double humidity) {
  const double t = temperature.v;
  if (!(t >= kColdest && t <= kHottest && humidity >= 0.05 && humidity <= 0.95))
    return Problem{"out_of_range", "",
                   fmt::format("expected air of -1.1 to 132.2 C and 5 to 95 % relative humidity, found {:.6g} C and "
                               "{:.6g} %",
                               t, 100 * humidity),
                   ""};
  Estimate result;
  result.value = handbook_moisture(t, humidity);
  result.u = kMoistureModelU;
  result.source =
      "Wood Handbook, FPL-GTR-282 (2021), eq (4-5); its eq (4-6) differs by about as much as the uncertainty";
  return result;
}

Result<Mm> moisture_change(Mm size, double coefficient, double from_percent, double to_percent) {
  if (!coefficient_holds(from_percent) || !coefficient_holds(to_percent))
    return Problem{"out_of_range", "",
                   fmt::format("expected moisture contents from 6 to 14 %, where the coefficients hold, found {:.3g} % "
                               "and {:.3g} %",
                               from_percent, to_percent),
                   ""};
  return coefficient * (to_percent - from_percent) * size;
}

}  // namespace stickwright
