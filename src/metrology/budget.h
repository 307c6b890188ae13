// budget.h - how well a result is known, line by line: the uncertainty budget.
#pragma once
#include <cstddef>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include "quantity/estimate.h"
#include "quantity/result.h"

namespace stickwright {

// One thing that the result depends on.
struct BudgetInput {
  std::string name;
  std::string unit;  // of the input
  Estimate input;
  double sensitivity = 1;  // by how much the result moves when the input moves by one unit
};

struct BudgetLine {
  std::string name;
  Estimate input;
  std::string unit;
  double sensitivity = 1;
  double contribution = 0;  // |sensitivity| u, in the unit of the result
  double share = 0;         // of the variance; all shares add up to 1 (to 0 when nothing is uncertain)
};

// Inputs a and b, counted from 0, move together.
struct Correlation {
  std::size_t a = 0, b = 0;
  double r = 0;  // -1 .. 1
};

// What a budget is about.
struct BudgetResult {
  std::string name;
  std::string unit;
  double value = 0;
  double coverage = 0.95;  // 0 < coverage < 1
};

struct Budget {
  std::string name, unit;
  double value = 0;
  std::vector<BudgetLine> lines;  // in the order of the inputs
  double u = 0;                   // combined standard uncertainty
  double freedom = std::numeric_limits<double>::infinity();
  double coverage = 0.95;
  double k = 0;
  double expanded = 0;  // U = k u
};

// Combines the inputs to first order.
//   returns  u: root of the sum of (c u)^2 and 2 c_a c_b u_a u_b r; freedom by the Welch-Satterthwaite formula;
//            k: quantile of Student's t, the degrees of freedom truncated to a whole number.
//            With correlations a line's share holds half of each of its covariances, and may be below zero
//   throws   logic_error: a u that is negative or no number, a freedom not > 0, coverage outside 0..1, a correlation
//            outside -1..1, of an input with itself, given twice, or a set of them that cannot be (variance < 0)
//   assumes  the model is straight over a few u; see product_term and square_term
//   not for  correlated inputs with few degrees of freedom: the formula for the freedom wants independent ones. The
//            freedom is then no more than the smallest among the correlated inputs (our own caution, no source)
//   source   JCGM 100:2008, 5.1.2 (10), 5.2.2 (16), 6.3, G.4.1 (G.2b), G.6.4
Budget make_budget(const BudgetResult& result, std::span<const BudgetInput> inputs,
                   std::span<const Correlation> correlations = {});

// The line that a budget needs where the result bends with the product of two independent inputs, or with the square
// of one, and the first-order lines say nothing (input at zero).
//   second   the second derivative of the result by a and b
//   assumes  third derivatives are nothing
//   source   JCGM 100:2008, note to 5.1.2; used in H.1.7
BudgetInput product_term(const BudgetInput& a, const BudgetInput& b, double second);
BudgetInput square_term(const BudgetInput& a, double second);

// The coverage factor: a share `coverage` of the spread lies within k u.
//   source   JCGM 100:2008, G.3.2, G.4.1; at less than one degree of freedom it is not truncated
double coverage_factor(double coverage, double freedom);

// The result of one budget as an input of another.
Estimate as_estimate(const Budget& budget);

// The mean of repeated readings.
//   returns  u = s / sqrt n, n - 1 degrees of freedom
//   errors   too_few_readings (fewer than two)
//   source   JCGM 100:2008, 4.2.3
Result<Estimate> mean_of(std::span<const double> readings, std::string source);

// How much single readings scatter, from several groups of readings whose means differ.
struct PooledScatter {
  double s = 0;
  double freedom = 0;
};

//   errors   too_few_readings (no group has two)
//   source   JCGM 100:2008, 4.2.4 and H.3.6 note 3
Result<PooledScatter> pooled_scatter(std::span<const std::vector<double>> groups);

// The mean of readings whose scatter is known from earlier ones.
//   readings   at least one
Estimate mean_of(std::span<const double> readings, const PooledScatter& scatter, std::string source);

// The degrees of freedom of an uncertainty that is itself known only to the share `doubt`: 0.25 for "to a quarter".
//   doubt    >= 0; 0 gives infinity
//   source   JCGM 100:2008, G.4.2 (G.3)
double freedom_of_inexact(double doubt);

// "u = 0.012 mm: stack 61 %, reading 30 %, miter 9 %; U = 0.024 mm (95 %)". The largest shares first; those that
// would read 0 % are left out.
std::string budget_sentence(const Budget& budget);

// A table for a page of fixed-width text, one line an input, the result below.
std::string budget_table(const Budget& budget);

// Two significant digits, "0.024", "1.0", "32", "0.00000058".
//   source   JCGM 100:2008, 7.2.6
std::string two_digits(double u);

}  // namespace stickwright
