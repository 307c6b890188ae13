#include "wood/season.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

namespace stickwright {
namespace {

using AirOfYear = std::array<MonthAir, 12>;
using WoodOfYear = std::array<MonthMoisture, 12>;

constexpr Celsius k70F{(70 - 32) * 5 / 9.0};
constexpr double kDays[12] = {31, 28.2425, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
constexpr double kYear = 365.2425;  // days, the mean of the Gregorian calendar

AirOfYear steady_air(double humidity = 0.4) {
  AirOfYear air;
  air.fill({Celsius{20}, humidity});
  return air;
}

AirOfYear random_air(std::mt19937& random) {
  std::uniform_real_distribution<double> temperature(0, 35), humidity(0.05, 0.95);
  AirOfYear air;
  for (MonthAir& m : air) m = {Celsius{temperature(random)}, humidity(random)};
  return air;
}

WoodOfYear year_of(const AirOfYear& air, double lag_days) {
  const auto year = moisture_over_year(air, lag_days);
  EXPECT_TRUE(year) << year.problem().say;
  return year.value();
}

// Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-2, the row of 70 F.
TEST(Season, WoodThatFollowsAtOnceHasTheHandbooksMoisture) {
  const double humidity[] = {25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80};
  const double moisture[] = {5.4, 6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4, 16.0};
  AirOfYear air;
  for (std::size_t m = 0; m < 12; ++m) air[m] = {k70F, humidity[m] / 100};
  const WoodOfYear year = year_of(air, 0);
  for (std::size_t m = 0; m < 12; ++m) {
    EXPECT_NEAR(year[m].air, moisture[m], 0.06) << humidity[m];
    EXPECT_EQ(year[m].wood, year[m].air);
  }
}

TEST(Season, AirThatNeverChangesGivesItsMoistureWhateverTheLag) {
  for (const double lag : {0.0, 1.0, 30.0, 1e4, 1e12})
    for (const MonthMoisture& m : year_of(steady_air(), lag)) EXPECT_NEAR(m.wood, m.air, 1e-12) << lag;
}

TEST(Season, WoodThatLagsForeverHasTheMeanOfTheYear) {
  std::mt19937 random(7);
  const AirOfYear air = random_air(random);
  const WoodOfYear year = year_of(air, 1e9);
  double mean = 0;
  for (std::size_t m = 0; m < 12; ++m) mean += kDays[m] / kYear * year[m].air;
  for (const MonthMoisture& m : year) EXPECT_NEAR(m.wood, mean, 1e-5);
}

// March differs from the other months by one percent of moisture, and the lag is as long as March. By hand: one year
// leaves exp(-365.2425/31) of what is there, March adds 1 - 1/e, April leaves exp(-30/31) of it.
TEST(Season, ASingleDampMonthByHand) {
  AirOfYear air = steady_air();
  air[2].humidity = 0.5;
  const WoodOfYear year = year_of(air, 31);
  const double base = year[0].air, step = year[2].air - base;
  ASSERT_GT(step, 1);
  const double after_march = step * (1 - std::exp(-1.0)) / (1 - std::exp(-kYear / 31));
  EXPECT_NEAR(year[2].wood, base + after_march, 1e-12);
  EXPECT_NEAR(year[3].wood, base + after_march * std::exp(-30.0 / 31), 1e-12);
  EXPECT_NEAR(year[1].wood, base + after_march * std::exp(-(kYear - 31) / 31), 1e-12);
}

// No closed form: small steps through ten years from wood far too damp.
WoodOfYear stepped(const WoodOfYear& year, double lag_days) {
  WoodOfYear out = year;
  double wood = 30;
  for (int repeat = 0; repeat < 10; ++repeat)
    for (std::size_t m = 0; m < 12; ++m) {
      const int steps = static_cast<int>(kDays[m] * 100);
      for (int k = 0; k < steps; ++k) wood += kDays[m] / steps / lag_days * (year[m].air - wood);
      out[m].wood = wood;
    }
  return out;
}

TEST(Season, SmallStepsFromAnywhereComeToTheSameYear) {
  std::mt19937 random(11);
  for (const double lag : {kBareLagDays, kFinishedLagDays, 40.0, 200.0}) {
    const WoodOfYear year = year_of(random_air(random), lag);
    const WoodOfYear slow = stepped(year, lag);
    for (std::size_t m = 0; m < 12; ++m) EXPECT_NEAR(year[m].wood, slow[m].wood, 0.01) << lag << ", month " << m;
  }
}

TEST(Season, WoodIsNeverDamperOrDrierThanTheAirOfTheYear) {
  std::mt19937 random(13);
  std::uniform_real_distribution<double> lag(0, 400);
  const auto less_air = [](const MonthMoisture& a, const MonthMoisture& b) { return a.air < b.air; };
  for (int k = 0; k < 200; ++k) {
    const WoodOfYear year = year_of(random_air(random), lag(random));
    const double driest = std::min_element(year.begin(), year.end(), less_air)->air;
    const double dampest = std::max_element(year.begin(), year.end(), less_air)->air;
    for (const MonthMoisture& m : year) EXPECT_TRUE(m.wood >= driest - 1e-12 && m.wood <= dampest + 1e-12) << k;
  }
}

TEST(Season, WithinAMonthTheWoodMovesTowardsTheAirAndNotPastIt) {
  std::mt19937 random(17);
  const WoodOfYear year = year_of(random_air(random), 25);
  for (std::size_t m = 0; m < 12; ++m) {
    const double before = year[(m + 11) % 12].wood, gap = year[m].air - before;  // January follows December
    EXPECT_NEAR((year[m].wood - before) / gap, 1 - std::exp(-kDays[m] / 25), 1e-9) << m;
  }
}

TEST(Season, TheWoodIsLinearInTheMoistureThatTheAirWouldGive) {
  AirOfYear may = steady_air(), july = steady_air(), both = steady_air(), more = steady_air();
  may[4].humidity = both[4].humidity = 0.55;
  july[6].humidity = both[6].humidity = 0.65;
  more[4].humidity = 0.8;
  const WoodOfYear none = year_of(steady_air(), 20), m = year_of(may, 20), j = year_of(july, 20), b = year_of(both, 20),
                   x = year_of(more, 20);
  const double times = (x[4].air - none[4].air) / (m[4].air - none[4].air);
  for (std::size_t k = 0; k < 12; ++k) {
    EXPECT_NEAR(b[k].wood - none[k].wood, m[k].wood + j[k].wood - 2 * none[k].wood, 1e-12);
    EXPECT_NEAR(x[k].wood - none[k].wood, times * (m[k].wood - none[k].wood), 1e-12);
  }
}

TEST(Season, ALongerLagNarrowsTheYear) {
  AirOfYear air = steady_air();
  for (std::size_t m = 0; m < 12; ++m)
    air[m].humidity = 0.45 - 0.15 * std::cos(2 * std::numbers::pi * static_cast<double>(m) / 12);
  double wider = std::numeric_limits<double>::infinity();
  for (const double lag : {1.0, 9.0, 30.0, 90.0, 365.0}) {
    const WoodOfYear year = year_of(air, lag);
    const auto [low, high] = std::minmax_element(
        year.begin(), year.end(), [](const MonthMoisture& a, const MonthMoisture& b) { return a.wood < b.wood; });
    EXPECT_LT(high->wood - low->wood, wider) << lag;
    wider = high->wood - low->wood;
  }
}

TEST(Season, BadAirIsToldWithItsMonthAndABadLagIsNotTaken) {
  AirOfYear air = steady_air();
  air[8].humidity = 0.97;
  const auto damp = moisture_over_year(air, 9);
  ASSERT_FALSE(damp);
  EXPECT_EQ(damp.problem().code, "out_of_range");
  EXPECT_EQ(damp.problem().say.rfind("September: ", 0), 0u) << damp.problem().say;
  for (const double lag : {-1.0, std::numeric_limits<double>::infinity(), std::nan("")})
    EXPECT_EQ(moisture_over_year(steady_air(), lag).problem().code, "bad_lag") << lag;
}

// Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 16-3: moisture-excluding effectiveness in
// percent after 1, 7 and 14 days in air of 90 %.
struct Finish {
  const char* name;
  double day_1, day_7, day_14;
};
constexpr Finish kPublished[] = {
    {"water repellent, 3 coats", 78, 27, 11},  {"latex primer, 2 coats", 86, 47, 27},
    {"alkyd primer, 1 coat", 85, 46, 24},      {"alkyd primer, 3 coats", 95, 78, 60},
    {"oil-based stain, 2 coats", 84, 48, 26},  {"urethane varnish, 1 coat", 55, 10, 2},
    {"urethane varnish, 2 coats", 83, 43, 23}, {"urethane varnish, 3 coats", 90, 64, 44},
    {"urethane varnish, 6 coats", 93, 76, 62}, {"polyurethane paint, 2 coats", 94, 79, 62},
};

// Effectiveness is the share by which finished wood has gained less than bare wood that has come to its end.
double lag_from(double effectiveness_percent, double days) {
  return -days / std::log(effectiveness_percent / 100);
}

TEST(FinishLag, OneTimeConstantExplainsTheSeventhAndTheFourteenthDay) {
  for (const Finish& f : kPublished) EXPECT_NEAR(lag_from(f.day_14, 14) / lag_from(f.day_7, 7), 1, 0.2) << f.name;
}

TEST(FinishLag, TheDefaultIsTwoCoatsOfVarnishToAFactorOfTwo) {
  const Finish two = kPublished[6], one = kPublished[5], three = kPublished[7];
  EXPECT_NEAR((lag_from(two.day_7, 7) + lag_from(two.day_14, 14)) / 2, kFinishedLagDays, 0.5);
  EXPECT_GT(lag_from(three.day_14, 14), kFinishedLagDays);
  EXPECT_LT(lag_from(one.day_7, 7), kFinishedLagDays);
  EXPECT_LT(lag_from(three.day_14, 14), 2 * kFinishedLagDays);
}

// On the first day bare wood is still on its way, and how far tells its own lag.
TEST(FinishLag, TheFirstDayTellsTheLagOfBareWood) {
  double sum = 0;
  for (const Finish& f : kPublished) {
    const double finished_gain = 1 - std::exp(-1 / lag_from(f.day_7, 7));
    const double bare_gain = finished_gain / (1 - f.day_1 / 100);
    ASSERT_LT(bare_gain, 1) << f.name;
    const double lag = -1 / std::log(1 - bare_gain);
    EXPECT_TRUE(lag > kBareLagDays / 2 && lag < kBareLagDays * 2) << f.name << ": " << lag;
    sum += lag;
  }
  EXPECT_NEAR(sum / std::size(kPublished), kBareLagDays, 0.25);
}

}  // namespace
}  // namespace stickwright
