#include "takeapart/whole_numbers.h"

#include <cmath>
#include <numeric>

namespace stickwright {
namespace {

constexpr double kNear = 1e-7;  // the solver's answers are good to about 1e-9
constexpr std::int64_t kMostBottom = 1'000'000;
constexpr std::int64_t kMostCommonBottom = std::int64_t{1} << 40;
constexpr double kMostValue = 1e6;

struct Fraction {
  std::int64_t top, bottom;
};

std::optional<Fraction> simplest_near(double value) {
  if (!(std::abs(value) < kMostValue)) return {};
  std::int64_t top = 1, bottom = 0, old_top = 0, old_bottom = 1;
  for (double rest = value;;) {
    const double whole = std::floor(rest);
    const auto q = static_cast<std::int64_t>(whole);
    old_top += q * top, old_bottom += q * bottom;
    std::swap(top, old_top), std::swap(bottom, old_bottom);
    if (bottom > kMostBottom) return {};
    if (std::abs(value - static_cast<double>(top) / static_cast<double>(bottom)) < kNear) return Fraction{top, bottom};
    rest = 1 / (rest - whole);
    if (!(std::abs(rest) < 1e12)) return {};
  }
}

}  // namespace

std::optional<WholeNumbers> whole_numbers(std::span<const double> values) {
  std::vector<Fraction> fractions;
  WholeNumbers out;
  for (double v : values) {
    const auto f = simplest_near(v);
    if (!f) return {};
    fractions.push_back(*f);
    out.bottom = std::lcm(out.bottom, f->bottom);
    if (out.bottom > kMostCommonBottom) return {};
  }
  for (const Fraction& f : fractions) out.top.push_back(f.top * (out.bottom / f.bottom));
  return out;
}

}  // namespace stickwright
