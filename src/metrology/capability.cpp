#include "metrology/capability.h"

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

// Share of a normal spread above `sigmas` standard deviations.
double share_above(double sigmas) {
  return 0.5 * std::erfc(sigmas / std::sqrt(2.0));
}

}  // namespace

Capability capability(const Run& run, ToleranceLimits t) {
  const double n = static_cast<double>(run.readings), room = std::min(t.upper - run.mean, run.mean - t.lower);
  Capability c;
  c.cp = (t.upper - t.lower) / (6 * run.sigma_short);
  c.cpk = room / (3 * run.sigma_short);
  c.pp = (t.upper - t.lower) / (6 * run.sigma_all);
  c.ppk = room / (3 * run.sigma_all);
  c.u_cpk = std::sqrt(1 / (9 * n) + c.cpk * c.cpk / (2 * (n - 1)));
  c.share_outside =
      share_above((t.upper - run.mean) / run.sigma_all) + share_above((run.mean - t.lower) / run.sigma_all);
  c.enough = run.readings >= kEnoughForCapability;
  return c;
}

}  // namespace stickwright
