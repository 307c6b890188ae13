#include "jig/compliance.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

double square(double x) {
  return x * x;
}

// The confined modulus as a multiple of Young's, and how fast its logarithm grows with Poisson's ratio.
double confinement(double nu) {
  return (1 - nu) / ((1 + nu) * (1 - 2 * nu));
}
double confinement_slope(double nu) {
  return -1 / (1 - nu) - 1 / (1 + nu) + 2 / (1 - 2 * nu);
}

struct Forces {
  double down = 0, sideways = 0;
  // On the flank that rises towards +a, and on the other.
  double far_flank() const { return (down + sideways) / std::sqrt(2.0); }
  double near_flank() const { return (down - sideways) / std::sqrt(2.0); }
};

Forces forces_of(const ClampedCradle& c) {
  return {c.clamp_force.v * std::sqrt(1 - square(c.sideways)), c.clamp_force.v * c.sideways};
}

// How the depth runs along a flank that bears one newton, and likewise the sink under one newton downwards.
struct Profile {
  double bearing = 0;  // mm
  double middle = 0;   // mm per N, at the middle of the cradle
  double slope = 0;    // per N, towards the blade
  double peak = 0;     // MPa per N on one flank
};

Profile whole_length(double k, double w, double l, double e) {
  return {l, 1 / (k * w * l), 12 * e / (k * w * l * l * l), (1 + 6 * std::abs(e) / l) / (w * l)};
}

// The far end lifts: the pressure is a triangle over what is left, its center of gravity under the clamp.
Profile part_of_the_length(double k, double w, double l, double e) {
  const double bearing = 3 * (l / 2 - std::abs(e));
  const double slope = 2 / (k * w * bearing * bearing);
  return {bearing, slope * (bearing - l / 2), std::copysign(slope, e), 2 / (w * bearing)};
}

Effect effect(double value, double force, const Estimate& stiffness) {
  Effect result;
  result.value = within(value, 0, Spread::normal, stiffness.source);
  result.value.u = std::abs(value) * stiffness.u / stiffness.value;
  result.per_newton = value / force;
  return result;
}

// Wood dents across the grain at some 4 MPa in cherry to 10 MPa in sugar maple (from memory: Wood Handbook, Table 5-3,
// compression perpendicular to the grain).
constexpr double kDent = 4;

std::vector<std::string> cautions_for(const CradleYield& yield, const ClampedCradle& c) {
  std::vector<std::string> cautions;
  if (yield.bearing < c.length)
    cautions.push_back(fmt::format(
        "The clamp stands {:.1f} mm off the middle of the cradle, more than a sixth of its length: the stick bears on "
        "{:.0f} mm of {:.0f} mm, and its other end lifts. Move the clamp to the middle.",
        std::abs(c.off_center.v), yield.bearing.v, c.length.v));
  if (yield.peak_pressure > kDent)
    cautions.push_back(
        fmt::format("The flank presses on the stick with up to {:.1f} MPa: from {:.0f} MPa on, softer hardwoods dent "
                    "(from memory). "
                    "Clamp less, or let more of the flank bear.",
                    yield.peak_pressure, kDent));
  return cautions;
}

Result<Forces> bearing_forces(const ClampedCradle& c) {
  if (2 * std::abs(c.off_center.v) >= c.length.v)
    return Problem{"clamp_off_the_cradle", "",
                   fmt::format("expected the clamp within half the cradle's length, {} mm, of its middle; found {} mm",
                               c.length.v / 2, c.off_center.v),
                   ""};
  const Forces f = forces_of(c);
  if (std::min(f.far_flank(), f.near_flank()) <= 0)
    return Problem{"stick_lifts", "",
                   fmt::format("the clamp pushes sideways with {:.0f} N and down with {:.0f} N: the stick climbs one "
                               "flank; let it push down more than sideways",
                               std::abs(f.sideways), f.down),
                   ""};
  return f;
}

}  // namespace

LayerStiffness stiffness_of(const Layer& layer) {
  const Estimate &e = layer.material.modulus, &nu = layer.material.poisson;
  LayerStiffness result;
  result.free = e.value / layer.thickness.v;
  result.confined = result.free * confinement(nu.value);
  const double value = std::sqrt(result.free * result.confined);
  const double half_log = std::log(result.confined / result.free) / 2;
  const double from_nu = confinement_slope(nu.value) / 2 * nu.u;
  result.value.value = value;
  result.value.u = value * std::sqrt(square(half_log) / 3 + square(e.u / e.value) + square(from_nu));
  result.value.source = fmt::format("{} of {} mm, modulus {}", layer.material.name, layer.thickness.v, e.source);
  return result;
}

Estimate stiffness_of(const std::vector<Layer>& layers) {
  double yielding = 0, variance = 0;  // of 1/k
  Estimate result;
  for (const Layer& layer : layers) {
    const Estimate k = stiffness_of(layer).value;
    yielding += 1 / k.value;
    variance += square(k.u / square(k.value));
    result.source += (result.source.empty() ? "" : "; ") + k.source;
  }
  result.value = 1 / yielding;
  result.u = std::sqrt(variance) * square(result.value);
  return result;
}

Result<CradleYield> yield_of(const ClampedCradle& c) {
  const auto forces = bearing_forces(c);
  if (!forces) return forces.problem();
  const Forces& f = forces.value();
  const Estimate k = stiffness_of(c.layers);
  const double w = c.flank.v, l = c.length.v, e = c.off_center.v;
  const Profile profile = 6 * std::abs(e) <= l ? whole_length(k.value, w, l, e) : part_of_the_length(k.value, w, l, e);
  const auto all = [&](double value) { return effect(value, c.clamp_force.v, k); };
  CradleYield yield;
  yield.sink = all(f.down * profile.middle);
  yield.shift = all(f.sideways * profile.middle);
  // The end under the clamp sinks, and is pushed aside: then the blade meets the axis at that much more than 45
  // degrees.
  yield.pitch = all(-f.down * profile.slope);
  yield.miter = all(-f.sideways * profile.slope);
  yield.bearing = Mm{profile.bearing};
  yield.peak_pressure = profile.peak * std::max(f.far_flank(), f.near_flank());
  yield.cautions = cautions_for(yield, c);
  return yield;
}

}  // namespace stickwright
