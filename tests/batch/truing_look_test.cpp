#include "batch/truing_look.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "support/example_plan.h"
#include "support/other_shop.h"

namespace stickwright {
namespace {

constexpr double kArcsecond = std::numbers::pi / 180 / 3600;

const Shop& shop() {
  return example().batch.batch.shop;
}

// By hand: eye and square are rectangular, u = a / sqrt 3 (JCGM 100:2008, 4.3.7), and add up by squares (5.1.2). Two
// miters make the light over the point, so both are halved there.
TEST(TruingLook, KnowsAnAngleAsWellAsEyeAndSquareTellIt) {
  const double eye = 0.005 / std::sqrt(3.0) / 75, square = 20 * kArcsecond / std::sqrt(3.0);
  const TruingLook blade = truing_look(shop(), Mm{16}, Look::blade), point = truing_look(shop(), Mm{16}, Look::point);
  EXPECT_NEAR(blade.u_rad, std::hypot(eye, square), 1e-9);
  EXPECT_NEAR(point.u_rad, std::hypot(eye, square) / 2, 1e-9);
  EXPECT_NEAR(point.rad_per_mm, 1 / (2 * 75.0), 1e-8);
  // The same light is left alone in both: it tells half the angle, which is known twice as well.
  EXPECT_NEAR(point.leave_below().v, 75 * std::hypot(eye, square), 1e-6);
  EXPECT_NEAR(blade.leave_below().v, point.leave_below().v, 1e-6);
}

TEST(TruingLook, WithoutASquareInTheShopFileAnArmOfSixtyMillimetersIsTaken) {
  const OtherShop bare = bare_shop();
  const auto plan = plan_set_ups(bare.batch_file);
  ASSERT_TRUE(plan) << plan.problem().say;
  EXPECT_EQ(truing_look(plan.value().batch.shop, Mm{16}, Look::point).over, Mm{60});
  EXPECT_FALSE(truing_look(plan.value().batch.shop, Mm{16}, Look::point).lever);
}

// The nearest total of at most three leaves, by trying all.
double nearest(double wanted, const std::vector<Nm>& leaves) {
  double best = wanted;
  const auto try_one = [&](double total) { best = std::min(best, std::abs(wanted - total)); };
  for (std::size_t i = 0; i < leaves.size(); ++i) {
    try_one(to_mm(leaves[i]).v);
    for (std::size_t j = 0; j < i; ++j) {
      try_one(to_mm(leaves[i]).v + to_mm(leaves[j]).v);
      for (std::size_t k = 0; k < j; ++k) try_one(to_mm(leaves[i]).v + to_mm(leaves[j]).v + to_mm(leaves[k]).v);
    }
  }
  return best;
}

// A leaf at lever arm D turns by h / D; light g over the point of arm L is an error g / (2 L), against the blade g / L.
TEST(TruingLook, EveryReadingCallsForTheLeavesThatComeNearest) {
  const auto check = [](Look look, double leaf_per_mm) {
    const auto rows = leaves_for(truing_look(shop(), Mm{16}, look), shop(), 12);
    ASSERT_GE(rows.size(), 5u);
    EXPECT_LE(rows.size(), 12u);
    for (const LeafRow& row : rows)
      for (const Nm reading : {row.first, row.last}) {
        const double wanted = to_mm(reading).v * leaf_per_mm;
        EXPECT_NEAR(std::abs(wanted - to_mm(row.total).v), nearest(wanted, shop().feeler_leaves), 2e-6) << wanted;
      }
  };
  check(Look::point, 160 / (2 * 75.0));
  check(Look::blade, 420 / 75.0);
  check(Look::flanks, 48 / 22.0);
}

TEST(TruingLook, ManyLeavesGiveCoarserStepsNotMoreRows) {
  const OtherShop fine(
      Changes{{"leaves = \\[[^\\]]*\\]",
               "leaves = [\"0.03 mm\", \"0.04 mm\", \"0.05 mm\", \"0.06 mm\", \"0.07 mm\", \"0.08 mm\", "
               "\"0.09 mm\", \"0.10 mm\", \"0.20 mm\", \"0.30 mm\"]"}});
  const auto plan = plan_set_ups(fine.batch_file);
  ASSERT_TRUE(plan) << plan.problem().say;
  const Shop& many = plan.value().batch.shop;
  const auto rows = leaves_for(truing_look(many, Mm{16}, Look::point), many, 12);
  EXPECT_GE(rows.size(), 6u);
  EXPECT_LE(rows.size(), 12u);
}

// The stick's sides enter near less away, so the block tells less than the square; a sharper caliper tells more.
TEST(TruingLook, TheTruingBlockTellsTheMiterAsTheCaliperAllows) {
  Shop sharp = shop();
  sharp.caliper.repeat = Mm{0.0004};
  sharp.caliper.resolution = Mm{0.0001};
  const double u = u_of_truing_block(shop(), Mm{16});
  EXPECT_GT(u, truing_look(shop(), Mm{16}, Look::point).u_rad);
  EXPECT_LT(u_of_truing_block(sharp, Mm{16}), u);
}

// A shop whose file says the miter to be known as well as the look tells it has that table to begin with.
TEST(TruedShimTable, IsTheTableOfAShopThatKnowsItsMiterSoWell) {
  const double u_deg = truing_look(shop(), Mm{16}, Look::point).u_rad * 180 / std::numbers::pi;
  const OtherShop trued(Changes{{"\nmiter = \"0.01 deg\"", "\nmiter = \"" + std::to_string(u_deg) + " deg\""}});
  const auto plan = plan_set_ups(trued.batch_file);
  ASSERT_TRUE(plan) << plan.problem().say;
  int shims = 0;
  for (std::size_t i = 0; i < plan.value().set_ups.size(); ++i)
    for (std::size_t k = 0; k < plan.value().set_ups[i].tests.size(); ++k) {
      const auto& wanted = plan.value().set_ups[i].tests[k].shim_table;
      const auto rows = trued_shim_table(example().batch, example().batch.set_ups[i], k);
      ASSERT_EQ(rows.size(), wanted.size());
      for (std::size_t r = 0; r < rows.size(); ++r) {
        EXPECT_NEAR(rows[r].first.v, wanted[r].first.v, 1e-9);
        EXPECT_NEAR(rows[r].last.v, wanted[r].last.v, 1e-9);
        EXPECT_EQ(rows[r].advice, wanted[r].advice);
        EXPECT_EQ(rows[r].shim.leaves, wanted[r].shim.leaves);
        shims += rows[r].advice == StopAdvice::shim ? 1 : 0;
      }
    }
  EXPECT_GT(shims, 10);
}

}  // namespace
}  // namespace stickwright
