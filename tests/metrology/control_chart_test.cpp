#include "metrology/control_chart.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "metrology/drift.h"

namespace stickwright {
namespace {

const std::vector<double> kFlow = {49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};

// NIST/SEMATECH e-Handbook 6.3.2.2, example of individuals charts: every printed line. The moving-range limit is
// printed as 6.1349, which takes more digits of D4 than the 3.267 of the table; those stand for 3.2665 to 3.2675.
TEST(ControlChart, NistIndividualsExampleLineByLine) {
  const std::vector<double> ranges = {2.0, 2.3, 1.4, 3.5, 3.4, 1.4, 0.2, 1.2, 1.5};
  const auto got = moving_ranges(kFlow);
  ASSERT_EQ(got.size(), ranges.size());
  for (std::size_t i = 0; i < ranges.size(); ++i) EXPECT_NEAR(got[i], ranges[i], 1e-9) << i;
  const ControlChart chart = control_chart(kFlow).value();
  EXPECT_NEAR(chart.center, 50.81, 5e-3);
  EXPECT_NEAR(chart.mean_moving_range, 1.8778, 5e-5);
  EXPECT_NEAR(chart.upper, 55.8041, 5e-5);
  EXPECT_NEAR(chart.lower, 45.8159, 5e-5);
  EXPECT_NEAR(chart.moving_range_upper, 6.1349, 0.0005 * 1.8778);
}

// The same table of constants has d2(2) = 1.128: 2 / sqrt(pi), the mean distance of two standard normal numbers.
TEST(ControlChart, ConstantOfTheMeanRangeIsTheRoundedExactOne) {
  EXPECT_NEAR(kRangeOfTwo, 2 / std::sqrt(M_PI), 5e-4);
  // D4 = 1 + 3 d3 / d2, d3 = sqrt(2 - 4 / pi).
  EXPECT_NEAR(kRangeOfTwoUpper, 1 + 3 * std::sqrt(2 - 4 / M_PI) / (2 / std::sqrt(M_PI)), 5e-4);
}

// NIST/SEMATECH e-Handbook 6.3.2.4: lambda 0.3, start 50, s 2.0539; the series and both limits as printed (the lower
// one is printed cut off, 47.4115).
TEST(Ewma, NistExampleLineByLine) {
  std::vector<double> readings = {52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5};
  readings.insert(readings.end(), kFlow.begin(), kFlow.end());
  const std::vector<double> printed = {50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33,
                                       50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99};
  const Ewma e = ewma(readings, 50, 2.0539, 0.3);
  ASSERT_EQ(e.z.size(), printed.size());
  for (std::size_t i = 0; i < printed.size(); ++i) {
    EXPECT_NEAR(e.z[i], printed[i], 5.1e-3) << i;
    EXPECT_FALSE(e.is_out(i)) << i;
  }
  EXPECT_NEAR(e.upper, 52.5884, 1e-4);
  EXPECT_NEAR(e.lower, 47.4115, 1e-4);
}

TEST(ControlChart, NeedsTwoReadings) {
  EXPECT_FALSE(control_chart({}));
  const std::vector<double> one = {16.0};
  EXPECT_FALSE(control_chart(one));
  EXPECT_FALSE(fit_drift(std::vector<double>{1, 2}));
}

TEST(ControlChart, EqualReadingsHaveExactlyTheirValueAsMeanAndTheInstrumentsSpread) {
  for (const double x : {16.02, 0.1, 1e6 + 0.3}) {
    const std::vector<double> same(37, x);
    EXPECT_EQ(mean_of(same), x);
    EXPECT_EQ(sd_of(same), 0);
    const ControlChart chart = control_chart(same, 0.003).value();
    EXPECT_EQ(chart.sigma, 0.003);
    EXPECT_GT(chart.upper, x);
    EXPECT_EQ(fit_drift(same)->p, 1);
  }
}

std::vector<double> random_readings(std::mt19937& random) {
  std::normal_distribution<double> spread(16, 0.02);
  std::vector<double> readings(2 + random() % 60);
  for (double& x : readings) x = spread(random);
  return readings;
}

// Adding a constant moves the center only; multiplying scales everything (seed 11).
TEST(ControlChart, MovesAndScalesWithTheReadings) {
  std::mt19937 random(11);
  for (int k = 0; k < 300; ++k) {
    const auto readings = random_readings(random);
    auto moved = readings, scaled = readings;
    for (double& x : moved) x += 3.25;
    for (double& x : scaled) x *= -4;
    const auto a = control_chart(readings).value(), b = control_chart(moved).value(), c = control_chart(scaled).value();
    EXPECT_NEAR(b.center, a.center + 3.25, 1e-12) << k;
    EXPECT_NEAR(b.sigma, a.sigma, 1e-12) << k;
    EXPECT_NEAR(c.center, -4 * a.center, 1e-12) << k;
    EXPECT_NEAR(c.sigma, 4 * a.sigma, 1e-12) << k;
    EXPECT_NEAR(c.moving_range_upper, 4 * a.moving_range_upper, 1e-12) << k;
    EXPECT_NEAR(sd_of(scaled), 4 * sd_of(readings), 1e-12) << k;
  }
}

// Worked by hand: y = 1, 3, 2, 4 at 0..3. Slope 0.8, rest 1.8 over 2 degrees of freedom, sum of squares of places 5.
// With two degrees of freedom t has a closed distribution: p = 1 - t / sqrt(2 + t^2).
TEST(Drift, FourReadingsByHand) {
  const Drift d = fit_drift(std::vector<double>{1, 3, 2, 4}).value();
  EXPECT_NEAR(d.slope, 0.8, 1e-12);
  EXPECT_NEAR(d.u_slope, std::sqrt(1.8 / 2 / 5), 1e-12);
  EXPECT_NEAR(d.at_last, 3.7, 1e-12);
  EXPECT_NEAR(d.t, 0.8 / std::sqrt(0.18), 1e-12);
  EXPECT_NEAR(d.p, 1 - d.t / std::sqrt(2 + d.t * d.t), 1e-12);
}

// Student's t, 10 degrees of freedom: 2.228 leaves 5 % on both sides together; 5 degrees: 2.571. Any printed table.
TEST(Drift, TheTestAgreesWithThePrintedTableOfT) {
  struct Line {
    int freedom;
    double t;
  };
  for (const auto [freedom, t] : {Line{10, 2.228}, Line{5, 2.571}}) {
    // Readings with that very t: a line, and a rest at right angles to it scaled to fit.
    const int n = freedom + 2;
    std::vector<double> rest(n), readings(n);
    double squares = 0;
    for (int i = 0; i < n; ++i) rest[i] = (2.0 * i - n + 1) * (2.0 * i - n + 1) - (n * n - 1) / 3.0;
    for (const double r : rest) squares += r * r;
    const double places = n * (n * n - 1) / 12.0, slope = t * std::sqrt(squares / freedom / places);
    for (int i = 0; i < n; ++i) readings[i] = slope * i + rest[i];
    const Drift d = fit_drift(readings).value();
    EXPECT_NEAR(d.t, t, 1e-9);
    EXPECT_NEAR(d.p, 0.05, 5e-5);
  }
}

TEST(Drift, ALineIsCertain) {
  const Drift d = fit_drift(std::vector<double>{1, 2, 3, 4, 5}).value();
  EXPECT_EQ(d.slope, 1);
  EXPECT_EQ(d.p, 0);
  EXPECT_TRUE(std::isinf(d.t));
}

// A steady saw shows p < 0.05 in about one series of twenty (seed 5): binomial, 2000 series, 4 sigma to either side.
TEST(Drift, FalseAlarmsAreAsRareAsTheySay) {
  std::mt19937 random(5);
  std::normal_distribution<double> spread(16, 0.02);
  int alarms = 0;
  for (int k = 0; k < 2000; ++k) {
    std::vector<double> readings(12);
    for (double& x : readings) x = spread(random);
    alarms += fit_drift(readings)->p < 0.05;
  }
  EXPECT_NEAR(alarms, 100, 4 * std::sqrt(2000 * 0.05 * 0.95));
}

}  // namespace
}  // namespace stickwright
