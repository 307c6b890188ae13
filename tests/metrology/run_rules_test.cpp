#include "metrology/run_rules.h"

#include <gtest/gtest.h>

#include <random>

namespace stickwright {
namespace {

// Center 0, sigma 1: a reading is its own distance in sigma.
const ControlChart kUnit = {.center = 0, .sigma = 1, .mean_moving_range = 1, .lower = -3, .upper = 3};

struct Case {
  const char* name;
  RunRule rule;
  std::vector<double> fires, neighbor;  // the neighbor differs as little as it can and breaks no rule at all
  std::size_t first, last;
};
void PrintTo(const Case& c, std::ostream* out) {
  *out << c.name;
}

class EachRule : public testing::TestWithParam<Case> {};

void expect_one_signal(const std::vector<double>& readings, const Case& c, bool high) {
  const auto signals = run_signals(readings, kUnit);
  ASSERT_EQ(signals.size(), 1u);
  EXPECT_EQ(signals[0], (Signal{c.rule, c.first, c.last, high}));
  EXPECT_FALSE(signal_in_words(signals[0]).empty());
  EXPECT_FALSE(usual_cause(signals[0], ReadingOf::stop).check.empty());
}

std::vector<double> mirrored(std::vector<double> readings) {
  for (double& x : readings) x = -x;
  return readings;
}

TEST_P(EachRule, AsksNothingOfTheSawWhenTheSizeIsTheSticksOwn) {
  const auto signals = run_signals(GetParam().fires, kUnit);
  ASSERT_EQ(signals.size(), 1u);
  const Cause cause = usual_cause(signals[0], ReadingOf::stick);
  EXPECT_NE((cause.meaning + cause.check).find("stick"), std::string::npos);
  for (const char* word : {"stop", "blade", "clamp", "cradle"})
    EXPECT_EQ((cause.meaning + cause.check).find(word), std::string::npos) << word;
}

TEST_P(EachRule, FiresAndItsNearestNeighborDoesNot) {
  const Case& c = GetParam();
  expect_one_signal(c.fires, c, true);
  expect_one_signal(mirrored(c.fires), c, false);
  EXPECT_TRUE(run_signals(c.neighbor, kUnit).empty());
  EXPECT_TRUE(run_signals(mirrored(c.neighbor), kUnit).empty());
}

INSTANTIATE_TEST_SUITE_P(RunRules, EachRule,
                         testing::Values(Case{"beyond three sigma",
                                              RunRule::one_beyond_three_sigma,
                                              {0.1, -0.2, 3.01, 0.1},
                                              {0.1, -0.2, 3.0, 0.1},
                                              2,
                                              2},
                                         Case{"two of three, the middle one inside",
                                              RunRule::two_of_three_beyond_two_sigma,
                                              {-0.1, 2.1, -0.3, 2.2, -0.1},
                                              {-0.1, 2.1, -0.3, 2.0, -0.1},
                                              1,
                                              3},
                                         Case{"two of four are not two of three",
                                              RunRule::two_of_three_beyond_two_sigma,
                                              {2.1, 0.3, 2.2, -0.1},
                                              {2.1, 0.3, -0.2, 2.2},
                                              0,
                                              2},
                                         Case{"two of three on one side",
                                              RunRule::two_of_three_beyond_two_sigma,
                                              {0.1, 2.1, 2.2, -0.1},
                                              {0.1, 2.1, -2.2, -0.1},
                                              1,
                                              2},
                                         Case{"four of five beyond one sigma",
                                              RunRule::four_of_five_beyond_one_sigma,
                                              {-0.1, 1.1, 1.2, -0.5, 1.3, 1.1, -0.2},
                                              {-0.1, 1.1, 1.2, -0.5, 1.3, 1.0, -0.2},
                                              1,
                                              5},
                                         Case{"eight on one side",
                                              RunRule::eight_on_one_side,
                                              {-0.1, 0.3, 0.2, 0.4, 0.1, 0.3, 0.2, 0.5, 0.1, -0.2},
                                              {-0.1, 0.3, 0.2, 0.4, 0.1, 0.3, 0.2, 0.5, -0.1, -0.2},
                                              1,
                                              8},
                                         Case{"eight on one side, none on the line",
                                              RunRule::eight_on_one_side,
                                              {0.3, 0.2, 0.4, 0.1, 0.3, 0.2, 0.5, 0.1},
                                              {0.3, 0.2, 0.4, 0.1, 0.3, 0.2, 0.5, 0.0},
                                              0,
                                              7},
                                         Case{"a run that goes on is one signal",
                                              RunRule::eight_on_one_side,
                                              {0.3, 0.2, 0.4, 0.1, 0.3, 0.2, 0.5, 0.1, 0.3, 0.2, 0.4, -0.1},
                                              {0.3, 0.2, 0.4, 0.1, 0.3, 0.2, 0.5, -0.1, 0.3, 0.2, 0.4, -0.1},
                                              0,
                                              10},
                                         Case{"six rising",
                                              RunRule::six_in_a_row,
                                              {0.5, -0.6, -0.4, -0.2, 0.1, 0.3, 0.5, 0.2},
                                              {0.5, -0.6, -0.4, -0.2, 0.1, 0.3, 0.3, 0.2},
                                              1,
                                              6}));

TEST(RunRules, TwoLonePointsAreTwoSignals) {
  const auto signals = run_signals(std::vector<double>{3.5, -3.5}, kUnit);
  ASSERT_EQ(signals.size(), 2u);
  EXPECT_TRUE(signals[0].high);
  EXPECT_FALSE(signals[1].high);
}

TEST(RunRules, NothingFromNothing) {
  EXPECT_TRUE(run_signals({}, kUnit).empty());
}

// Shifting and stretching readings changes no signal; turning them upside down swaps the sides (seed 23).
TEST(RunRules, SignalsMoveWithTheReadings) {
  std::mt19937 random(23);
  std::normal_distribution<double> spread(0, 1);
  int seen = 0;
  for (int k = 0; k < 300; ++k) {
    std::vector<double> readings(40);
    // Eighths: all sums below are exact, so no reading crosses a line by rounding.
    for (double& x : readings) x = std::round(spread(random) * 1024) / 1024 + 0.3 / 1024;
    auto moved = readings;
    for (double& x : moved) x = 2 * x + 16;
    const ControlChart stretched = {.center = 16, .sigma = 2};
    const auto a = run_signals(readings, kUnit);
    EXPECT_EQ(a, run_signals(moved, stretched)) << k;
    const auto upside_down = run_signals(mirrored(readings), kUnit);
    ASSERT_EQ(a.size(), upside_down.size()) << k;
    std::size_t high = 0, low = 0;
    for (const Signal& s : a) high += s.high;
    for (const Signal& s : upside_down) low += !s.high;
    EXPECT_EQ(high, low) << k;
    seen += static_cast<int>(a.size());
  }
  EXPECT_GT(seen, 100);
}

}  // namespace
}  // namespace stickwright
