#include "metrology/least_squares.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

#include "metrology/most_telling.h"

namespace stickwright {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

std::vector<Unknown> unknowns(std::size_t n, double scale = 1) {
  std::vector<Unknown> all;
  for (std::size_t j = 0; j < n; ++j) all.push_back({std::string("x").append(std::to_string(j)), "mm", scale});
  return all;
}

LinearRow row(std::vector<double> coefficients, double observed, double u = 1) {
  return {"reading", std::move(coefficients), observed, u};
}

// By hand: a weighted mean of 10 (u 1) and 13 (u 2) is 10.6 with u = sqrt(4/5); chi-square 9 / 5.
TEST(Solve, WeightedMean) {
  const LinearFit f = solve({unknowns(1), {row({1}, 10, 1), row({1}, 13, 2)}, {}});
  EXPECT_NEAR(f.value[0], 10.6, 1e-13);
  EXPECT_NEAR(f.u[0], std::sqrt(0.8), 1e-14);
  EXPECT_NEAR(f.chi_square, 1.8, 1e-13);
  EXPECT_EQ(f.freedom, 1u);
  EXPECT_NEAR(*f.birge, std::sqrt(1.8), 1e-13);
  // With two readings both residuals stand as many of their deviations off.
  EXPECT_NEAR(f.standardized[0], -std::sqrt(1.8), 1e-13);
  EXPECT_NEAR(f.standardized[1], std::sqrt(1.8), 1e-13);
  EXPECT_NEAR(f.residual[1], 2.4, 1e-13);
}

// By hand: the line through (0, 1), (1, 3), (2, 4), (3, 4) is 1.5 + x, residuals -0.5, 0.5, 0.5, -0.5; with u = 1 the
// covariance is [[0.7, -0.3], [-0.3, 0.2]].
TEST(Solve, LineThroughFourPoints) {
  const LinearFit f = solve({unknowns(2), {row({1, 0}, 1), row({1, 1}, 3), row({1, 2}, 4), row({1, 3}, 4)}, {}});
  EXPECT_NEAR(f.value[0], 1.5, 1e-13);
  EXPECT_NEAR(f.value[1], 1, 1e-13);
  EXPECT_NEAR(f.covariance[0][0], 0.7, 1e-13);
  EXPECT_NEAR(f.covariance[0][1], -0.3, 1e-13);
  EXPECT_NEAR(f.covariance[1][1], 0.2, 1e-13);
  EXPECT_NEAR(f.chi_square, 1, 1e-13);
  // At x = 1.5 the slope does not matter: u = 1 / sqrt 4.
  EXPECT_NEAR(u_of(f, {1, 1.5}), 0.5, 1e-13);
}

// NIST StRD, linear regression, Longley: data and certified values from memory. All digits that double precision
// leaves at a condition of some ten thousand, once the columns are scaled.
TEST(Solve, Longley) {
  const double y[] = {60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761,
                      66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551};
  const double x[16][6] = {{83.0, 234289, 2356, 1590, 107608, 1947},  {88.5, 259426, 2325, 1456, 108632, 1948},
                           {88.2, 258054, 3682, 1616, 109773, 1949},  {89.5, 284599, 3351, 1650, 110929, 1950},
                           {96.2, 328975, 2099, 3099, 112075, 1951},  {98.1, 346999, 1932, 3594, 113270, 1952},
                           {99.0, 365385, 1870, 3547, 115094, 1953},  {100.0, 363112, 3578, 3350, 116219, 1954},
                           {101.2, 397469, 2904, 3048, 117388, 1955}, {104.6, 419180, 2822, 2857, 118734, 1956},
                           {108.4, 442769, 2936, 2798, 120445, 1957}, {110.8, 444546, 4681, 2637, 121950, 1958},
                           {112.6, 482704, 3813, 2552, 123366, 1959}, {114.2, 502601, 3931, 2514, 125368, 1960},
                           {115.7, 518173, 4806, 2572, 127852, 1961}, {116.9, 554894, 4007, 2827, 130081, 1962}};
  const double certified[] = {-3482258.63459582, 15.0618722713733,       -0.358191792925910e-01, -2.02022980381683,
                              -1.03322686717359, -0.511041056535807e-01, 1829.15146461355};
  const double deviation[] = {890420.383607373,  84.9149257747669,  0.334910077722432e-01, 0.488399681651699,
                              0.214274163161675, 0.226073200069370, 455.478499142212};
  const double size[] = {1, 100, 4e5, 3e3, 3e3, 1e5, 2e3};
  LinearSystem s{unknowns(7), {}, {}};
  for (std::size_t j = 0; j < 7; ++j) s.unknowns[j].scale = 1 / size[j];
  for (int i = 0; i < 16; ++i) s.rows.push_back(row({1, x[i][0], x[i][1], x[i][2], x[i][3], x[i][4], x[i][5]}, y[i]));
  const LinearFit f = solve(s);
  EXPECT_NEAR(*f.birge, 304.854073561965, 1e-8);
  for (std::size_t j = 0; j < 7; ++j) {
    EXPECT_NEAR(f.value[j] / certified[j], 1, 1e-9) << j;
    EXPECT_NEAR(f.u[j] * *f.birge / deviation[j], 1, 1e-9) << j;
  }
}

LinearSystem random_system(std::mt19937& random, std::size_t rows, std::size_t columns) {
  const auto number = [&] { return static_cast<double>(random() % 20001) / 1000 - 10; };
  LinearSystem s{unknowns(columns), {}, {}};
  for (Unknown& x : s.unknowns) x.scale = 0.001 * static_cast<double>(1 + random() % 1000);
  for (std::size_t i = 0; i < rows; ++i) {
    std::vector<double> c(columns);
    for (double& v : c) v = number();
    s.rows.push_back(row(std::move(c), number(), 0.1 + std::abs(number())));
  }
  return s;
}

Eigen::MatrixXd normal_matrix(const LinearSystem& s, Eigen::VectorXd& right) {
  const auto n = static_cast<Eigen::Index>(s.unknowns.size());
  Eigen::MatrixXd m = Eigen::MatrixXd::Zero(n, n);
  right = Eigen::VectorXd::Zero(n);
  for (const LinearRow& r : s.rows) {
    const Eigen::Map<const Eigen::VectorXd> c(r.coefficients.data(), n);
    m += c * c.transpose() / (r.u * r.u);
    right += c * (r.observed / (r.u * r.u));
  }
  return m;
}

TEST(Solve, SameAsTheNormalEquations) {
  std::mt19937 random(3);
  for (int round = 0; round < 200; ++round) {
    SCOPED_TRACE(round);
    const std::size_t n = 1 + random() % 8;
    const LinearSystem s = random_system(random, n + 4 + random() % 20, n);
    Eigen::VectorXd right;
    const Eigen::MatrixXd inverse = normal_matrix(s, right).inverse();
    const Eigen::VectorXd x = inverse * right;
    const LinearFit f = solve(s);
    ASSERT_EQ(f.rank, n);
    EXPECT_TRUE(f.hidden.empty());
    for (std::size_t j = 0; j < n; ++j) {
      EXPECT_NEAR(f.value[j], x(j), 1e-8 * (1 + x.norm()));
      for (std::size_t k = 0; k < n; ++k) EXPECT_NEAR(f.covariance[j][k], inverse(j, k), 1e-8 * inverse.norm());
    }
  }
}

TEST(Solve, ScalesOfUnknownsThatAreDeterminedDoNotMatter) {
  std::mt19937 random(4);
  LinearSystem s = random_system(random, 20, 5);
  const LinearFit f = solve(s);
  for (Unknown& x : s.unknowns) x.scale = 1;
  const LinearFit g = solve(s);
  for (std::size_t j = 0; j < 5; ++j) EXPECT_NEAR(f.value[j], g.value[j], 1e-10);
  EXPECT_NEAR(f.chi_square, g.chi_square, 1e-9);
}

TEST(Solve, APriorIsARow) {
  std::mt19937 random(6);
  LinearSystem s = random_system(random, 12, 3);
  LinearSystem t = s;
  s.priors.push_back({1, 0.4, 0.2});
  t.rows.push_back(row({0, 1, 0}, 0.4, 0.2));
  const LinearFit f = solve(s), g = solve(t);
  EXPECT_EQ(f.value, g.value);
  EXPECT_EQ(f.chi_square, g.chi_square);
  EXPECT_EQ(f.freedom, 10u);
}

// Readings of a sum say nothing about how it is shared; of a third unknown there is no reading at all.
TEST(Solve, HiddenDirectionsAreNamed) {
  LinearSystem s{
      {{"stop", "mm", 1}, {"shim", "mm", 1}, {"miter", "deg", 0.1}}, {row({1, 1, 0}, 5), row({1, 1, 0}, 7)}, {}};
  const LinearFit f = solve(s);
  EXPECT_EQ(f.rank, 1u);
  EXPECT_EQ(f.freedom, 1u);
  ASSERT_EQ(f.hidden.size(), 2u);
  EXPECT_EQ(show_direction(f.hidden[0], s.unknowns), "miter +0.1 deg");
  EXPECT_NEAR(std::abs(f.hidden[1].change[0]), 1, 1e-12);
  EXPECT_NEAR(f.hidden[1].change[0], -f.hidden[1].change[1], 1e-12);
  EXPECT_EQ(f.determined, (std::vector<bool>{false, false, false}));
  EXPECT_EQ(f.u[0], kInfinity);
  EXPECT_NEAR(u_of(f, {1, 1, 0}), std::sqrt(0.5), 1e-12) << "the sum is known although its parts are not";
  EXPECT_EQ(u_of(f, {1, 0, 0}), kInfinity);
  EXPECT_NEAR(f.value[0] + f.value[1], 6, 1e-12);
}

TEST(Solve, ARandomHiddenDirectionIsFound) {
  std::mt19937 random(8);
  for (int round = 0; round < 100; ++round) {
    LinearSystem s = random_system(random, 15, 5);
    // No reading notices when unknown 4 moves with -2 times unknown 0.
    for (LinearRow& r : s.rows) r.coefficients[4] = 2 * r.coefficients[0];
    const LinearFit f = solve(s);
    ASSERT_EQ(f.hidden.size(), 1u) << round;
    const std::vector<double>& h = f.hidden[0].change;
    EXPECT_NEAR(h[0], -2 * h[4], 1e-9 * std::abs(h[0]));
    EXPECT_EQ(h[1], 0);
    EXPECT_EQ(f.determined, (std::vector<bool>{false, true, true, true, false}));
  }
}

TEST(Solve, WithoutReadingsEverythingIsHidden) {
  const LinearFit f = solve({unknowns(2), {}, {}});
  EXPECT_EQ(f.rank, 0u);
  EXPECT_EQ(f.hidden.size(), 2u);
  EXPECT_FALSE(f.birge);
  const LinearFit one = solve({unknowns(2), {row({1, 0}, 3)}, {}});
  EXPECT_NEAR(one.value[0], 3, 1e-13);
  EXPECT_EQ(one.standardized[0], 0) << "a single reading is checked by nothing";
}

TEST(Solve, WhatCannotBeIsRefused) {
  EXPECT_THROW(solve({{}, {}, {}}), std::logic_error);
  EXPECT_THROW(solve({unknowns(2), {row({1}, 1)}, {}}), std::logic_error);
  EXPECT_THROW(solve({unknowns(1), {row({1}, 1, 0)}, {}}), std::logic_error);
  EXPECT_THROW(solve({unknowns(1, 0), {row({1}, 1)}, {}}), std::logic_error);
  EXPECT_THROW(solve({unknowns(1), {row({std::nan("")}, 1)}, {}}), std::logic_error);
  EXPECT_THROW(solve({unknowns(1), {row({1}, std::nan(""))}, {}}), std::logic_error);
  EXPECT_THROW(solve({unknowns(1), {}, {{1, 0, 1}}}), std::logic_error);
}

// Chi-square 3.84 with one degree of freedom: 5 % (any table of the chi-square distribution).
TEST(BirgeNote, SpeaksOnlyWhenSomethingIsOdd) {
  const double apart = std::sqrt(2 * 3.841459);
  const LinearFit usual = solve({unknowns(1), {row({1}, 0), row({1}, apart)}, {}});
  EXPECT_NEAR(usual.chance, 0.05, 1e-6);
  EXPECT_EQ(birge_note(usual), "");
  const LinearFit wide = solve({unknowns(1), {row({1}, 0), row({1}, 5)}, {}});
  EXPECT_NE(birge_note(wide).find("scatter 3.5 times as much"), std::string::npos) << birge_note(wide);
  const LinearFit narrow = solve({unknowns(1), {row({1}, 0), row({1}, 0.01)}, {}});
  EXPECT_NE(birge_note(narrow).find("only 0.01 times"), std::string::npos) << birge_note(narrow);
}

TEST(MostTelling, OpeningAHiddenDirectionComesFirst) {
  const LinearSystem s{unknowns(2), {row({1, 1}, 5)}, {}};
  const auto order = most_telling(s, {{"again, sharp", {1, 1}, 1e-3}, {"one alone, dull", {1, 0}, 50}});
  EXPECT_EQ(order[0].candidate, 1u);
  EXPECT_EQ(order[0].hidden, 0);
  EXPECT_EQ(order[1].hidden, 1);
}

// For a goal it must be the direction that hides the goal.
TEST(MostTelling, OpeningADirectionThatDoesNotMatterIsNoGain) {
  const LinearSystem s{unknowns(3), {row({1, 0, 0}, 5)}, {}};
  const auto order = most_telling(s, {{"x2", {0, 0, 1}, 1}, {"x0 again", {1, 0, 0}, 1}, {"x1", {0, 1, 0}, 9}}, 0);
  EXPECT_EQ(order[0].candidate, 1u);
  EXPECT_NEAR(order[0].variance, 0.5, 1e-12);
  EXPECT_EQ(order[1].candidate, 0u) << "of equals the first";
}

TEST(MostTelling, SameAsSolvingWithEachCandidate) {
  std::mt19937 random(12);
  for (int round = 0; round < 60; ++round) {
    SCOPED_TRACE(round);
    const std::size_t n = 2 + random() % 4;
    const LinearSystem s = random_system(random, n + random() % 6, n);
    std::vector<CandidateRow> candidates;
    for (const LinearRow& r : random_system(random, 8, n).rows) candidates.push_back({"c", r.coefficients, r.u});
    const std::size_t goal = random() % n;
    const auto one = most_telling(s, candidates, goal), all = most_telling(s, candidates);
    double before = 0;
    for (const Telling& t : one) {
      LinearSystem more = s;
      more.rows.push_back(row(candidates[t.candidate].coefficients, 0, candidates[t.candidate].u));
      const double scale = s.unknowns[goal].scale;
      EXPECT_NEAR(t.variance * scale * scale / solve(more).covariance[goal][goal], 1, 1e-6);
      EXPECT_GE(t.variance, before);
      before = t.variance;
    }
    EXPECT_EQ(all.size(), candidates.size());
  }
}

TEST(MostTelling, TraceCountsInScales) {
  LinearSystem s{{{"a", "mm", 1}, {"b", "um", 1000}}, {row({1, 0}, 0, 1), row({0, 1e-3}, 0, 1)}, {}};
  const auto order = most_telling(s, {{"a", {1, 0}, 1}, {"b, sharper", {0, 1e-3}, 0.5}});
  EXPECT_EQ(order[0].candidate, 1u);
  EXPECT_NEAR(order[0].variance, 1 + 0.2, 1e-12);
  EXPECT_NEAR(order[1].variance, 0.5 + 1, 1e-12);
}

}  // namespace
}  // namespace stickwright
