#include "metrology/sampling.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <numeric>
#include <stdexcept>

#include "metrology/end_gauge.h"

namespace stickwright {
namespace {

double sum(std::span<const double> x) {
  return std::accumulate(x.begin(), x.end(), 0.0);
}

Estimate normal(double value, double u, double freedom = std::numeric_limits<double>::infinity()) {
  return {value, u, Spread::normal, freedom, "given"};
}

// How far a quantile found in n trials may be off: four standard deviations of its count over the density there.
double quantile_error(double p, double n, double density) {
  return 4 * std::sqrt(p * (1 - p) / n) / density;
}

double normal_density(double z, double u) {
  return std::exp(-z * z / 2) / (u * std::sqrt(2 * std::acos(-1.0)));
}

// JCGM 101:2008, 9.2.2: four standard normal inputs: 0, 2.0, [-3.92, 3.92].
TEST(Sample, AdditiveModelOfFourNormalInputs) {
  const std::vector<Estimate> in(4, normal(0, 1));
  const Sampled s = sample(in, sum);
  ASSERT_TRUE(s.settled);
  const double n = static_cast<double>(s.trials);
  const double error = quantile_error(0.025, n, normal_density(1.96, 2));
  EXPECT_NEAR(s.value, 0, 4 * 2 / std::sqrt(n));
  EXPECT_NEAR(s.u, 2, 4 * 2 / std::sqrt(2 * n));
  EXPECT_NEAR(s.symmetric.low, -3.92, error + 0.005);
  EXPECT_NEAR(s.symmetric.high, 3.92, error + 0.005);
  EXPECT_TRUE(compare(make_budget({"y", "", 0, 0.95}, std::vector<BudgetInput>(4, {"x", "", in[0], 1})), s).agrees);
}

// JCGM 101:2008, 9.2.3: four rectangular inputs of standard deviation 1: +-2 sqrt 3 (2 - (3/5)^(1/4)) = +-3.88.
TEST(Sample, AdditiveModelOfFourRectangularInputs) {
  const std::vector<Estimate> in(4, within(0, std::sqrt(3.0), Spread::rectangular, "given"));
  const Sampled s = sample(in, sum);
  ASSERT_TRUE(s.settled);
  const double exact = 2 * std::sqrt(3.0) * (2 - std::pow(0.6, 0.25));
  EXPECT_NEAR(exact, 3.88, 0.005);
  // The density of the sum of four near its end b = 4 sqrt 3 is (b - y)^3 / (6 (2 sqrt 3)^4).
  const double density = std::pow(4 * std::sqrt(3.0) - exact, 3) / (6 * 144);
  const double error = quantile_error(0.025, static_cast<double>(s.trials), density);
  EXPECT_NEAR(s.symmetric.high, exact, error);
  EXPECT_NEAR(s.symmetric.low, -exact, error);
}

// JCGM 101:2008, 9.2.4: one of four rectangular inputs ten times as wide: u = 10.1, interval [-17.0, 17.0], while the
// straight model says +-19.9; figures from memory, the last also 1.96 sqrt 103.
TEST(Sample, ADominantRectangularInputIsNotNormal) {
  std::vector<Estimate> in(4, within(0, std::sqrt(3.0), Spread::rectangular, "given"));
  in[3] = within(0, 10 * std::sqrt(3.0), Spread::rectangular, "given");
  const Sampled s = sample(in, sum);
  ASSERT_TRUE(s.settled);
  // Inside the plateau the density is that of the wide input.
  const double error = quantile_error(0.025, static_cast<double>(s.trials), 1 / (20 * std::sqrt(3.0)));
  EXPECT_NEAR(s.u, 10.1, 0.05 + 4 * 10.1 / std::sqrt(2.0 * static_cast<double>(s.trials)));
  EXPECT_NEAR(s.symmetric.high, 17.0, 2 * error + 0.05);
  std::vector<BudgetInput> lines;
  for (const Estimate& e : in) lines.push_back({"x", "", e, 1});
  const Budget b = make_budget({"y", "", 0, 0.95}, lines);
  EXPECT_NEAR(b.expanded, 19.9, 0.05);
  const Comparison c = compare(b, s);
  EXPECT_FALSE(c.agrees);
  EXPECT_NEAR(c.high, 19.9 - 17.0, 0.1 + 2 * error);
}

// JCGM 101:2008, 9.3, mass calibration, input and results from memory: mean 1.2341 mg, u 0.0754 mg, shortest 95 %
// interval [1.0834, 1.3825] mg in a run of 0.72 million trials; the first-order budget gives u = 0.0539 mg and does
// not agree.
class MassCalibration : public testing::Test {
 protected:
  // m_Rc, delta m_Rc in mg; densities of air, weight and reference in kg / m^3.
  const std::vector<Estimate> in = {
      normal(100'000, 0.050), normal(1.234, 0.020), within(1.20, 0.10, Spread::rectangular, "given"),
      within(8000, 1000, Spread::rectangular, "given"), within(8000, 50, Spread::rectangular, "given")};
  static double model(std::span<const double> x) {
    return (x[0] + x[1]) * (1 + (x[2] - 1.2) * (1 / x[3] - 1 / x[4])) - 100'000;
  }
};

TEST_F(MassCalibration, BySampling) {
  const Sampled s = sample(in, model, {5, 0.95, 2});
  ASSERT_TRUE(s.settled);
  const double n = static_cast<double>(s.trials), u = 0.0754;
  EXPECT_NEAR(s.value, 1.2341, 4 * u * std::sqrt(1 / n + 1 / 0.72e6) + 5e-5);
  EXPECT_NEAR(s.u, u, 4 * u / std::sqrt(2 * n) + 5e-5);
  // Each of the two ends in each of the two runs; the density there is at most a third less than a normal one.
  EXPECT_NEAR(s.shortest.high - s.shortest.low, 1.3825 - 1.0834,
              2 * quantile_error(0.025, 0.72e6, normal_density(1.96, u) * 2 / 3));
}

// Where the shortest interval lies is blurred in one run, what the published one covers is not: 95 %.
TEST_F(MassCalibration, WhatThePublishedIntervalCovers) {
  const Sampled s =
      sample(in, [](auto x) { return model(x) >= 1.0834 && model(x) <= 1.3825 ? 1.0 : 0.0; }, {6, 0.95, 2});
  EXPECT_NEAR(s.value, 0.95, 4 * std::sqrt(0.95 * 0.05 * (1 / static_cast<double>(s.trials) + 1 / 0.72e6)));
}

TEST_F(MassCalibration, TheStraightModelIsNotGoodEnough) {
  const Budget b = make_budget({"mass", "mg", 1.234, 0.95},
                               std::vector<BudgetInput>{{"reference", "mg", in[0], 1}, {"difference", "mg", in[1], 1}});
  EXPECT_NEAR(b.u, 0.0539, 5e-5);
  EXPECT_FALSE(compare(b, sample(in, model, {5, 0.95, 2})).agrees);
}

// JCGM 101:2008, 9.5, the end gauge of H.1: 838 nm, u 36 nm, 99 % interval [745, 932] nm (published run of a million
// trials; [745, 931] for the first-order method from memory). Distributions by its Table 10, from memory: t for
// standard and difference, bounds known inexactly for the two differences. The result is the deviation from 50 mm.
class EndGaugeSampled : public testing::Test {
 protected:
  const std::vector<Estimate> in = {normal(50'000'623, 25, 18),
                                    normal(215, 6, 24),
                                    normal(0, 4, 5),
                                    normal(0, 7, 8),
                                    within(11.5e-6, 2e-6, Spread::rectangular, "given"),
                                    normal(-0.1, 0.2),
                                    within(0, 0.5, Spread::u_shaped, "given"),
                                    inexact(1e-6, 0.1e-6),
                                    inexact(0.050, 0.025)};
  static Estimate inexact(double half_width, double doubt) {
    Estimate e = within(0, half_width, Spread::rectangular, "given");
    e.freedom = freedom_of_inexact(doubt / half_width);
    return e;
  }
  static double model(std::span<const double> x) {
    const double theta = x[5] + x[6];
    return x[0] + x[1] + x[2] + x[3] - x[0] * (x[7] * theta + x[4] * x[8]) - 50'000'000;
  }
};

TEST_F(EndGaugeSampled, BySampling) {
  const Sampled s = sample(in, model, {9, 0.99, 2});
  ASSERT_TRUE(s.settled);
  const double n = static_cast<double>(s.trials);
  const double error = quantile_error(0.005, n, normal_density(2.58, 36));
  EXPECT_NEAR(s.value, 838, 0.5 + 4 * 36 / std::sqrt(n));
  // Spreads with flatter tails: the fourth moment of t with 18 degrees adds less than half.
  EXPECT_NEAR(s.u, 36, 0.5 + 6 * 36 / std::sqrt(2 * n));
  EXPECT_NEAR(s.symmetric.low, 745, 0.5 + error);
  EXPECT_NEAR(s.symmetric.high, 932, 0.5 + error);
}

TEST(Sample, SameSeedSameBytes) {
  const std::vector<Estimate> in = {normal(1, 0.1, 5), within(2, 1, Spread::triangular, "given")};
  const auto model = [](std::span<const double> x) { return x[0] * x[1]; };
  const Sampled a = sample(in, model, {3}), b = sample(in, model, {3}), c = sample(in, model, {4});
  EXPECT_EQ(std::memcmp(&a.value, &b.value, sizeof a.value), 0);
  EXPECT_EQ(a.symmetric.low, b.symmetric.low);
  EXPECT_EQ(a.trials, b.trials);
  EXPECT_NE(a.value, c.value);
}

// A square of a normal value piles up at zero: the shortest interval starts there, the symmetric one does not.
TEST(Sample, ShortestIntervalOfALopsidedResult) {
  const Sampled s = sample(std::vector<Estimate>{normal(0, 1)}, [](auto x) { return x[0] * x[0]; });
  EXPECT_NEAR(s.shortest.low, 0, 1e-6);
  EXPECT_NEAR(s.shortest.high, 1.96 * 1.96, 0.05);
  // z = 0.03134 is the 51.25 % quantile of the normal distribution.
  EXPECT_NEAR(s.symmetric.low, 0.03134 * 0.03134, 3e-4);
  EXPECT_LE(s.shortest.high - s.shortest.low, s.symmetric.high - s.symmetric.low);
}

TEST(Sample, TheTrialsRunOut) {
  const Sampled s = sample(std::vector<Estimate>{normal(0, 9.9)}, sum, {1, 0.99, 2, 50'000});
  EXPECT_FALSE(s.settled);
  EXPECT_EQ(s.trials, 50'000);
  EXPECT_NEAR(s.u, 9.9, 4 * 9.9 / std::sqrt(2 * 50'000));
}

TEST(Sample, NothingUncertain) {
  const Sampled s = sample(std::vector<Estimate>{normal(3, 0)}, sum);
  EXPECT_TRUE(s.settled);
  EXPECT_EQ(s.value, 3);
  EXPECT_EQ(s.u, 0);
  EXPECT_EQ(s.symmetric.low, 3);
}

TEST(Sample, WhatCannotBeIsRefused) {
  const std::vector<Estimate> in = {normal(0, 1)};
  EXPECT_THROW(sample(in, sum, {1, 1.0}), std::logic_error);
  EXPECT_THROW(sample(in, sum, {1, 0.95, 3}), std::logic_error);
  EXPECT_THROW(sample(in, [](auto x) { return std::log(x[0]); }), std::logic_error);
  EXPECT_THROW(compare(make_budget({"y", "", 0, 0.9}, {}), sample(in, sum)), std::logic_error);
}

// JCGM 101:2008, 7.9.2: 0.35 is 35e-2 with two digits, so 0.005, and 4e-1 with one, so 0.05.
TEST(NumericalTolerance, HalfAUnitOfTheLastDigit) {
  EXPECT_NEAR(numerical_tolerance(0.35, 2), 0.005, 1e-15);
  EXPECT_NEAR(numerical_tolerance(0.35, 1), 0.05, 1e-15);
  EXPECT_NEAR(numerical_tolerance(32, 2), 0.5, 1e-12);
  EXPECT_NEAR(numerical_tolerance(9.96, 2), 0.5, 1e-12);
  EXPECT_NEAR(numerical_tolerance(9.94, 2), 0.05, 1e-12);
  EXPECT_EQ(numerical_tolerance(0, 2), 0);
}

}  // namespace
}  // namespace stickwright
