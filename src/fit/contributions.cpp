#include "fit/contributions.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "fit/dimensions.h"

namespace stickwright {
namespace {

constexpr std::uint64_t kOther = 0x5bd1e995;  // the second drawing of a bunch is that of a bunch far away
constexpr double kRounding = 1e-9;            // of a share: so that sources without one keep their order

std::map<std::string, std::vector<int>> numbers_by_source(const PuzzleErrors& errors) {
  std::map<std::string, std::vector<int>> out;
  for (std::size_t k = 0; k < errors.numbers.size(); ++k)
    if (errors.numbers[k].off.u > 0) out[errors.numbers[k].source].push_back(errors.number_at(k));
  return out;
}

// The mean square of x - y over that of a - b, and its standard uncertainty.
struct SquareRatio {
  double value = 0, u = 0;
};
SquareRatio square_ratio(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& a,
                         const std::vector<double>& b) {
  const auto square = [](const std::vector<double>& p, const std::vector<double>& q, std::size_t i) {
    return (p[i] - q[i]) * (p[i] - q[i]);
  };
  double above = 0, below = 0, scatter = 0;
  for (std::size_t i = 0; i < x.size(); ++i) above += square(x, y, i), below += square(a, b, i);
  if (below == 0) return {};
  for (std::size_t i = 0; i < x.size(); ++i) scatter += std::pow(square(x, y, i) - above / below * square(a, b, i), 2);
  return {above / below, std::sqrt(scatter) / below};
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
  double sum = 0;
  if (a != b)
    for (const auto& [source, numbers] : numbers_by_source(errors)) {
      const std::vector<double> mixed = plays_of(plays, samples, [&](std::uint64_t bunch, std::span<double> values) {
        const std::vector<double> drawn = other(bunch);
        for (int k : numbers)
          std::copy_n(drawn.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(k) * lanes), lanes,
                      values.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(k) * lanes));
      });
      // Half the mean square of a - b is the variance. Taken from the same draws it makes a source that does nothing 0
      // and one that does everything 1, whatever was drawn.
      const SquareRatio without = square_ratio(b, mixed, a, b), with = square_ratio(a, mixed, a, b);
      const double share = 1 - without.value;
      out.of.push_back({source, share < kRounding ? 0 : share, with.value});
      out.u = std::max({out.u, without.u, with.u});
      sum += out.of.back().share;
    }
  out.together = std::max(0.0, 1 - sum);
  std::stable_sort(out.of.begin(), out.of.end(),
                   [](const Contribution& x, const Contribution& y) { return x.share > y.share; });
  return out;
}

}  // namespace stickwright
