// As nonlinear_test.cpp, with more puzzles.
#include <gtest/gtest.h>

#include "fit/nonlinear.h"

namespace stickwright {
namespace {

constexpr double kLargest = 0.05;  // mm

void expect_agreement(const known::FitPuzzle& p, std::uint64_t first, std::uint64_t puzzles) {
  const FitProgram program(p.gaps.rows);
  ASSERT_TRUE(program.can_bind()) << p.name;
  for (std::uint64_t seed = first; seed < first + puzzles; ++seed) {
    const BothWays b = both_ways(p, program, known::drawn_errors(p, seed, kLargest), 2 * kLargest);
    EXPECT_LT(std::abs(b.linear_mm - b.real_mm), 1e-3) << p.name << ", seed " << seed;
    EXPECT_LT(b.still_to_gain_mm, 5e-6) << p.name << ", seed " << seed;
  }
}

TEST(LinearFitSlow, TwoHundredStarsAgreeWithRealOnesToAMicrometer) {
  expect_agreement(planned_star(), 1001, 200);
}

TEST(LinearFitSlow, TwoHundredPuzzlesOfTwoPiecesAgree) {
  expect_agreement(cut_core(2, 3), 1001, 200);
}

TEST(LinearFitSlow, TwoHundredPuzzlesOfThreePiecesAgree) {
  expect_agreement(cut_core(3, 1), 1001, 200);
}

TEST(LinearFitSlow, TwoHundredPuzzlesOfFourPiecesAgree) {
  expect_agreement(cut_core(4, 2), 1001, 200);
}

}  // namespace
}  // namespace stickwright
