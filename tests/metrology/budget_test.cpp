#include "metrology/budget.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>

#include "metrology/end_gauge.h"

namespace stickwright {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

Estimate normal(double u, double freedom = kInfinity) {
  return {0, u, Spread::normal, freedom, "given"};
}

Budget of(const std::vector<BudgetInput>& inputs, std::vector<Correlation> correlations = {}, double coverage = 0.95) {
  return make_budget({"result", "mm", 0, coverage}, inputs, correlations);
}

// JCGM 100:2008, H.1.3.2: 5.8, 3.9 and 6.7 nm make 9.7 nm; H.1.6: with 24, 5 and 8 degrees of freedom, 25.6. The
// guide puts the rounded 9.7 into the formula; 9.682 gives 25.45.
TEST(EndGauge, DifferenceHasABudgetOfItsOwn) {
  const Budget d = make_budget({"d", "nm", 215, 0.99}, end_gauge::difference());
  EXPECT_NEAR(d.u, 9.7, 0.05);
  EXPECT_NEAR(d.freedom * std::pow(9.7 / d.u, 4), 25.6, 0.05);
}

// JCGM 100:2008, Table H.1: the standard uncertainties of the inputs, in its order.
TEST(EndGauge, InputsHaveThePublishedUncertainties) {
  const auto in = end_gauge::inputs();
  EXPECT_NEAR(in[0].input.u, 25, 0.5);
  EXPECT_NEAR(in[1].input.u, 9.7, 0.05);
  EXPECT_NEAR(in[2].input.u, 1.2e-6, 0.05e-6);
  EXPECT_NEAR(in[3].input.u, 0.41, 0.005);
  EXPECT_NEAR(in[4].input.u, 0.58e-6, 0.005e-6);
  EXPECT_NEAR(in[5].input.u, 0.029, 0.0005);
  EXPECT_DOUBLE_EQ(in[4].input.freedom, 50);
  EXPECT_DOUBLE_EQ(in[5].input.freedom, 2);
}

// The inputs with the standard uncertainties and degrees of freedom as JCGM 100:2008, Table H.1 and H.1.6 print them.
std::vector<BudgetInput> as_printed() {
  auto in = end_gauge::inputs();
  const double u[] = {25, 9.7, 1.2e-6, 0.41, 0.58e-6, 0.029};
  for (std::size_t i = 0; i < 6; ++i) in[i].input.u = u[i];
  in[1].input.freedom = 25.6;
  return in;
}

// JCGM 100:2008, Table H.1 and H.1.4 to H.1.6: contributions 25, 9.7, 0, 0, 2.9 and 16.6 nm; u 32 nm, 16 degrees of
// freedom, U99 = 2.92 x 32 = 93 nm. The last digit of 0.029 K is worth 0.29 nm of the last contribution.
TEST(EndGauge, LineByLine) {
  const Budget b = make_budget({"length", "nm", end_gauge::kStandardNm + 215, 0.99}, as_printed());
  const double published[] = {25, 9.7, 0, 0, 2.9, 16.6};
  for (std::size_t i = 0; i < 5; ++i) EXPECT_NEAR(b.lines[i].contribution, published[i], 0.05) << i;
  EXPECT_NEAR(b.lines[5].contribution, published[5], 0.29);
  EXPECT_EQ(std::lround(b.u), 32);
  EXPECT_EQ(std::floor(b.freedom), 16);
  EXPECT_NEAR(b.k, 2.92, 0.005);
  EXPECT_EQ(std::lround(b.expanded), 93);
  EXPECT_EQ(b.value, 50'000'838);
}

// Not rounded on the way, the same inputs make 31.66 nm: the printed results stand but for U99, 92.5 nm.
TEST(EndGauge, NotRoundedOnTheWay) {
  const Budget b = make_budget({"length", "nm", end_gauge::kStandardNm + 215, 0.99}, end_gauge::inputs());
  const double squares = 25 * 25 + (5.8 * 5.8 + 3.9 * 3.9 + 6.7 * 6.7) + std::pow(5.0000623, 2) / 3 +
                         std::pow(50.000623 * 11.5 * 0.05, 2) / 3;
  EXPECT_NEAR(b.u, std::sqrt(squares), 1e-9);
  EXPECT_EQ(std::lround(b.u), 32);
  EXPECT_EQ(std::floor(b.freedom), 16);
}

// JCGM 100:2008, H.1.7: the products of second order contribute 11.7 and 1.7 nm (from memory) and u becomes
// 34 nm. From the printed 0.58e-6 and 0.41 they are 11.9 and 1.7.
TEST(EndGauge, ProductsOfSecondOrder) {
  auto in = as_printed();
  in.push_back(product_term(in[4], in[3], -end_gauge::kStandardNm));
  in.push_back(product_term(in[2], in[5], -end_gauge::kStandardNm));
  const Budget b = make_budget({"length", "nm", end_gauge::kStandardNm + 215, 0.99}, in);
  EXPECT_NEAR(b.lines[6].contribution, 11.9, 0.05);
  EXPECT_NEAR(b.lines[7].contribution, 1.7, 0.05);
  EXPECT_EQ(std::lround(b.u), 34);
}

// JCGM 100:2008, G.4.1: four equal contributions of ten degrees of freedom each have forty together.
TEST(MakeBudget, FourEqualLines) {
  const Budget b = of({4, {"x", "mm", normal(1, 10), 1}});
  EXPECT_DOUBLE_EQ(b.u, 2);
  EXPECT_NEAR(b.freedom, 40, 1e-9);
  for (const BudgetLine& line : b.lines) EXPECT_DOUBLE_EQ(line.share, 0.25);
  EXPECT_DOUBLE_EQ(b.k, coverage_factor(0.95, 40)) << "the last bits of 40 must not make it 39";
}

// JCGM 100:2008, Table G.2: t for 95 %, 99 % and 99.73 %, and the last row, infinity.
TEST(CoverageFactor, TableOfTheGuide) {
  EXPECT_NEAR(coverage_factor(0.95, 1), 12.71, 0.005);
  EXPECT_NEAR(coverage_factor(0.95, 5), 2.57, 0.005);
  EXPECT_NEAR(coverage_factor(0.95, 10), 2.23, 0.005);
  EXPECT_NEAR(coverage_factor(0.99, 16), 2.92, 0.005);
  EXPECT_NEAR(coverage_factor(0.9973, 20), 3.42, 0.005);
  EXPECT_NEAR(coverage_factor(0.95, kInfinity), 1.960, 0.0005);
  EXPECT_NEAR(coverage_factor(0.99, kInfinity), 2.576, 0.0005);
}

TEST(CoverageFactor, FreedomIsTruncatedAndNeverWidensWithMoreOfIt) {
  EXPECT_DOUBLE_EQ(coverage_factor(0.95, 16.99), coverage_factor(0.95, 16));
  double before = kInfinity;
  for (const double freedom : {0.5, 1.0, 2.0, 3.5, 7.0, 50.0, 1e4, 1e8, 1e12, kInfinity}) {
    EXPECT_LE(coverage_factor(0.95, freedom), before) << freedom;
    before = coverage_factor(0.95, freedom);
  }
}

// Worked by hand: r = 1 adds straight, r = -1 takes away, r = 0.5 gives 9 + 16 + 12 = 37.
TEST(MakeBudget, CorrelatedPairs) {
  const std::vector<BudgetInput> in = {{"a", "mm", normal(3), 1}, {"b", "mm", normal(2), 2}};
  EXPECT_DOUBLE_EQ(of(in, {{0, 1, 1.0}}).u, 7);
  EXPECT_DOUBLE_EQ(of(in, {{0, 1, -1.0}}).u, 1);
  EXPECT_DOUBLE_EQ(of(in, {{1, 0, 0.5}}).u, std::sqrt(37));
  EXPECT_DOUBLE_EQ(of(in, {{1, 0, 0.5}}).lines[0].share, 15.0 / 37);
}

TEST(MakeBudget, InputsThatCancelLeaveNothing) {
  const Budget b = of({{"a", "mm", normal(0.3, 4), 1}, {"b", "mm", normal(0.3, 4), -1}}, {{0, 1, 1.0}});
  EXPECT_NEAR(b.u, 0, 1e-9);
}

// JCGM 100:2008, 5.2.2 note 1: ten resistors of 1000 ohm with u = 100 mohm, all from one standard, make 1 ohm.
TEST(MakeBudget, TenResistorsInSeries) {
  const std::vector<BudgetInput> in(10, {"R", "ohm", normal(0.1), 1});
  std::vector<Correlation> all;
  for (std::size_t a = 0; a < 10; ++a)
    for (std::size_t b = a + 1; b < 10; ++b) all.push_back({a, b, 1.0});
  EXPECT_NEAR(of(in, all).u, 1.0, 1e-12);
  EXPECT_NEAR(of(in).u, 0.32, 0.005);
}

TEST(MakeBudget, WhatCannotBeIsRefused) {
  const std::vector<BudgetInput> three(3, {"a", "mm", normal(1), 1});
  EXPECT_THROW(of(three, {{0, 1, -1.0}, {1, 2, -1.0}, {0, 2, -1.0}}), std::logic_error);
  EXPECT_THROW(of(three, {{0, 1, 1.5}}), std::logic_error);
  EXPECT_THROW(of(three, {{0, 0, 0.5}}), std::logic_error);
  EXPECT_THROW(of(three, {{0, 1, 0.5}, {1, 0, 0.5}}), std::logic_error);
  EXPECT_THROW(of(three, {{0, 3, 0.5}}), std::logic_error);
  EXPECT_THROW(of({{"a", "mm", normal(-1), 1}}), std::logic_error);
  EXPECT_THROW(of({{"a", "mm", normal(std::nan("")), 1}}), std::logic_error);
  EXPECT_THROW(of({{"a", "mm", normal(1, 0), 1}}), std::logic_error);
  EXPECT_THROW(of(three, {}, 1), std::logic_error);
}

TEST(MakeBudget, NothingUncertain) {
  const Budget b = of({{"a", "mm", normal(0, 3), 1}});
  EXPECT_EQ(b.u, 0);
  EXPECT_EQ(b.expanded, 0);
  EXPECT_EQ(b.lines[0].share, 0);
  EXPECT_EQ(of({}).u, 0);
}

std::vector<BudgetInput> random_inputs(std::mt19937& random) {
  std::vector<BudgetInput> in(1 + random() % 7);
  for (BudgetInput& i : in)
    i = {"x", "mm", normal(static_cast<double>(1 + random() % 1000) / 100, static_cast<double>(1 + random() % 30)),
         static_cast<double>(random() % 200) / 50 - 2};
  return in;
}

TEST(MakeBudget, ScalingOrderAndShares) {
  std::mt19937 random(5);
  for (int round = 0; round < 300; ++round) {
    auto in = random_inputs(random);
    const Budget b = of(in);
    if (b.u == 0) continue;
    double shares = 0, least = kInfinity;
    for (const BudgetLine& line : b.lines) shares += line.share;
    for (const BudgetLine& line : b.lines)
      if (line.contribution > 0) least = std::min(least, line.input.freedom);
    EXPECT_NEAR(shares, 1, 1e-12);
    EXPECT_GE(b.freedom, least * (1 - 1e-12));
    std::shuffle(in.begin(), in.end(), random);
    EXPECT_NEAR(of(in).u, b.u, 1e-12 * b.u);
    for (BudgetInput& i : in) i.sensitivity *= -25.4;
    EXPECT_NEAR(of(in).u, 25.4 * b.u, 1e-12 * 25.4 * b.u);
    EXPECT_NEAR(of(in).freedom, b.freedom, 1e-9 * b.freedom);
  }
}

TEST(MakeBudget, ABudgetWithinABudgetIsTheSameAsAllLinesAtOnce) {
  const auto d = end_gauge::difference();
  const Budget outer = of({{"d", "nm", as_estimate(of(d)), 1}, {"e", "nm", normal(4, 7), 1}});
  auto all = d;
  all.push_back({"e", "nm", normal(4, 7), 1});
  EXPECT_NEAR(outer.u, of(all).u, 1e-12);
  EXPECT_NEAR(outer.freedom, of(all).freedom, 1e-9);
}

// For a result x y with both at zero the variance is exactly (u_x u_y)^2; for x^2 of a normal x at zero it is 2 u^4.
TEST(SecondOrder, ProductAndSquareAreExactForNormalInputsAtZero) {
  const BudgetInput x{"x", "mm", normal(0.3), 0}, y{"y", "mm", normal(0.7), 0};
  EXPECT_DOUBLE_EQ(of({product_term(x, y, 1)}).u, 0.21);
  EXPECT_NEAR(of({square_term(x, 2)}).u, std::sqrt(2) * 0.09, 1e-15);
}

// JCGM 100:2008, 4.4.3 and Table 1: twenty temperatures, mean 100.145 (printed 100.14), s = 1.489 (printed 1.49),
// u = 0.333 (printed 0.33).
TEST(MeanOf, TwentyTemperatures) {
  const double t[] = {96.90,  98.18,  98.25,  98.61,  99.03,  99.49,  99.56,  99.74,  99.89,  100.07,
                      100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72};
  const Estimate e = mean_of(t, "readings").take();
  EXPECT_NEAR(e.value, 100.145, 5e-4);
  EXPECT_NEAR(e.u * std::sqrt(20), 1.489, 5e-4);
  EXPECT_NEAR(e.u, 0.333, 5e-4);
  EXPECT_EQ(e.freedom, 19);
}

TEST(MeanOf, OneReadingSaysNothingAboutScatter) {
  const double one[] = {3.0};
  EXPECT_EQ(mean_of(one, "x").problem().code, "too_few_readings");
}

// By hand: squares about the means 2 and 8, with 1 and 2 degrees of freedom: s^2 = 10 / 3.
TEST(PooledScatter, GroupsWithDifferentMeans) {
  const std::vector<std::vector<double>> groups = {{10, 12}, {100, 102, 104}, {7}};
  const PooledScatter p = pooled_scatter(groups).take();
  EXPECT_EQ(p.freedom, 3);
  EXPECT_DOUBLE_EQ(p.s, std::sqrt(10.0 / 3));
  const double three[] = {4, 5, 6};
  EXPECT_DOUBLE_EQ(mean_of(three, p, "x").u, std::sqrt(10.0 / 9));
  EXPECT_EQ(mean_of(three, p, "x").freedom, 3);
  EXPECT_EQ(pooled_scatter(std::vector<std::vector<double>>{{1}, {2}}).problem().code, "too_few_readings");
}

// JCGM 100:2008, G.4.2: reliable to 25 % means eight degrees of freedom.
TEST(FreedomOfInexact, AQuarter) {
  EXPECT_DOUBLE_EQ(freedom_of_inexact(0.25), 8);
  EXPECT_EQ(freedom_of_inexact(0), kInfinity);
}

TEST(TwoDigits, KeepsTwo) {
  EXPECT_EQ(two_digits(0.0239), "0.024");
  EXPECT_EQ(two_digits(0.0996), "0.10");
  EXPECT_EQ(two_digits(31.7), "32");
  EXPECT_EQ(two_digits(1234), "1200");
  EXPECT_EQ(two_digits(5.77e-7), "0.00000058");
  EXPECT_EQ(two_digits(5.77e-10), "5.8e-10");
  EXPECT_EQ(two_digits(0), "0");
}

TEST(BudgetSentence, LargestShareFirst) {
  const Budget b = of({{"miter", "mm", normal(0.3), 1},
                       {"stack", "mm", normal(0.8), 1},
                       {"temperature", "mm", normal(0.001), 1},
                       {"reading", "mm", normal(0.5), 1}});
  EXPECT_EQ(budget_sentence(b), "u = 0.99 mm: stack 65 %, reading 26 %, miter 9 %; U = 1.9 mm (95 %)");
}

TEST(BudgetTable, EveryLineAndTheResult) {
  const Budget b = make_budget({"length", "nm", 50'000'838, 0.99}, as_printed());
  const std::string table = budget_table(b);
  EXPECT_EQ(std::count(table.begin(), table.end(), '\n'), 8);
  EXPECT_NE(table.find("difference of temperature"), std::string::npos) << table;
  EXPECT_NE(table.find("length = 50000838 nm, u = 32 nm, 16.7 degrees of freedom, k = 2.92, U = 93 nm (99 %)"),
            std::string::npos)
      << table;
}

}  // namespace
}  // namespace stickwright
