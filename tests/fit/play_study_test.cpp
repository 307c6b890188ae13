// What is made of many drawn puzzles, on puzzles whose play is a formula.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fit/allowances.h"
#include "fit/contributions.h"
#include "fit/season_plays.h"
#include "fit/tight_contacts.h"
#include "fit/tolerances.h"
#include "support/synthetic_fit.h"

namespace stickwright {
namespace {

using synthetic::between;
using synthetic::known;

double normal_share_above(double z) {
  return 0.5 * std::erfc(z / std::numbers::sqrt2);
}

// Play = 0.05 + (a + 2 b) / 2: its median and spread are known.
synthetic::Between two_sources(double u) {
  return between({{"a", "first", true, known(0, u)}, {"b", "second", true, known(0, u)}},
                 Form::of(0, 0.05) + Form::of(1), Form::of(0, 0.05) + Form::of(2, 2));
}

TEST(PuzzlePlays, DistributionOfALinearPlayIsNormal) {
  const auto b = two_sources(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 5, 7);
  PlayTally tally({0.04, 0, 1}, 5);
  const PlayCounts counts = plays.run(100'000, [&](std::uint64_t, std::span<const double> x) { tally.add(x); });
  EXPECT_EQ(counts.samples, tally.samples());
  const double sigma = 0.01 * std::sqrt(5.0) / 2, n = static_cast<double>(tally.samples());
  EXPECT_NEAR(tally.mean(), 0.05, 4 * sigma / std::sqrt(n));
  EXPECT_NEAR(tally.deviation(), sigma, 4 * sigma / std::sqrt(2 * n));
  EXPECT_NEAR(tally.closes().share, normal_share_above(-0.01 / sigma), 4 * tally.closes().u);
}

TEST(PuzzlePlays, ABatchSharesWhatIsOneForTheBatch) {
  auto b = two_sources(0.01);
  b.errors.numbers[0].each_puzzle = b.errors.numbers[1].each_puzzle = false;
  const PuzzlePlays plays(b.errors, b.gaps, 4, 1);
  plays.run(1000, [&](std::uint64_t, std::span<const double> x) {
    for (std::size_t i = 0; i < x.size(); ++i) EXPECT_DOUBLE_EQ(x[i], x[i - i % 4]);
  });
}

TEST(PuzzlePlays, TheSamePuzzlesOnEveryRunAndUnderAnyAlteration) {
  const auto b = two_sources(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const auto once = plays_of(plays, 3000, {}), again = plays_of(plays, 3000, {});
  EXPECT_EQ(once, again);
  const std::size_t lanes = plays.draws().lanes();
  const auto wider = plays_of(plays, 3000, [&](std::uint64_t, std::span<double> v) {
    for (double& x : v.subspan(lanes, lanes)) x += 0.01;
  });
  for (std::size_t i = 0; i < once.size(); ++i) EXPECT_NEAR(wider[i], once[i] + 0.005, 1e-9);
}

// Every spread has the mean and the standard deviation that it says.
TEST(PuzzleDraws, SpreadsHaveTheirMomentsAndBounds) {
  PuzzleErrors errors;
  for (Spread s : {Spread::normal, Spread::rectangular, Spread::triangular, Spread::u_shaped})
    errors.numbers.push_back({"x", "x", true, known(0.3, 0.1, s)});
  const PuzzleDraws draws(errors, 1, 5);
  const std::size_t lanes = draws.lanes();
  std::vector<double> values(draws.numbers() * lanes), sum(5), square(5);
  std::vector<double> most(5);
  constexpr int kBunches = 200;
  for (std::uint64_t bunch = 0; bunch < kBunches; ++bunch) {
    draws.draw(bunch, values);
    for (std::size_t k = 1; k < 5; ++k)
      for (std::size_t i = 0; i < lanes; ++i) {
        const double x = values[k * lanes + i] - 0.3;
        sum[k] += x, square[k] += x * x, most[k] = std::max(most[k], std::abs(x));
      }
  }
  const double n = static_cast<double>(kBunches * lanes);
  for (std::size_t k = 1; k < 5; ++k) {
    EXPECT_NEAR(sum[k] / n, 0, 5 * 0.1 / std::sqrt(n)) << k;
    EXPECT_NEAR(std::sqrt(square[k] / n), 0.1, 5 * 0.1 / std::sqrt(n)) << k;
  }
  EXPECT_GT(most[1], 0.35);
  EXPECT_LE(most[2], 0.1 * std::sqrt(3.0) + 1e-12);
  EXPECT_LE(most[3], 0.1 * std::sqrt(6.0) + 1e-12);
  EXPECT_LE(most[4], 0.1 * std::sqrt(2.0) + 1e-12);
}

TEST(PuzzleDraws, DerivedNumbersAreTheSameForOnePuzzleAndForMany) {
  PuzzleErrors errors;
  for (int k = 0; k < 3; ++k) errors.numbers.push_back({"x", "x", true, known(0.1 * k, 0.1)});
  errors.derived.push_back({{{1, 2, 3.0}, {2, 3, -1.0}}, true, {}});
  errors.derived.push_back({{}, true, {Form::of(1), Form::of(4, 2), Form::of(0, 0.1)}});
  errors.derived.push_back({{}, false, {Form::of(5), Form::of(3) - Form::of(2)}});
  const PuzzleDraws draws(errors, 1, 5);
  const std::size_t lanes = draws.lanes();
  std::vector<double> values(draws.numbers() * lanes);
  draws.draw(0, values);
  draws.derive(values);
  for (std::size_t i = 0; i < lanes; ++i) {
    std::vector<double> one(errors.values());
    for (std::size_t k = 0; k < one.size(); ++k) one[k] = values[k * lanes + i];
    std::vector<double> fresh(one.begin(), one.begin() + 4);
    fresh.resize(one.size());
    errors.derive(fresh);
    for (std::size_t k = 0; k < one.size(); ++k) EXPECT_DOUBLE_EQ(fresh[k], one[k]);
  }
}

// Variances of a and 2 b are as 1 to 4, by hand.
TEST(Contributions, OfALinearPlayAreItsSharesOfVariance) {
  const auto b = two_sources(0.01);
  const Contributions c = contributions(b.errors, PuzzlePlays(b.errors, b.gaps, 1, 1), 40'000);
  ASSERT_EQ(c.of.size(), 2u);
  EXPECT_EQ(c.of[0].source, "second");
  EXPECT_NEAR(c.of[0].share, 0.8, 5 * c.u);
  EXPECT_NEAR(c.of[1].share, 0.2, 5 * c.u);
  EXPECT_NEAR(c.of[0].with_others, 0.8, 5 * c.u);
  EXPECT_NEAR(c.together, 0, 5 * c.u);
  EXPECT_LT(c.u, 0.02);
}

// Two sources that act together: play = 0.05 + |a + b| / 2. With two independent sources the variance is what the one
// does alone plus all that the other does, so share of one + with_others of the other = 1, exactly.
TEST(Contributions, WhatSourcesDoTogetherIsTold) {
  auto b = between({{"a", "first", true, known(0, 0.01)}, {"b", "second", true, known(0, 0.01)}},
                   Form::of(0, 0.05) + Form::of(3), Form::of(0, 0.05));
  b.errors.derived.push_back({{}, true, {Form::of(1) + Form::of(2), -1.0 * (Form::of(1) + Form::of(2))}});
  const Contributions c = contributions(b.errors, PuzzlePlays(b.errors, b.gaps, 1, 1), 60'000);
  ASSERT_EQ(c.of.size(), 2u);
  EXPECT_NEAR(c.of[0].share + c.of[1].with_others, 1, 5 * c.u);
  EXPECT_NEAR(c.of[1].share + c.of[0].with_others, 1, 5 * c.u);
  EXPECT_GT(c.together, 0.2);
  EXPECT_NEAR(c.of[0].share + c.of[1].share + c.together, 1, 1e-9);
}

TEST(Contributions, NumbersOfOneSourceStayTogether) {
  // a and -a would cancel if one were drawn without the other: play = 0.05 + (a1 - a2) / 2, both "first".
  const auto b = between({{"a1", "first", true, known(0, 0.01)}, {"a2", "first", true, known(0, 0.01)}},
                         Form::of(0, 0.05) + Form::of(1), Form::of(0, 0.05) - Form::of(2));
  const Contributions c = contributions(b.errors, PuzzlePlays(b.errors, b.gaps, 1, 1), 20'000);
  ASSERT_EQ(c.of.size(), 1u);
  EXPECT_NEAR(c.of[0].share, 1, 1e-9);
}

// Many sources that do nothing add nothing, and what does everything is all: whatever puzzles were drawn.
TEST(Contributions, SourcesThatDoNothingHaveNoShare) {
  std::vector<FitNumber> numbers = {{"a", "all", true, known(0, 0.01)}};
  for (const char* name : {"b", "c", "d", "e"}) numbers.push_back({name, name, true, known(0, 0.01)});
  const auto b = between(numbers, Form::of(0, 0.05) + Form::of(1), Form::of(0, 0.05));
  const Contributions c = contributions(b.errors, PuzzlePlays(b.errors, b.gaps, 1, 1), 500);
  ASSERT_EQ(c.of.size(), 5u);
  EXPECT_NEAR(c.of[0].share, 1, 1e-9);
  EXPECT_NEAR(c.of[0].with_others, 1, 1e-9);
  for (std::size_t k = 1; k < 5; ++k) EXPECT_NEAR(c.of[k].share, 0, 1e-9) << c.of[k].source;
}

// Two stops; the gap on the left grows by 1 with the first and 0.5 with the second, that on the right by 1 with the
// second only.
synthetic::Between two_stops(double u) {
  auto b = between(
      {{"stop 1", "stops", false, known(0, u), SizeOf::stop}, {"stop 2", "stops", false, known(0, u), SizeOf::stop}},
      Form::of(0, 0.01) + Form::of(1, -1) + Form::of(2, -0.5), Form::of(0, 0.01) + Form::of(2, -1));
  b.errors.stops = {{0, 0, 1}, {1, 0, 2}};
  return b;
}

TEST(Dimensions, SlopesOfALinearPlayAreItsCoefficients) {
  const auto b = two_stops(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const auto sizes = dimensions_of(b.errors);
  const auto slopes = median_slopes(plays, sizes, std::vector<double>(sizes.size()), 2000);
  EXPECT_NEAR(slopes[0], -0.5, 1e-6);
  EXPECT_NEAR(slopes[1], -0.75, 1e-6);
}

// Play = 0.01 - (a + 1.5 b) / 2: the second stop does more per millimeter, so the least allowance is on it alone:
// 0.04 = 0.01 - 0.75 b gives b = -0.04.
TEST(Allowances, TheLeastIsOnTheStopThatDoesMost) {
  const auto b = two_stops(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const auto sizes = dimensions_of(b.errors);
  const Allowances a = allowances_for(b.errors, b.gaps, plays, sizes, 0.04, 20'000);
  ASSERT_EQ(a.verdict, AllowanceVerdict::found);
  EXPECT_NEAR(a.median_mm, 0.04, 0.0005);
  EXPECT_NEAR(a.mm[0], 0, 1e-6);
  EXPECT_NEAR(a.mm[1], -0.04, 0.002);
}

// From 0.01 down to -0.03: stop 2 is set longer, 0.75 a millimeter. No other changes of the same sum tighten as much.
TEST(Allowances, ALoosePuzzleIsSetTighterByTheLeastThatDoesIt) {
  const auto b = two_stops(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const auto sizes = dimensions_of(b.errors);
  const Allowances a = allowances_for(b.errors, b.gaps, plays, sizes, -0.03, 20'000);
  ASSERT_EQ(a.verdict, AllowanceVerdict::found);
  EXPECT_NEAR(a.median_mm, -0.03, 0.0005);
  EXPECT_NEAR(a.mm[0], 0, 1e-6);
  EXPECT_NEAR(a.mm[1], 0.04 / 0.75, 0.002);
}

// The stop that would do most must not come nearer to the blade: the other one has to do it.
// 0.04 = 0.01 - a / 2 with the second left alone.
TEST(Allowances, AStopKeepsClearOfTheBlade) {
  const auto b = two_stops(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  auto sizes = dimensions_of(b.errors);
  sizes[1].most_short = 0;
  const Allowances a = allowances_for(b.errors, b.gaps, plays, sizes, 0.04, 20'000);
  ASSERT_EQ(a.verdict, AllowanceVerdict::found);
  EXPECT_NEAR(a.mm[0], -0.06, 0.002);
  EXPECT_NEAR(a.mm[1], 0, 1e-6);
}

TEST(Allowances, OutOfReachIsSaidAndNothingIsAdvised) {
  const auto b = two_stops(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const auto sizes = dimensions_of(b.errors);
  const Allowances a = allowances_for(b.errors, b.gaps, plays, sizes, 5, 2'000);
  EXPECT_EQ(a.verdict, AllowanceVerdict::out_of_reach);
  for (double mm : a.mm) EXPECT_EQ(mm, 0);
}

// Play = 0.02 - (a + 1.5 b) / 2 closes from 0. One set-up has stop 1, the other stop 2, equally many, so that by hand
//   u1 = k / (1/4)^(1/3), u2 = k / (9/16)^(1/3),  (u1 / 2)^2 + (0.75 u2)^2 = sigma^2,  Phi(0.02 / sigma) = 0.95.
TEST(Tolerances, LeastEffortWithinTheChanceByHand) {
  auto b = two_stops(0.01);
  for (Form& f : b.gaps.gap) f.add(0.01, Form::of(0));
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const auto sizes = dimensions_of(b.errors);
  const Tolerances t =
      tolerances_for(b.errors, plays, sizes, std::vector<double>(sizes.size()), {0, 0, 1}, 0.95, 60'000);
  ASSERT_TRUE(t.reachable);
  ASSERT_EQ(t.needed.size(), 2u);
  const double sigma = 0.02 / 1.6448536, c1 = std::cbrt(4.0), c2 = std::cbrt(16.0 / 9);
  const double k = sigma / std::sqrt(c1 * c1 / 4 + c2 * c2 * 9 / 16);
  EXPECT_NEAR(t.needed[0].tolerance_mm, 2 * k * c1, 0.03 * 2 * k * c1);
  EXPECT_NEAR(t.needed[1].tolerance_mm, 2 * k * c2, 0.03 * 2 * k * c2);
  EXPECT_NEAR(t.closes.share, 0.95, 0.01);
}

TEST(Tolerances, UnreachableWhenExactStopsAreNotEnough) {
  auto b = two_stops(0.01);
  b.errors.numbers.push_back({"else", "else", true, known(0, 0.1)});
  for (Form& f : b.gaps.gap) f.add(1, Form::of(3));
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const auto sizes = dimensions_of(b.errors);
  const Tolerances t =
      tolerances_for(b.errors, plays, sizes, std::vector<double>(sizes.size()), {0, 0, 1}, 0.95, 5'000);
  EXPECT_FALSE(t.reachable);
  for (const NeededTolerance& n : t.needed) EXPECT_EQ(n.tolerance_mm, 0);
  // Exact stops: play = 0.01 + a normal of 0.1.
  EXPECT_NEAR(t.closes.share, normal_share_above(-0.1), 0.03);
}

TEST(TightContacts, BothWallsBearHalfEachAndAreEquallyWide) {
  const auto b = two_stops(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const TightContacts t = tight_contacts(b.gaps, std::vector<bool>(6, true), plays, {}, 500);
  ASSERT_EQ(t.contacts.size(), 2u);
  for (const ContactFit& c : t.contacts) {
    EXPECT_NEAR(c.pressed, 0.5, 1e-9);
    EXPECT_NEAR(c.often, 0.5, 1e-9);
    EXPECT_NEAR(c.gap_mm, t.play_mm, 1e-9);
  }
}

// Pushed together as well as it goes, the loose part is in the middle: the widest gap is the play itself. Seen from the
// left only, it is pushed there: nothing gapes.
TEST(OpenJoints, ArePushedToWhereTheyAreNotSeen) {
  const auto b = two_sources(0.01);
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const std::vector<double> some = plays_of(plays, 101, {});
  const OpenJoints both = open_joints(b.gaps, std::vector<bool>(6, true), plays, {}, 101);
  EXPECT_NEAR(both.median_mm, median({some.begin(), some.begin() + 101}), 1e-6);
  const OpenJoints left = open_joints(b.gaps, {true, true, true, false, false, false}, plays, {}, 101);
  EXPECT_NEAR(left.p95_mm, 0, 1e-6);
}

// Where it is pressed, no contact is pressed harder than the best fit presses it: both gaps are the play, below 0.
TEST(OpenJoints, OfATightPuzzleArePressedEverywhere) {
  auto b = two_sources(0.001);
  for (Form& f : b.gaps.gap) f.add(-0.1, Form::of(0));
  const PuzzlePlays plays(b.errors, b.gaps, 1, 1);
  const OpenJoints joints = open_joints(b.gaps, std::vector<bool>(6, true), plays, {}, 50);
  EXPECT_LT(joints.p95_mm, -0.04);
}

TEST(CheckClosedFit, RefusesWrongPlaysForcesAndPositions) {
  const auto b = two_stops(0.01);
  const FitProgram program(b.gaps.rows);
  const std::vector<double> h = {0.01, 0.01, 0.01, 0.03, 0.03, 0.03};
  const ClosedFit right = program.solve(h);
  EXPECT_NEAR(right.play_mm, 0.02, 1e-9);
  EXPECT_TRUE(check_closed_fit(b.gaps.rows, h, right));
  ClosedFit wrong = right;
  wrong.play_mm += 1e-6;
  EXPECT_FALSE(check_closed_fit(b.gaps.rows, h, wrong));
  wrong = right;
  wrong.moved[1].slide.a += 1e-6;
  EXPECT_FALSE(check_closed_fit(b.gaps.rows, h, wrong));
  wrong = right;
  wrong.forces[0].share += 1e-6;
  EXPECT_FALSE(check_closed_fit(b.gaps.rows, h, wrong));
  wrong = right;
  wrong.forces.pop_back();
  EXPECT_FALSE(check_closed_fit(b.gaps.rows, h, wrong));
}

TEST(SeasonPlays, OnlyTheWoodsNumbersChangeAndByThePercents) {
  PuzzleErrors errors;
  errors.numbers = {{"a", "a", true, known(0, 0.01)},
                    {"across", "seasons", true, known(0, 0)},
                    {"along", "seasons", true, known(0, 0)}};
  errors.swelling = {{"walnut", 2, 3, {known(0.002, 0.0003, Spread::rectangular), known(0.00005, 0.00001)}}};
  const PuzzleErrors dry = swollen(errors, -3);
  EXPECT_EQ(dry.numbers[0].off.u, 0.01);
  EXPECT_DOUBLE_EQ(dry.numbers[1].off.value, -0.006);
  EXPECT_DOUBLE_EQ(dry.numbers[1].off.u, 0.0009);
  EXPECT_EQ(dry.numbers[1].off.spread, Spread::rectangular);
  EXPECT_DOUBLE_EQ(dry.numbers[2].off.value, -0.00015);
}

}  // namespace
}  // namespace stickwright
