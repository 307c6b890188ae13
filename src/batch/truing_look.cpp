#include "batch/truing_look.h"

#include <algorithm>
#include <cmath>

#include "batch/truing_file.h"
#include "batch/truing_means.h"

namespace stickwright {
namespace {

constexpr double kIndicatorU = 0.01;  // mm; common practice, no source
constexpr Mm kArm{60}, kBar{100};     // where the shop file says nothing; a bar as most shops have one
constexpr double kMostLeafMm = 0.5, kFinestReadingMm = 0.005;

// Two places on the flanks as far apart as the stick is wide in its V, in full millimeters.
Mm flank_places(Mm stick) {
  return Mm{std::floor(std::sqrt(2.0) * stick.v)};
}

TruingLook unread(const Shop& shop, Mm stick, Look look) {
  const Mm arm = shop.square ? shop.square->arm : kArm;
  const auto means = turn_means(shop);
  const auto lever = [&](Error e) { return means[static_cast<std::size_t>(e)].lever; };
  const Mm eye = usual_u(look, shop.caliper);
  switch (look) {
    case Look::blade:
      return {look, Error::tilt, arm, eye, lever(Error::tilt)};
    case Look::flanks:
      return {look, Error::roll, flank_places(stick), Mm{kIndicatorU}, lever(Error::roll)};
    case Look::bar:
      return {look, Error::pitch, kBar, Mm{kIndicatorU}, lever(Error::pitch)};
    default:
      return {Look::point, Error::miter, arm, eye, lever(Error::miter)};
  }
}

Mm step_of(const std::vector<ShimRow>& rows) {
  return rows.size() > 1 ? rows[1].first - rows[0].last : Mm{kFinestReadingMm};
}

}  // namespace

TruingLook truing_look(const Shop& shop, Mm stick, Look look) {
  TruingLook t = unread(shop, stick, look);
  constexpr double kSmall = 1e-3;  // mm of reading, to see what one is worth
  const Observation o{t.look, 0, Mm{kSmall}, t.over, t.u};
  const Alignment a = align({&o, 1}, truing_knowledge(shop, stick));
  t.u_rad = a[t.tells].u_rad;
  t.rad_per_mm = a[t.tells].rad / kSmall;
  return t;
}

std::vector<LeafRow> leaves_for(const TruingLook& look, const Shop& shop, std::size_t most_rows) {
  const std::vector<Leaf> leaves = leaves_of(shop);
  if (!look.lever || leaves.empty()) return {};
  const double factor = look.rad_per_mm * look.lever->v, most = kMostLeafMm / factor;
  for (double step = kFinestReadingMm; step < most; step *= 2) {
    const auto table = leaf_table({to_nm(Mm{step}), to_nm(Mm{most}), times(factor)}, leaves);
    if (!table) break;
    if (table.value().size() <= most_rows) return table.value();
  }
  return {};
}

double u_of_truing_block(const Shop& shop, Mm stick) {
  const SawState saw = nominal_saw(stick);
  const BlockShape<double> block = block_shape(saw);
  std::vector<Observation> readings;
  for (const Look look : {Look::corner_length, Look::width})
    for (int which = 0; which < (look == Look::width ? 2 : 4); ++which) {
      Observation o{look, which, {}, {}, Mm{one_reading(shop.caliper).u}};
      o.measured = Mm{expected_reading(o, saw, block)};
      readings.push_back(o);
    }
  return align(readings, truing_knowledge(shop, stick))[Error::miter].u_rad;
}

std::vector<ShimRow> trued_shim_table(const BatchPlan& plan, const SetUp& set_up, std::size_t stop) {
  const std::vector<ShimRow>& now = set_up.tests[stop].shim_table;
  if (now.empty()) return {};
  const TruingLook look = truing_look(plan.batch.shop, plan.batch.stick, Look::point);
  Estimate miter;
  miter.u = look.u_rad;
  miter.source = "trued with the square over a point";
  Taught taught;
  taught.errors[static_cast<std::size_t>(Error::miter)] = miter;
  const KnownSaw saw = known_saw(plan.batch, plan.saw.woods, taught);
  // The advice goes by the lines of the budget; no saws need be drawn for it.
  const Prediction p = predict_test(saw, plan.batch, plan.gauge_blocks, set_up, stop);
  return shim_table(p, leaves_of(plan.batch.shop), now.front().first, now.back().last, step_of(now));
}

}  // namespace stickwright
