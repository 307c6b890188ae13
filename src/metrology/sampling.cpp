#include "metrology/sampling.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

#include "metrology/draws.h"

namespace stickwright {
namespace {

using Values = std::vector<double>;

void require(bool holds, const char* what) {
  if (!holds) throw std::logic_error(what);
}

void check(std::span<const Estimate> inputs, const SamplingWish& wish) {
  require(wish.coverage > 0 && wish.coverage < 1, "sampling: coverage outside 0..1");
  require(wish.digits == 1 || wish.digits == 2, "sampling: digits other than 1 or 2");
  for (const Estimate& e : inputs)
    require(e.u >= 0 && e.freedom > 0, "sampling: an estimate that cannot be drawn from");
}

// JCGM 101:2008, 7.9.4 b): at least 10 000, and a hundred outside the interval.
std::int64_t trials_of_a_block(double coverage) {
  return std::max<std::int64_t>(10'000, static_cast<std::int64_t>(std::ceil(100 / (1 - coverage))));
}

void append_block(Values& values, std::span<const Estimate> inputs, const Model& model, Draws draws,
                  std::int64_t trials) {
  Values x(inputs.size());
  for (std::int64_t t = 0; t < trials; ++t) {
    for (std::size_t i = 0; i < inputs.size(); ++i) x[i] = draws.of(inputs[i]);
    values.push_back(model(x));
    require(std::isfinite(values.back()), "sampling: the model gives no number");
  }
}

// Mean and standard deviation as values come in, about the first of them: a small spread on a large value keeps its
// digits.
class Running {
 public:
  void add(double value) {
    if (n_ == 0) first_ = value;
    const double x = value - first_;
    n_ += 1, sum_ += x, squares_ += x * x;
  }
  double mean() const { return first_ + sum_ / n_; }
  double scatter() const { return std::sqrt(std::max(0.0, squares_ - sum_ * sum_ / n_) / (n_ - 1)); }
  // Twice the standard deviation of the mean: JCGM 101:2008, 7.9.4 g) and i).
  double doubt() const { return n_ < 2 ? std::numeric_limits<double>::infinity() : 2 * scatter() / std::sqrt(n_); }

 private:
  double n_ = 0, first_ = 0, sum_ = 0, squares_ = 0;
};

// How many values an interval of the coverage holds beyond its first one.
//   source   JCGM 101:2008, 7.7.2
std::size_t steps_within(double coverage, std::size_t trials) {
  const auto q = static_cast<std::size_t>(coverage * static_cast<double>(trials) + 0.5);
  return std::min(q, trials - 1);
}

//   source   JCGM 101:2008, 7.7.2; its ranks count from 1
Interval symmetric_interval(const Values& sorted, double coverage) {
  const std::size_t q = steps_within(coverage, sorted.size());
  const std::size_t rank = (sorted.size() - q + 1) / 2;
  return {sorted[rank - 1], sorted[rank - 1 + q]};
}

//   source   JCGM 101:2008, 7.7.4
Interval shortest_interval(const Values& sorted, double coverage) {
  const std::size_t q = steps_within(coverage, sorted.size());
  Interval best{sorted.front(), sorted[q]};
  for (std::size_t r = 1; r + q < sorted.size(); ++r)
    if (sorted[r + q] - sorted[r] < best.high - best.low) best = {sorted[r], sorted[r + q]};
  return best;
}

// The trials, and how the four numbers that are watched differ from block to block.
class Blocks {
 public:
  void add(Values block, double coverage) {
    Running here;
    for (const double v : block) here.add(v), all_.add(v);
    std::sort(block.begin(), block.end());
    const Interval ends = symmetric_interval(block, coverage);
    const double numbers[] = {here.mean(), here.scatter(), ends.low, ends.high};
    for (std::size_t i = 0; i < 4; ++i) watched_[i].add(numbers[i]);
  }
  bool settled(int digits) const {
    const double tolerance = numerical_tolerance(all_.scatter(), digits);
    return std::all_of(std::begin(watched_), std::end(watched_),
                       [&](const Running& w) { return w.doubt() <= tolerance; });
  }
  const Running& all() const { return all_; }

 private:
  Running all_, watched_[4];
};

Sampled summary(Values values, const Blocks& blocks, const SamplingWish& wish) {
  Sampled s;
  s.coverage = wish.coverage, s.digits = wish.digits, s.settled = blocks.settled(wish.digits);
  s.trials = static_cast<std::int64_t>(values.size());
  s.value = blocks.all().mean(), s.u = blocks.all().scatter();
  std::sort(values.begin(), values.end());
  s.symmetric = symmetric_interval(values, wish.coverage);
  s.shortest = shortest_interval(values, wish.coverage);
  return s;
}

}  // namespace

double numerical_tolerance(double u, int digits) {
  if (!(u > 0)) return 0;
  // The exponent after rounding: 9.96 with two digits is 10, not 9.9.
  const double scale = std::pow(10.0, digits - 1);
  double exponent = std::floor(std::log10(u));
  if (std::round(u / std::pow(10.0, exponent) * scale) >= 10 * scale) ++exponent;
  return 0.5 * std::pow(10.0, exponent - (digits - 1));
}

Sampled sample(std::span<const Estimate> inputs, const Model& model, const SamplingWish& wish) {
  check(inputs, wish);
  const std::int64_t trials = trials_of_a_block(wish.coverage);
  Values values;
  Blocks blocks;
  for (std::uint64_t block = 0; !blocks.settled(wish.digits); ++block) {
    const auto begin = static_cast<std::ptrdiff_t>(values.size());
    if (begin > 0 && begin + trials > wish.most_trials) break;
    append_block(values, inputs, model, Draws(wish.seed, block), trials);
    blocks.add(Values(values.begin() + begin, values.end()), wish.coverage);
  }
  return summary(std::move(values), blocks, wish);
}

Comparison compare(const Budget& budget, const Sampled& sampled) {
  require(budget.coverage == sampled.coverage, "compare: different coverages");
  Comparison c;
  c.tolerance = numerical_tolerance(budget.u, sampled.digits);
  c.low = std::abs(budget.value - budget.expanded - sampled.symmetric.low);
  c.high = std::abs(budget.value + budget.expanded - sampled.symmetric.high);
  c.agrees = c.low <= c.tolerance && c.high <= c.tolerance;
  return c;
}

}  // namespace stickwright
