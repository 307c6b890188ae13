#include "metrology/capability.h"

#include <gtest/gtest.h>

#include <cmath>

namespace stickwright {
namespace {

// D. C. Montgomery, "Introduction to Statistical Quality Control", piston rings: 25 groups of 5, grand mean 74.00118
// mm, mean range 0.02276 mm, tolerance 73.95 to 74.05 mm, Cp 1.70, Cpk 1.66 as printed. d2(5) = 2.326 from the table.
TEST(Capability, PistonRings) {
  const double sigma = 0.02276 / 2.326;
  const Capability c = capability({125, 74.00118, sigma, sigma}, {73.95, 74.05});
  EXPECT_NEAR(c.cp, 1.70, 5e-3);
  EXPECT_NEAR(c.cpk, 1.66, 5e-3);
  EXPECT_TRUE(c.enough);
}

// Any table of the normal distribution: beyond 3 sigma, both sides together, 0.0027; beyond 1.96 sigma 0.05.
TEST(Capability, ShareOutsideFollowsTheNormalTable) {
  EXPECT_NEAR(capability({50, 10, 1, 1}, {7, 13}).share_outside, 0.0027, 5e-6);
  EXPECT_NEAR(capability({50, 10, 1, 1}, {8.04, 11.96}).share_outside, 0.05, 5e-5);
  // Off center: above 1 sigma 0.15866, below -5 sigma next to nothing.
  EXPECT_NEAR(capability({50, 10, 1, 1}, {5, 11}).share_outside, 0.158656, 1e-6);
  // Wholly outside.
  EXPECT_NEAR(capability({50, 100, 1, 1}, {5, 11}).share_outside, 1, 1e-12);
}

TEST(Capability, ShortAndLongSpreadAreKeptApart) {
  const Capability c = capability({30, 10, 1, 2}, {4, 16});
  EXPECT_DOUBLE_EQ(c.cp, 2);
  EXPECT_DOUBLE_EQ(c.pp, 1);
  EXPECT_DOUBLE_EQ(capability({30, 11, 1, 2}, {4, 16}).cpk, 5.0 / 3);
  EXPECT_LT(capability({30, 17, 1, 2}, {4, 16}).cpk, 0);
}

// By hand: n 20, Cpk 1: sqrt(1/180 + 1/38).
TEST(Capability, UncertaintyOfCpkByHandAndEnoughFromTwentyOn) {
  const Capability c = capability({20, 10, 1, 1}, {7, 13});
  EXPECT_NEAR(c.u_cpk, std::sqrt(1.0 / 180 + 1.0 / 38), 1e-12);
  EXPECT_TRUE(c.enough);
  EXPECT_FALSE(capability({19, 10, 1, 1}, {7, 13}).enough);
}

}  // namespace
}  // namespace stickwright
