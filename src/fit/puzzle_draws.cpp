#include "fit/puzzle_draws.h"

#include <algorithm>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/student_t_distribution.hpp>
#include <boost/random/uniform_01.hpp>
#include <cmath>
#include <numbers>
#include <random>

namespace stickwright {
namespace {

constexpr std::size_t kLanes = 256;  // about as many puzzles in a bunch: their values fit the cache
constexpr std::size_t kAtOnce = 32;  // lanes of a row that are summed together

// The distributions of Boost are the same on every machine, and fast (ziggurat).
using Engine = boost::random::mt19937_64;

Engine engine_of(std::uint64_t seed, std::uint64_t bunch) {
  std::seed_seq words{static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32),
                      static_cast<std::uint32_t>(bunch), static_cast<std::uint32_t>(bunch >> 32)};
  return Engine(words);
}

// How far from the value, in one draw.
double deviation(const Estimate& e, Engine& engine) {
  boost::random::uniform_01<double> even;
  switch (e.spread) {
    case Spread::rectangular:
      return half_width(e) * (2 * even(engine) - 1);
    case Spread::triangular:
      return half_width(e) * (even(engine) - even(engine));
    case Spread::u_shaped:
      return half_width(e) * std::sin(2 * std::numbers::pi * even(engine));
    case Spread::normal:
      break;
  }
  if (std::isfinite(e.freedom)) return e.u * boost::random::student_t_distribution<double>(e.freedom)(engine);
  return e.u * boost::random::normal_distribution<double>()(engine);
}

__attribute__((target_clones("avx512f", "avx2", "default"))) void add_lanes(double* sum, const double* values, double k,
                                                                            std::size_t lanes) {
  for (std::size_t i = 0; i < lanes; ++i) sum[i] += k * values[i];
}

__attribute__((target_clones("avx512f", "avx2", "default"))) void add_products(double* sum, const double* a,
                                                                               const double* b, double k,
                                                                               std::size_t lanes) {
  for (std::size_t i = 0; i < lanes; ++i) sum[i] += k * a[i] * b[i];
}

}  // namespace

PuzzleDraws::PuzzleDraws(const PuzzleErrors& errors, int copies, std::uint64_t seed)
    : errors_(&errors), copies_(copies), seed_(seed) {
  const auto each = static_cast<std::size_t>(copies);
  lanes_ = each * std::max<std::size_t>(1, (kLanes + each / 2) / each);
}

void PuzzleDraws::draw(std::uint64_t bunch, std::span<double> values) const {
  Engine engine = engine_of(seed_, bunch);
  std::fill_n(values.begin(), lanes_, 1.0);
  for (std::size_t k = 0; k < errors_->numbers.size(); ++k) {
    const FitNumber& number = errors_->numbers[k];
    const std::span<double> out = values.subspan((k + 1) * lanes_, lanes_);
    const std::size_t step = number.each_puzzle ? 1 : static_cast<std::size_t>(copies_);
    for (std::size_t i = 0; i < lanes_; i += step) {
      // Also where u is 0, so that the draws of the others do not depend on it.
      const double off = deviation(number.off, engine);
      std::fill_n(out.begin() + static_cast<std::ptrdiff_t>(i), step, number.off.value + off);
    }
  }
}

void PuzzleDraws::derive(std::span<double> values) const {
  std::vector<double> form(lanes_);
  const auto lanes_of = [&](int number) { return values.data() + static_cast<std::size_t>(number) * lanes_; };
  for (std::size_t k = 0; k < errors_->derived.size(); ++k) {
    const FitDerived& d = errors_->derived[k];
    double* out = lanes_of(errors_->derived_at(k));
    std::fill_n(out, lanes_, 0.0);
    for (const FitDerived::Product& p : d.products)
      add_products(out, lanes_of(p.number), lanes_of(p.other), p.coefficient, lanes_);
    for (std::size_t f = 0; f < d.of.size(); ++f) {
      std::fill(form.begin(), form.end(), 0.0);
      for (const auto& [number, c] : d.of[f].terms()) add_lanes(form.data(), lanes_of(number), c, lanes_);
      for (std::size_t i = 0; i < lanes_; ++i)
        out[i] = f == 0 ? form[i] : d.largest ? std::max(out[i], form[i]) : std::min(out[i], form[i]);
    }
  }
}

FormTable::FormTable(std::span<const Form> forms) : start_{0} {
  for (const Form& f : forms) {
    for (const auto& [number, c] : f.terms()) number_.push_back(number), coefficient_.push_back(c);
    start_.push_back(number_.size());
  }
}

void FormTable::apply(std::span<const double> values, std::size_t lanes, std::span<double> out) const {
  double sum[kAtOnce];
  for (std::size_t from = 0; from < lanes; from += kAtOnce) {
    const std::size_t n = std::min(kAtOnce, lanes - from);
    for (std::size_t r = 0; r < rows(); ++r) {
      std::fill_n(sum, n, 0.0);
      for (std::size_t k = start_[r]; k < start_[r + 1]; ++k)
        add_lanes(sum, values.data() + static_cast<std::size_t>(number_[k]) * lanes + from, coefficient_[k], n);
      for (std::size_t i = 0; i < n; ++i) out[(from + i) * rows() + r] = sum[i];
    }
  }
}

}  // namespace stickwright
