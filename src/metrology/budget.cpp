#include "metrology/budget.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cassert>
#include <cmath>
#include <numeric>
#include <set>
#include <stdexcept>
#include <utility>

namespace stickwright {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

void require(bool holds, const char* what) {
  if (!holds) throw std::logic_error(what);
}

void check_inputs(const BudgetResult& result, std::span<const BudgetInput> inputs) {
  require(result.coverage > 0 && result.coverage < 1, "budget: coverage outside 0..1");
  for (const BudgetInput& i : inputs) {
    require(i.input.u >= 0 && std::isfinite(i.input.u), "budget: a standard uncertainty is negative or no number");
    require(i.input.freedom > 0, "budget: degrees of freedom not above 0");
    require(std::isfinite(i.sensitivity), "budget: a sensitivity is no number");
  }
}

void check_correlations(std::span<const Correlation> correlations, std::size_t inputs) {
  std::set<std::pair<std::size_t, std::size_t>> seen;
  for (const Correlation& c : correlations) {
    require(c.a < inputs && c.b < inputs && c.a != c.b, "budget: a correlation of inputs that are not there");
    require(c.r >= -1 && c.r <= 1, "budget: a correlation outside -1..1");
    require(seen.insert(std::minmax(c.a, c.b)).second, "budget: a correlation given twice");
  }
}

BudgetLine line_of(const BudgetInput& i) {
  return {i.name, i.input, i.unit, i.sensitivity, std::abs(i.sensitivity) * i.input.u, 0};
}

double signed_contribution(const BudgetLine& line) {
  return line.sensitivity * line.input.u;
}

// Each line's part of the variance: its square and half of each of its covariances.
std::vector<double> variances(const std::vector<BudgetLine>& lines, std::span<const Correlation> correlations) {
  std::vector<double> parts;
  for (const BudgetLine& line : lines) parts.push_back(line.contribution * line.contribution);
  for (const Correlation& c : correlations) {
    const double covariance = signed_contribution(lines[c.a]) * signed_contribution(lines[c.b]) * c.r;
    parts[c.a] += covariance;
    parts[c.b] += covariance;
  }
  return parts;
}

double combined_variance(const std::vector<double>& parts, const std::vector<BudgetLine>& lines) {
  const double variance = std::accumulate(parts.begin(), parts.end(), 0.0);
  double squares = 0;
  for (const BudgetLine& line : lines) squares += line.contribution * line.contribution;
  // Inputs that cancel exactly may leave a rounding error below zero.
  require(variance >= -1e-12 * squares, "budget: correlations that cannot hold together");
  return std::max(variance, 0.0);
}

double welch_satterthwaite(double u, const std::vector<BudgetLine>& lines) {
  if (u == 0) return kInfinity;
  double sum = 0;
  for (const BudgetLine& line : lines) sum += std::pow(line.contribution / u, 4) / line.input.freedom;
  return sum > 0 ? 1 / sum : kInfinity;
}

double combined_freedom(const Budget& b, std::span<const Correlation> correlations) {
  double freedom = welch_satterthwaite(b.u, b.lines);
  for (const Correlation& c : correlations)
    if (c.r != 0) freedom = std::min({freedom, b.lines[c.a].input.freedom, b.lines[c.b].input.freedom});
  return freedom;
}

// Whole degrees of freedom; an error of the last bits must not cost one.
double truncated(double freedom) {
  const double whole = std::floor(freedom * (1 + 1e-12));
  return whole >= 1 ? whole : freedom;
}

double mean(std::span<const double> readings) {
  return std::accumulate(readings.begin(), readings.end(), 0.0) / static_cast<double>(readings.size());
}

double squares_about_mean(std::span<const double> readings) {
  const double m = mean(readings);
  double sum = 0, rest = 0;
  for (const double x : readings) sum += (x - m) * (x - m), rest += x - m;
  return sum - rest * rest / static_cast<double>(readings.size());
}

Problem too_few_readings() {
  return {"too_few_readings", "", "Scatter takes at least two readings of the same thing. Repeat the reading.", ""};
}

}  // namespace

double coverage_factor(double coverage, double freedom) {
  const double p = (1 + coverage) / 2;
  const double whole = truncated(freedom);
  // Beyond that the two distributions are the same to the last bit that matters.
  if (whole > 1e9) return boost::math::quantile(boost::math::normal(), p);
  return boost::math::quantile(boost::math::students_t(whole), p);
}

Budget make_budget(const BudgetResult& result, std::span<const BudgetInput> inputs,
                   std::span<const Correlation> correlations) {
  check_inputs(result, inputs);
  check_correlations(correlations, inputs.size());
  Budget b;
  b.name = result.name, b.unit = result.unit, b.value = result.value, b.coverage = result.coverage;
  for (const BudgetInput& i : inputs) b.lines.push_back(line_of(i));
  const std::vector<double> parts = variances(b.lines, correlations);
  const double variance = combined_variance(parts, b.lines);
  for (std::size_t i = 0; i < parts.size(); ++i) b.lines[i].share = variance > 0 ? parts[i] / variance : 0;
  b.u = std::sqrt(variance);
  b.freedom = combined_freedom(b, correlations);
  b.k = coverage_factor(b.coverage, b.freedom);
  b.expanded = b.k * b.u;
  return b;
}

BudgetInput product_term(const BudgetInput& a, const BudgetInput& b, double second) {
  Estimate e;
  e.u = a.input.u * b.input.u;
  e.freedom = std::min(a.input.freedom, b.input.freedom);
  e.source = "both together";
  return {a.name + " x " + b.name, a.unit + " " + b.unit, e, second};
}

BudgetInput square_term(const BudgetInput& a, double second) {
  Estimate e;
  e.u = a.input.u * a.input.u / std::sqrt(2.0);
  e.freedom = a.input.freedom;
  e.source = "its square";
  return {a.name + " squared", a.unit + "^2", e, second};
}

Estimate as_estimate(const Budget& budget) {
  return {budget.value, budget.u, Spread::normal, budget.freedom, "budget of " + budget.name};
}

Result<Estimate> mean_of(std::span<const double> readings, std::string source) {
  if (readings.size() < 2) return too_few_readings();
  const double n = static_cast<double>(readings.size());
  const double s = std::sqrt(squares_about_mean(readings) / (n - 1));
  return Estimate{mean(readings), s / std::sqrt(n), Spread::normal, n - 1, std::move(source)};
}

Result<PooledScatter> pooled_scatter(std::span<const std::vector<double>> groups) {
  double squares = 0, freedom = 0;
  for (const std::vector<double>& g : groups) {
    if (g.size() < 2) continue;
    squares += squares_about_mean(g);
    freedom += static_cast<double>(g.size() - 1);
  }
  if (freedom == 0) return too_few_readings();
  return PooledScatter{std::sqrt(squares / freedom), freedom};
}

Estimate mean_of(std::span<const double> readings, const PooledScatter& scatter, std::string source) {
  require(!readings.empty(), "mean_of: no reading");
  const double n = static_cast<double>(readings.size());
  return {mean(readings), scatter.s / std::sqrt(n), Spread::normal, scatter.freedom, std::move(source)};
}

double freedom_of_inexact(double doubt) {
  return doubt > 0 ? 0.5 / (doubt * doubt) : kInfinity;
}

}  // namespace stickwright
