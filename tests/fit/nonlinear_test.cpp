// The fit to first order against real blocks, sawn by the full model, glued by real planes and moved as rigid bodies.
// docs/derivations/fit-linear.md
#include "fit/nonlinear.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

constexpr double kLargest = 0.05;  // mm: the face that is off most
constexpr double kReach = 2;       // of that: how far a piece may be moved
constexpr double kAgree = 1e-3;    // mm
constexpr double kSolved = 5e-6;   // mm: the real play is that well found

void expect_agreement(const known::FitPuzzle& p, int puzzles, std::uint64_t seed) {
  const FitProgram program(p.gaps.rows);
  ASSERT_TRUE(program.can_bind()) << p.name;
  for (int k = 0; k < puzzles; ++k) {
    const std::vector<double> values = known::drawn_errors(p, seed + static_cast<std::uint64_t>(k), kLargest);
    const BothWays b = both_ways(p, program, values, kReach * kLargest);
    EXPECT_LT(std::abs(b.linear_mm - b.real_mm), kAgree) << p.name << ", seed " << seed + static_cast<std::uint64_t>(k);
    EXPECT_NEAR(b.confirmed_mm, b.real_mm, kSolved);
    EXPECT_LT(b.still_to_gain_mm, kSolved);
    EXPECT_LT(b.face_mm, kAgree);
  }
}

// Mean |linear - real| at errors of this size, mm.
double mean_difference(const known::FitPuzzle& p, const FitProgram& program, double largest_mm, int puzzles) {
  double sum = 0;
  for (int k = 0; k < puzzles; ++k) {
    const std::vector<double> values = known::drawn_errors(p, 900 + static_cast<std::uint64_t>(k), largest_mm);
    const BothWays b = both_ways(p, program, values, kReach * largest_mm);
    sum += std::abs(b.linear_mm - b.real_mm);
  }
  return sum / puzzles;
}

// The exponent of the power law that fits best, on logarithms.
double growth(const known::FitPuzzle& p, int puzzles) {
  const FitProgram program(p.gaps.rows);
  double n = 0, x = 0, y = 0, xx = 0, xy = 0;
  for (double largest : {0.025, 0.05, 0.1, 0.2}) {
    const double u = std::log(largest), v = std::log(mean_difference(p, program, largest, puzzles));
    n += 1, x += u, y += v, xx += u * u, xy += u * v;
  }
  return (n * xy - x * y) / (n * xx - x * x);
}

TEST(RealClosing, NothingOffLeavesNoPlay) {
  for (const known::FitPuzzle& p : {cut_core(2, 3), planned_star()}) {
    const auto blocks = real::real_puzzle(p.puzzle, p.shop, p.errors, known::no_errors(p));
    EXPECT_NEAR(real::close_up(p.puzzle, p.contacts, blocks, 1e-3).play_mm, 0, 1e-6) << p.name;
  }
}

TEST(LinearFit, TwoPiecesAgreeWithRealOnesToAMicrometer) {
  expect_agreement(cut_core(2, 3), 200, 1);
}

TEST(LinearFit, ThreePiecesAgreeWithRealOnesToAMicrometer) {
  expect_agreement(cut_core(3, 1), 30, 1);
}

TEST(LinearFit, StarAgreesWithTheRealOneToAMicrometer) {
  expect_agreement(planned_star(), 12, 1);
}

TEST(LinearFit, DifferenceGrowsWithTheSquareOfTheErrors) {
  const double exponent = growth(cut_core(2, 3), 40);
  EXPECT_GT(exponent, 1.8);
  EXPECT_LT(exponent, 2.2);
}

// can_bind says no: then every gap of the real puzzle can be opened at once, by more than is off anywhere.
TEST(LinearFit, EightPieceStarDoesNotBindAndRealOnesOpenEverywhere) {
  const known::FitPuzzle p = known::planned_fit_puzzle(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml", 1);
  EXPECT_FALSE(FitProgram(p.gaps.rows).can_bind());
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    const auto blocks = real::real_puzzle(p.puzzle, p.shop, p.errors, known::drawn_errors(p, seed, kLargest));
    const real::Closing open = real::close_up(p.puzzle, p.contacts, blocks, 1);
    EXPECT_GT(real::smallest_separation(p.puzzle, p.contacts, blocks, open.pieces), kLargest);
  }
}

}  // namespace
}  // namespace stickwright
