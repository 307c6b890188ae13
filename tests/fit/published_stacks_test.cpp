// Published tolerance stacks through the same program that fits puzzles.
#include <gtest/gtest.h>

#include <cmath>

#include "fit/dimensions.h"
#include "support/synthetic_fit.h"

namespace stickwright {
namespace {

using synthetic::between;
using synthetic::known;

// "Tolerance stack-up: a worked example using worst-case and RSS" (an article for machinists, 2026): a housing bore
// 40.00 +- 0.10 deep holds a spacer 25.00 +- 0.05, a ring 2.00 +- 0.03 and a shoulder 10.00 +- 0.05. The gap that is
// left is 3.00 mm; by hand, with the two rules of the article, +- 0.23 at worst and +- 0.126 by root sum of squares.
struct Link {
  double nominal, tolerance;
  int way;
};
constexpr Link kBore[] = {{40, 0.10, 1}, {25, 0.05, -1}, {2, 0.03, -1}, {10, 0.05, -1}};
constexpr double kWorst = 0.23;
const double kRootSumSquare = std::sqrt(0.10 * 0.10 + 0.05 * 0.05 + 0.03 * 0.03 + 0.05 * 0.05);

// All of the gap lies on one side of the loose part; the play, half of it, on both.
synthetic::Between bore(Spread spread, double sigmas) {
  std::vector<FitNumber> numbers;
  double nominal = 0;
  Form gap;
  for (const Link& l : kBore) {
    numbers.push_back({"length", "lengths", true, known(0, l.tolerance / sigmas, spread)});
    gap.add(l.way, Form::of(static_cast<int>(numbers.size())));
    nominal += l.way * l.nominal;
  }
  gap.add(nominal, Form::of(0));
  return between(std::move(numbers), gap, Form{});
}

double gap_of(double play) {
  return 2 * play;
}

TEST(PublishedStacks, WorstCaseIsMetAtTheLimitsAndNowhereElse) {
  const auto b = bore(Spread::rectangular, std::sqrt(3.0));
  VertexWalk walk{FitProgram(b.gaps.rows)};
  double least = 1e9, most = -1e9;
  for (int limits = 0; limits < 16; ++limits) {
    std::vector<double> values{1};
    for (int k = 0; k < 4; ++k) values.push_back((limits >> k & 1 ? 1 : -1) * kBore[k].tolerance);
    std::vector<double> h;
    for (const Form& f : b.gaps.gap) h.push_back(f(values));
    const double gap = gap_of(walk.play(h));
    least = std::min(least, gap), most = std::max(most, gap);
  }
  EXPECT_NEAR(least, 3 - kWorst, 1e-9);
  EXPECT_NEAR(most, 3 + kWorst, 1e-9);
  for (double play : plays_of(PuzzlePlays(b.errors, b.gaps, 1, 1), 20'000, {}))
    EXPECT_LE(std::abs(gap_of(play) - 3), kWorst + 1e-9);
}

double three_sigma(const synthetic::Between& b) {
  double sum = 0, square = 0;
  const auto plays = plays_of(PuzzlePlays(b.errors, b.gaps, 1, 1), 200'000, {});
  for (double play : plays) sum += gap_of(play), square += gap_of(play) * gap_of(play);
  const auto n = static_cast<double>(plays.size());
  return 3 * std::sqrt(square / n - sum / n * sum / n);
}

TEST(PublishedStacks, RootSumSquareIsThreeSigmaOfNormalLengths) {
  EXPECT_NEAR(kRootSumSquare, 0.126, 0.0005);
  EXPECT_NEAR(three_sigma(bore(Spread::normal, 3)), kRootSumSquare, 0.01 * kRootSumSquare);
}

// F. Scholz, "Tolerance stack analysis methods" (Boeing Information & Support Services, 1995): lengths that are spread
// otherwise over their tolerance inflate the root sum of squares, evenly spread ones by 1.732, triangular by 1.225.
TEST(PublishedStacks, InflationFactorsOfScholz) {
  EXPECT_NEAR(three_sigma(bore(Spread::rectangular, std::sqrt(3.0))) / kRootSumSquare, 1.732, 0.02);
  EXPECT_NEAR(three_sigma(bore(Spread::triangular, std::sqrt(6.0))) / kRootSumSquare, 1.225, 0.015);
}

}  // namespace
}  // namespace stickwright
