#include "batch/truing_means.h"

#include <cmath>

namespace stickwright {
namespace {

double u_square(const Shop& shop) {
  constexpr double kArm = 75;
  const double half_width = shop.square ? shop.square->error.rad() : (0.005 + kArm / 50 * 1e-3) / kArm;
  return half_width / std::sqrt(3.0);
}

}  // namespace

TruingKnowledge truing_knowledge(const Shop& shop, Mm stick) {
  const StickOf<Estimate> known = known_stick(shop, stick);
  return {stick, known.side_1_mm.u, known.corner_error_rad.u, u_square(shop)};
}

std::array<TurnMeans, 4> turn_means(const Shop& shop) {
  std::array<TurnMeans, 4> means;
  means[1] = {shop.sled.tilt_lever, shop.sled.tilt_leaf_at};
  if (shop.cradles.empty()) return means;
  const Cradle& c = shop.cradles.front();
  means[0] = {c.pivot_to_leaf, c.leaf_at};
  means[2] = {c.flank_spread, c.flank_leaf_at};
  means[3] = {c.length, "under the end of the cradle away from the blade"};
  return means;
}

}  // namespace stickwright
