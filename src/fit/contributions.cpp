#include "fit/contributions.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "fit/dimensions.h"

namespace stickwright {
namespace {

constexpr std::uint64_t kOther = 0x5bd1e995;  // the second drawing of a bunch is that of a bunch far away

std::map<std::string, std::vector<int>> numbers_by_source(const PuzzleErrors& errors) {
  std::map<std::string, std::vector<int>> out;
  for (std::size_t k = 0; k < errors.numbers.size(); ++k)
    if (errors.numbers[k].off.u > 0) out[errors.numbers[k].source].push_back(errors.number_at(k));
  return out;
}

// Half the mean square of the difference, and its standard uncertainty.
struct HalfSquare {
  double mean = 0, u = 0;
};
HalfSquare half_square(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0, square = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const double d = (a[i] - b[i]) * (a[i] - b[i]) / 2;
    sum += d, square += d * d;
  }
  const auto n = static_cast<double>(a.size());
  return {sum / n, std::sqrt(std::max(0.0, square / n - sum / n * sum / n) / n)};
}

double variance(const std::vector<double>& x) {
  double sum = 0, square = 0;
  for (double v : x) sum += v, square += v * v;
  const auto n = static_cast<double>(x.size());
  return square / n - sum / n * sum / n;
}

}  // namespace

Contributions contributions(const PuzzleErrors& errors, const PuzzlePlays& plays, std::int64_t samples) {
  const std::size_t lanes = plays.draws().lanes();
  const auto other = [&](std::uint64_t bunch) {
    std::vector<double> values(plays.draws().numbers() * lanes);
    plays.draws().draw(bunch + kOther, values);
    return values;
  };
  const std::vector<double> a = plays_of(plays, samples, {});
  const std::vector<double> b = plays_of(plays, samples, [&](std::uint64_t bunch, std::span<double> values) {
    const std::vector<double> drawn = other(bunch);
    std::copy(drawn.begin(), drawn.end(), values.begin());
  });
  Contributions out;
  out.samples = static_cast<std::int64_t>(a.size());
  const double all = (variance(a) + variance(b)) / 2;
  double sum = 0;
  if (all > 0)
    for (const auto& [source, numbers] : numbers_by_source(errors)) {
      const std::vector<double> mixed = plays_of(plays, samples, [&](std::uint64_t bunch, std::span<double> values) {
        const std::vector<double> drawn = other(bunch);
        for (int k : numbers)
          std::copy_n(drawn.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(k) * lanes), lanes,
                      values.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(k) * lanes));
      });
      const HalfSquare without = half_square(b, mixed), with = half_square(a, mixed);
      out.of.push_back({source, std::max(0.0, 1 - without.mean / all), with.mean / all});
      out.u = std::max(out.u, without.u / all);
      sum += out.of.back().share;
    }
  out.together = std::max(0.0, 1 - sum);
  std::stable_sort(out.of.begin(), out.of.end(),
                   [](const Contribution& x, const Contribution& y) { return x.share > y.share; });
  return out;
}

}  // namespace stickwright
