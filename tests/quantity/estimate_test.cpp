#include "quantity/estimate.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

// JCGM 100:2008: half-width a of a rectangle gives a / sqrt 3 (4.3.7), of a triangle a / sqrt 6 (4.3.9); a cyclic
// quantity of amplitude 0.5 degrees gives 0.35 (H.1.3.4).
TEST(Within, TurnsAHalfWidthIntoAStandardUncertainty) {
  EXPECT_NEAR(within(0, 2e-6, Spread::rectangular, "").u, 1.2e-6, 0.05e-6);
  EXPECT_NEAR(within(0, 1, Spread::triangular, "").u, 0.408248, 1e-6);
  EXPECT_NEAR(within(0, 0.5, Spread::u_shaped, "").u, 0.35, 0.005);
}

TEST(HalfWidth, TurnsItBack) {
  for (Spread s : {Spread::normal, Spread::rectangular, Spread::triangular, Spread::u_shaped})
    EXPECT_DOUBLE_EQ(half_width(within(3, 0.7, s, "x")), 0.7) << to_string(s);
}

}  // namespace
}  // namespace stickwright
