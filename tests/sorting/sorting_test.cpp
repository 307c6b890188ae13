#include "sorting/sorting.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "solver/linear_program.h"
#include "sorting/plays.h"

namespace stickwright {
namespace {

// Two kinds, one deviation each, in places 0 and 1.
SortProblem pairs(const std::vector<double>& x, const std::vector<double>& y, int puzzles, PlayOracle play) {
  SortProblem problem;
  for (double v : x) problem.items.push_back({0, {v}});
  for (double v : y) problem.items.push_back({1, {v}});
  problem.designs = {{"pair", {{0, "pin"}, {1, "hole"}}, puzzles, std::move(play)}};
  return problem;
}

std::vector<double> deviations(Dice& dice, int count, double mean) {
  std::vector<double> v;
  for (int i = 0; i < count; ++i) v.push_back(mean + dice.deviation(0.03));
  return v;
}

double worst_of_rows(const PlayOracle& play, const std::vector<double>& x, const std::vector<double>& y) {
  double worst = 1e9;
  for (std::size_t i = 0; i < x.size(); ++i)
    worst = std::min(worst, value_at(play({{x[i]}, {y[i]}}), {{x[i]}, {y[i]}}));
  return worst;
}

// Where the play falls off to both sides of x = y, smallest to smallest is best (the inverse Monge property of a convex
// function of the difference; from memory).
TEST(SortItems, ThreeHundredPairsByTheDifferenceAreSortedToSorted) {
  for (std::uint64_t seed : {1, 2, 3}) {
    Dice dice(seed);
    std::vector<double> x = deviations(dice, 300, 0), y = deviations(dice, 300, 0.01);
    const PlayOracle play =
        least_of({{0.05, {{-1}, {1}}}, {0.05, {{0.4}, {-0.4}}}, {0.07, {{-2}, {2}}}, {0.06, {{1}, {-1}}}});
    const SortProblem problem = pairs(x, y, 300, play);
    const auto sorted = sort_items(problem);
    ASSERT_TRUE(sorted);
    EXPECT_TRUE(check_sorting(problem, sorted.value()));
    EXPECT_EQ(sorted.value().verdict, Verdict::found);
    std::sort(x.begin(), x.end());
    std::sort(y.begin(), y.end());
    EXPECT_NEAR(sorted.value().worst, worst_of_rows(play, x, y), kSortTolerance);
  }
}

TEST(SortItems, TwoHundredPairsByTheSumAreSmallestToLargest) {
  Dice dice(4);
  std::vector<double> x = deviations(dice, 200, 0), y = deviations(dice, 200, 0);
  const PlayOracle play = least_of({{0.02, {{1}, {1}}}, {0.02, {{-1}, {-1}}}});
  const SortProblem problem = pairs(x, y, 200, play);
  const auto sorted = sort_items(problem);
  ASSERT_TRUE(sorted);
  EXPECT_TRUE(check_sorting(problem, sorted.value()));
  EXPECT_EQ(sorted.value().verdict, Verdict::found);
  std::sort(x.begin(), x.end());
  std::sort(y.rbegin(), y.rend());
  EXPECT_NEAR(sorted.value().worst, worst_of_rows(play, x, y), kSortTolerance);
}

// A play that is a parabola has another cut at every point.
TEST(SortItems, APlayWithEndlessCutsIsSortedToSorted) {
  Dice dice(5);
  std::vector<double> x = deviations(dice, 60, 0), y = deviations(dice, 60, 0);
  const PlayOracle play = [](const std::vector<std::vector<double>>& off) {
    const double d = off[0][0] - off[1][0];
    return PlayCut{0.05 + 10 * d * d, {{-20 * d}, {20 * d}}};
  };
  const SortProblem problem = pairs(x, y, 60, play);
  const auto sorted = sort_items(problem);
  ASSERT_TRUE(sorted);
  EXPECT_TRUE(check_sorting(problem, sorted.value()));
  EXPECT_EQ(sorted.value().verdict, Verdict::found);
  std::sort(x.begin(), x.end());
  std::sort(y.begin(), y.end());
  EXPECT_NEAR(sorted.value().worst, worst_of_rows(play, x, y), kSortTolerance);
}

// A fit by its dual program: the least y . (g0 + A e) with y >= 0 that add up to one. The oracle may use the solver.
TEST(SortItems, AnOracleThatSolvesLinearProgramsGivesTheSameAsTheListOfItsCuts) {
  Dice dice(6);
  SortProblem problem;
  SortDesign design{"by program", {{0, "a"}, {0, "b"}, {1, "c"}}, 3, {}};
  for (int i = 0; i < 9; ++i) problem.items.push_back({i < 6 ? 0 : 1, {dice.deviation(0.03)}});
  const std::vector<PlayCut> cuts = random_cuts(dice, design.places, {1, 1}, 7);
  design.play = [&cuts](const std::vector<std::vector<double>>& off) {
    EqualityProgram program;
    program.right = {1};
    for (const PlayCut& c : cuts) {
      program.entry(0, 1);
      program.end_column(value_at(c, off), kNoUpper);
    }
    const ProgramAnswer answer = solve(program);
    PlayCut sum{0, {{0}, {0}, {0}}};
    for (std::size_t j = 0; j < cuts.size(); ++j) {
      sum.constant += answer.x[j] * cuts[j].constant;
      for (std::size_t p = 0; p < 3; ++p) sum.slope[p][0] += answer.x[j] * cuts[j].slope[p][0];
    }
    return sum;
  };
  problem.designs = {design};
  const auto by_program = sort_items(problem);
  problem.designs[0].play = least_of(cuts);
  const auto by_list = sort_items(problem);
  ASSERT_TRUE(by_program);
  ASSERT_TRUE(by_list);
  EXPECT_EQ(by_program.value().verdict, Verdict::found);
  EXPECT_NEAR(by_program.value().worst, by_list.value().worst, 2 * kSortTolerance);
}

// R. E. Burkard, U. Derigs, Assignment and Matching Problems: Solution Methods with FORTRAN-Programs (1980), sample of
// the bottleneck matching program: eight vertices, optimal value 42 by the pairs 1-5, 2-6, 3-8, 4-7. Vertex i is an
// item whose i-th deviation is 1; a pair's cost is told by a cut that only this pair brings down.
TEST(SortItems, BurkardDerigsBottleneckMatchingIs42) {
  const std::vector<std::vector<double>> cost = {{0, 33, 55, 46, 29, 68, 38, 37}, {33, 0, 57, 95, 46, 30, 38, 28},
                                                 {55, 57, 0, 43, 71, 60, 51, 42}, {46, 95, 43, 0, 20, 37, 14, 57},
                                                 {29, 46, 71, 20, 0, 48, 46, 93}, {68, 30, 60, 37, 48, 0, 68, 77},
                                                 {38, 38, 51, 14, 46, 68, 0, 61}, {37, 28, 42, 57, 93, 77, 61, 0}};
  constexpr double kAbove = 100;  // any cost
  SortProblem problem;
  std::vector<PlayCut> cuts;
  for (std::size_t i = 0; i < 8; ++i) {
    problem.items.push_back({0, std::vector<double>(8, 0)});
    problem.items.back().off[i] = 1;
    for (std::size_t j = 0; j < 8; ++j) {
      if (i == j) continue;
      PlayCut c{-cost[i][j] + 2 * kAbove, {std::vector<double>(8, 0), std::vector<double>(8, 0)}};
      c.slope[0][i] = c.slope[1][j] = -kAbove;
      cuts.push_back(c);
    }
  }
  problem.designs = {{"matching", {{0, "one"}, {0, "other"}}, 4, least_of(cuts)}};
  const auto sorted = sort_items(problem);
  ASSERT_TRUE(sorted);
  EXPECT_TRUE(check_sorting(problem, sorted.value()));
  EXPECT_EQ(sorted.value().verdict, Verdict::found);
  EXPECT_NEAR(sorted.value().worst, -42, 1e-9);
}

// Ten puzzles of twelve and six blocks, 0.03 mm at a step of 1 um, sixty cuts: too large to be proven.
SortProblem ten_puzzles(std::uint64_t seed, int spares) {
  Dice dice(seed);
  SortProblem problem;
  SortDesign design{"star", {}, 10, {}};
  for (int p = 0; p < 18; ++p) design.places.push_back({p < 12 ? 0 : 1, "place"});
  for (int i = 0; i < 120 + spares; ++i) problem.items.push_back({0, {dice.deviation(0.03)}});
  for (int i = 0; i < 60 + spares; ++i) problem.items.push_back({1, {dice.deviation(0.03)}});
  std::vector<PlayCut> cuts = random_cuts(dice, design.places, {1, 1}, 60);
  for (PlayCut& c : cuts) {
    double sum = 0;
    for (auto& s : c.slope) sum += std::abs(s[0] = dice.share() < 0.35 ? s[0] : 0);
    for (auto& s : c.slope) s[0] /= std::max(sum, 1e-9);
    c.constant = 0;
  }
  design.play = least_of(cuts);
  problem.designs = {design};
  return problem;
}

double worst_at_random(const SortProblem& problem, Dice& dice) {
  std::vector<std::vector<int>> bins(2);
  for (std::size_t i = 0; i < problem.items.size(); ++i)
    bins[static_cast<std::size_t>(problem.items[i].kind)].push_back(static_cast<int>(i));
  double worst = 1e9;
  for (int k = 0; k < problem.designs[0].puzzles; ++k) {
    std::vector<std::vector<double>> off;
    for (const SortPlace& p : problem.designs[0].places) {
      std::vector<int>& bin = bins[static_cast<std::size_t>(p.kind)];
      std::swap(bin[static_cast<std::size_t>(dice.below(static_cast<int>(bin.size())))], bin.back());
      off.push_back(problem.items[static_cast<std::size_t>(bin.back())].off);
      bin.pop_back();
    }
    worst = std::min(worst, value_at(problem.designs[0].play(off), off));
  }
  return worst;
}

TEST(SortItems, TenPuzzlesComeThreeTimesAsNearTheBoundAsTheBestOfAThousandAtRandom) {
  for (int spares : {0, 20}) {
    const SortProblem problem = ten_puzzles(8, spares);
    SortLimits limits;
    limits.moves = 1'000'000;
    limits.nodes = 1'000'000;
    const auto sorted = sort_items(problem, limits);
    ASSERT_TRUE(sorted);
    const Sorted& s = sorted.value();
    EXPECT_TRUE(check_sorting(problem, s));
    EXPECT_EQ(s.verdict, Verdict::stopped);
    Dice dice(9);
    double best = -1e9;
    for (int i = 0; i < 1000; ++i) best = std::max(best, worst_at_random(problem, dice));
    EXPECT_LE(best, s.bound);
    EXPECT_LT(3 * (s.bound - s.worst), s.bound - best);
    const std::string with = "with_" + std::to_string(spares) + "_spares_";
    RecordProperty(with + "worst_um", std::to_string(1e3 * s.worst));
    RecordProperty(with + "bound_um", std::to_string(1e3 * s.bound));
    RecordProperty(with + "random_um", std::to_string(1e3 * best));
  }
}

TEST(SortItems, TheSameQuestionGetsTheSameAnswer) {
  const SortProblem problem = ten_puzzles(10, 5);
  SortLimits limits;
  limits.moves = 60'000;
  limits.nodes = 100'000;
  const auto a = sort_items(problem, limits), b = sort_items(problem, limits);
  ASSERT_TRUE(a);
  ASSERT_TRUE(b);
  EXPECT_EQ(a.value().item_in, b.value().item_in);
  EXPECT_EQ(a.value().worst, b.value().worst);
  EXPECT_EQ(a.value().bound, b.value().bound);
  EXPECT_EQ(a.value().oracle_calls, b.value().oracle_calls);
}

TEST(SortItems, EqualItemsAreAllUsedOnce) {
  const SortProblem problem = pairs({0.01, 0.01, 0.01}, {0.02, 0.02, 0.02}, 3, least_of({{0, {{1}, {-1}}}}));
  const auto sorted = sort_items(problem);
  ASSERT_TRUE(sorted);
  EXPECT_TRUE(check_sorting(problem, sorted.value()));
  EXPECT_NEAR(sorted.value().worst, -0.01, 1e-12);
}

TEST(SortItems, ASpareThatFitsBetterIsTaken) {
  const SortProblem problem = pairs({0.5, 0.02}, {0.02}, 1, least_of({{0, {{1}, {-1}}}, {0, {{-1}, {1}}}}));
  const auto sorted = sort_items(problem);
  ASSERT_TRUE(sorted);
  EXPECT_EQ(sorted.value().item_in, (std::vector<std::vector<int>>{{1, 2}}));
  EXPECT_EQ(sorted.value().verdict, Verdict::found);
}

class BadSorting : public testing::Test {
 protected:
  SortProblem problem = pairs({0.01, 0.02}, {0.03, 0.04}, 2, least_of({{0, {{1}, {-1}}}}));
  std::string code() const { return sort_items(problem).problem().code; }
};

TEST_F(BadSorting, TooFewSaysOfWhichKindAndHowMany) {
  problem.designs[0].puzzles = 5;
  problem.items.pop_back();
  const auto sorted = sort_items(problem);
  ASSERT_FALSE(sorted);
  EXPECT_EQ(sorted.problem().code, "too_few");
  EXPECT_NE(sorted.problem().say.find("3 more of kind 0, 4 more of kind 1"), std::string::npos);
}

TEST_F(BadSorting, ADeviationThatIsNoNumberIsABadItem) {
  problem.items[1].off[0] = std::nan("");
  EXPECT_EQ(code(), "bad_item");
}

TEST_F(BadSorting, ItemsOfAKindWithDifferentCountsOfDeviationsAreBad) {
  problem.items[1].off.push_back(0);
  EXPECT_EQ(code(), "bad_item");
}

TEST_F(BadSorting, NoDesignNoPlaceNoPuzzleAndNoOracleAreBad) {
  const SortDesign good = problem.designs[0];
  problem.designs[0].puzzles = 0;
  EXPECT_EQ(code(), "bad_design");
  problem.designs[0] = {"empty", {}, 1, good.play};
  EXPECT_EQ(code(), "bad_design");
  problem.designs[0] = {"mute", good.places, 1, {}};
  EXPECT_EQ(code(), "bad_design");
  problem.designs.clear();
  EXPECT_EQ(code(), "bad_design");
}

TEST_F(BadSorting, ACutOfTheWrongShapeIsABadPlay) {
  problem.designs[0].play = least_of({{0, {{1}, {-1}}}});
  problem.designs[0].play = [](const auto&) { return PlayCut{0, {{1}}}; };
  EXPECT_EQ(code(), "bad_play");
  problem.designs[0].play = [](const auto&) { return PlayCut{0, {{1, 2}, {1}}}; };
  EXPECT_EQ(code(), "bad_play");
}

TEST_F(BadSorting, APlayThatIsNoNumberIsABadPlay) {
  problem.designs[0].play = [](const auto&) { return PlayCut{std::nan(""), {{1}, {1}}}; };
  EXPECT_EQ(code(), "bad_play");
}

TEST_F(BadSorting, APlayThatIsConvexIsABadPlay) {
  problem.designs[0].play = [](const std::vector<std::vector<double>>& off) {
    const double d = off[0][0] - off[1][0];
    return PlayCut{-100 * d * d, {{200 * d}, {-200 * d}}};
  };
  problem.items[0].off[0] = 1;
  EXPECT_EQ(code(), "bad_play");
}

class CheckSorting : public testing::Test {
 protected:
  SortProblem problem = pairs({0.01, 0.02, 0.05}, {0.03, 0.04}, 2, least_of({{0, {{1}, {-1}}}, {0, {{-1}, {1}}}}));
  Sorted sorted = sort_items(problem).take();
};

TEST_F(CheckSorting, AcceptsTheAnswer) {
  EXPECT_TRUE(check_sorting(problem, sorted));
}

TEST_F(CheckSorting, RefusesAnItemTwice) {
  sorted.item_in[0][0] = sorted.item_in[1][0];
  EXPECT_FALSE(check_sorting(problem, sorted));
}

TEST_F(CheckSorting, RefusesAnItemOfAnotherKindOrNone) {
  Sorted other = sorted;
  std::swap(other.item_in[0][0], other.item_in[0][1]);
  EXPECT_FALSE(check_sorting(problem, other));
  other = sorted;
  other.item_in[0][0] = 5;
  EXPECT_FALSE(check_sorting(problem, other));
}

TEST_F(CheckSorting, RefusesAPuzzleTooFewOrAPlaceTooMany) {
  Sorted other = sorted;
  other.item_in.pop_back();
  EXPECT_FALSE(check_sorting(problem, other));
  other = sorted;
  other.item_in[0].push_back(0);
  EXPECT_FALSE(check_sorting(problem, other));
}

TEST_F(CheckSorting, RefusesAWrongPlayWorstOrVerdict) {
  Sorted other = sorted;
  other.play[0] += 1e-6;
  EXPECT_FALSE(check_sorting(problem, other));
  other = sorted;
  other.worst -= 1e-6;
  EXPECT_FALSE(check_sorting(problem, other));
  other = sorted;
  other.bound += 1e-3;
  EXPECT_FALSE(check_sorting(problem, other));
  other = sorted;
  other.verdict = Verdict::stopped;
  EXPECT_FALSE(check_sorting(problem, other));
}

}  // namespace
}  // namespace stickwright
