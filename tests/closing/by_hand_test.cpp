// Closed fits solved by hand, and published ones.
#include <gtest/gtest.h>

#include <numbers>

#include "closing/binding_parts.h"
#include "support/gap_examples.h"
#include "support/small_fits.h"

namespace stickwright {
namespace {

using namespace stickwright::test;

std::vector<double> draws(std::mt19937_64& random, std::size_t n, double spread) {
  std::vector<double> h(n);
  for (double& v : h) v = spread * normal_draw(random);
  return h;
}

double least_of(std::initializer_list<double> values) {
  return std::min(values);
}

// Two pins at a pitch, two holes, diametral clearances c1 and c2, an error d of the pitch. Body 1 moves by x along the
// line; gaps c1/2 + x, c1/2 - x, c2/2 + d + x, c2/2 - d - x. Any two of opposite signs of x bound the least gap by
// their mean, and the best x attains the least of these bounds:
//   min(c1/2, c2/2, (c1 + c2)/4 - |d|/2)
// With c1 = c2 = H - F and |d| <= T1 + T2 it is the fixed fastener formula H = F + T1 + T2 of ASME Y14.5, appendix B.
double two_pins_play(double c1, double c2, double d) {
  return least_of({c1 / 2, c2 / 2, (c1 + c2) / 4 - std::abs(d) / 2});
}

std::vector<double> two_pins_gaps(double c1, double c2, double d) {
  return {c1 / 2, c1 / 2, c2 / 2 + d, c2 / 2 - d};
}

TEST(ByHand, TwoPinsFitByTheFixedFastenerFormula) {
  const FitProgram program(two_pins(40));
  VertexWalk walk(program);
  std::mt19937_64 random(1);
  for (int k = 0; k < 2000; ++k) {
    const auto e = draws(random, 3, 0.1);
    const double c1 = std::abs(e[0]), c2 = std::abs(e[1]);
    const auto h = two_pins_gaps(c1, c2, e[2]);
    EXPECT_NEAR(walk.play(h), two_pins_play(c1, c2, e[2]), 1e-12);
    if (k < 200) {
      EXPECT_NEAR(program.solve(h).play_mm, two_pins_play(c1, c2, e[2]), 1e-12);
    }
  }
}

TEST(ByHand, TwoPinsHaveFourSetsOfForcesOfOneHalfEach) {
  const FitProgram program(two_pins(40));
  ASSERT_EQ(program.parts().parts.size(), 1U);
  const auto& all = program.parts().parts[0].all_vertices;
  ASSERT_TRUE(all.has_value());
  EXPECT_EQ(all->size(), 4U);
  for (const ForceVertex& v : *all) {
    ASSERT_EQ(v.shares.size(), 2U);
    EXPECT_NEAR(v.shares[0], 0.5, 1e-12);
  }
}

TEST(ByHand, TwoPinsWithoutClearanceNeverFitUnlessThePitchIsRight) {
  VertexWalk walk{FitProgram(two_pins(40))};
  for (const double d : {-0.07, -1e-3, 0.0, 0.02})
    EXPECT_NEAR(walk.play(two_pins_gaps(0, 0, d)), -std::abs(d) / 2, 1e-12);
}

// P = Phi(c / s) - Phi(-c / s) with c = 0.1 mm, s = 0.05 mm: 0.9545.
TEST(ByHand, TwoPinsAssembleAsOftenAsTheNormalDistributionSays) {
  VertexWalk walk{FitProgram(two_pins(40))};
  std::mt19937_64 random(3);
  const int n = 40000;
  int fits = 0;
  for (int k = 0; k < n; ++k) fits += walk.play(two_pins_gaps(0.1, 0.1, 0.05 * normal_draw(random))) >= 0;
  EXPECT_NEAR(static_cast<double>(fits) / n, 0.9545, 4 * std::sqrt(0.9545 * 0.0455 / n));
}

// Two blocks, one a jaw around the other: gaps h at the four corners below, k above, u the change of the gap below. u
// is affine, so u1 + u3 = u2 + u4 and no other relation holds. Forces balance when (forces below) - (forces above) is a
// multiple of (1, -1, 1, -1): opposite corners of a pair, or a diagonal below against the other diagonal above.
double two_blocks_play(const std::vector<double>& g) {
  double least = least_of({(g[0] + g[2] + g[5] + g[7]) / 4, (g[1] + g[3] + g[4] + g[6]) / 4});
  for (int i = 0; i < 4; ++i) least = std::min(least, (g[i] + g[4 + i]) / 2);
  return least;
}

TEST(ByHand, TwoBlocksBindAtACornerOrAcrossTheDiagonals) {
  const FitProgram program(square_ring(2));
  VertexWalk walk(program);
  std::mt19937_64 random(4);
  for (int k = 0; k < 2000; ++k) {
    const auto h = draws(random, 8, 0.2);
    EXPECT_NEAR(walk.play(h), two_blocks_play(h), 1e-12);
    if (k < 200) {
      EXPECT_NEAR(program.solve(h).play_mm, two_blocks_play(h), 1e-12);
    }
  }
  ASSERT_TRUE(program.parts().parts.at(0).all_vertices.has_value());
  EXPECT_EQ(program.parts().parts[0].all_vertices->size(), 6U);
}

// Three in a ring, each on the next by four corners. The forces on each of the three faces add up to 1/3 and have the
// same moments, so two of them differ by a multiple of (1, -1, 1, -1): the same corner on all faces, a third each; or a
// diagonal on each face, a sixth at each corner, not the same one on all (that would be a mixture of two corners). 4 +
// 6 of them.
double three_blocks_play(const std::vector<double>& g) {
  double least = 1e9;
  for (int i = 0; i < 4; ++i) least = std::min(least, (g[i] + g[4 + i] + g[8 + i]) / 3);
  for (int which = 1; which < 7; ++which) {
    double sum = 0;
    for (int face = 0; face < 3; ++face) {
      const int d = which >> face & 1;
      sum += g[4 * face + d] + g[4 * face + d + 2];
    }
    least = std::min(least, sum / 6);
  }
  return least;
}

TEST(ByHand, ThreeBlocksInARingBindInTenWays) {
  const FitProgram program(square_ring(3));
  VertexWalk walk(program);
  std::mt19937_64 random(5);
  for (int k = 0; k < 2000; ++k) {
    const auto h = draws(random, 12, 0.2);
    EXPECT_NEAR(walk.play(h), three_blocks_play(h), 1e-12);
    if (k < 200) {
      EXPECT_NEAR(program.solve(h).play_mm, three_blocks_play(h), 1e-12);
    }
  }
  ASSERT_TRUE(program.parts().parts.at(0).all_vertices.has_value());
  EXPECT_EQ(program.parts().parts[0].all_vertices->size(), 10U);
}

// K pairs of holes on a circle, the centers of each off by N(0, s^2) along each axis. Pushed together without aligning,
// the greatest distance of two centers is at most r with probability (1 - exp(-r^2 / (4 s^2)))^K: F. Scholz, "Hole
// alignment tolerance stacking issues" (1999); the formula is re-derived from the Rayleigh distribution of one
// distance. Aligned as well as can be, more of them pass, even when the circle of radius r is replaced by a polygon
// inside it.
TEST(ByHand, HolePatternsPassMoreOftenWhenAlignedBest) {
  constexpr int kHoles = 6, kSides = 16, kPatterns = 20000;
  constexpr double kSpread = 0.03, kReach = 0.10;
  GapRows g{2, {{}, {}}, {}};
  std::vector<Point> normals;
  for (int j = 0; j < kSides; ++j) {
    const double w = 2 * std::numbers::pi * j / kSides;
    normals.push_back({std::cos(w), std::sin(w), 0});
  }
  for (int i = 0; i < kHoles; ++i) {
    const double w = 2 * std::numbers::pi * i / kHoles;
    for (const Point n : normals) g.rows.push_back({0, 1, n, {30 * std::cos(w), 30 * std::sin(w), 0}});
  }
  VertexWalk walk{FitProgram(g)};
  std::mt19937_64 random(6);
  int plain = 0, aligned = 0;
  for (int k = 0; k < kPatterns; ++k) {
    std::vector<double> h;
    bool near = true;
    for (int i = 0; i < kHoles; ++i) {
      const auto e = draws(random, 4, kSpread);
      const Point off{e[0] - e[2], e[1] - e[3], 0};
      near = near && length(off) <= kReach;
      for (const Point n : normals) h.push_back(kReach * std::cos(std::numbers::pi / kSides) - dot(n, off));
    }
    plain += near;
    aligned += walk.play(h) >= 0;
  }
  const double p = std::pow(1 - std::exp(-kReach * kReach / (4 * kSpread * kSpread)), kHoles);
  EXPECT_NEAR(p, 0.6803, 5e-5);
  EXPECT_NEAR(static_cast<double>(plain) / kPatterns, p, 4 * std::sqrt(p * (1 - p) / kPatterns));
  EXPECT_GT(aligned, plain + kPatterns / 20);
}

}  // namespace
}  // namespace stickwright
