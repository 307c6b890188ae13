#include "wood/grain.h"

#include <fmt/core.h>

#include <cassert>
#include <cmath>

namespace stickwright {

Estimate movement_across_unknown() {
  return within(0.0025, 0.0015, Spread::rectangular, "assumed: no trustworthy figure for this wood");
}

Estimate movement_across(const Species& species) {
  if (!species.radial || !species.tangential) return movement_across_unknown();
  const double r = species.radial->value, t = species.tangential->value;
  return within((r + t) / 2, std::abs(t - r) / 2, Spread::rectangular,
                fmt::format("{}, radial to tangential, {}", species.name, basis_text(species.tangential->basis)));
}

Estimate movement_along() {
  constexpr double kGreenToOvendry = 30;  // percent of moisture
  constexpr double kLeast = 0.001 / kGreenToOvendry, kMost = 0.002 / kGreenToOvendry;
  return within((kLeast + kMost) / 2, (kMost - kLeast) / 2, Spread::rectangular,
                "0.1 to 0.2 % from green to ovendry, Wood Handbook, FPL-GTR-190 (2010), p. 4-5");
}

double strain_along(Vec direction, int grain_axis, double movement_across, double movement_along) {
  const auto length_2 = static_cast<double>(dot(direction, direction));
  assert(length_2 > 0);
  const auto along = static_cast<double>(direction[grain_axis]);
  const double cos_2 = along * along / length_2;
  return movement_across * (1 - cos_2) + movement_along * cos_2;
}

}  // namespace stickwright
