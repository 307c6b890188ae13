#include "takeapart/rays.h"

#include <algorithm>
#include <bitset>
#include <numeric>

#include "takeapart/elimination.h"

namespace stickwright {
namespace {

__extension__ using Wide = __int128;
constexpr Wide kMost = Wide{1} << 62;

using Numbers = std::vector<std::int64_t>;

struct Ray {
  Numbers x;
  std::bitset<kMostRayRows> zero;  // rows that it keeps at zero
};

std::optional<std::int64_t> product(const Numbers& row, const Numbers& x) {
  Wide sum = 0;
  for (std::size_t c = 0; c < row.size(); ++c) sum += Wide{row[c]} * x[c];
  if (sum >= kMost || sum <= -kMost) return {};
  return static_cast<std::int64_t>(sum);
}

std::int64_t common_divisor(const Numbers& x) {
  std::int64_t g = 0;
  for (std::int64_t v : x) g = std::gcd(g, v);
  return g;
}

// a * p + b * q in lowest terms.
std::optional<Numbers> combined(std::int64_t a, const Numbers& p, std::int64_t b, const Numbers& q) {
  const std::int64_t g = std::gcd(a, b);
  Numbers out(p.size());
  for (std::size_t c = 0; c < p.size(); ++c) {
    const Wide v = Wide{a / g} * p[c] + Wide{b / g} * q[c];
    if (v >= kMost || v <= -kMost) return {};
    out[c] = static_cast<std::int64_t>(v);
  }
  const std::int64_t d = common_divisor(out);
  for (std::int64_t& v : out) v /= d;
  return out;
}

class Cone {
 public:
  Cone(const WholeRows& rows, std::size_t columns, std::size_t most) : rows_(rows), columns_(columns), most_(most) {}

  std::optional<WholeRows> rays() {
    if (rows_.size() > kMostRayRows || !start()) return {};
    for (std::size_t r = 0; r < rows_.size(); ++r)
      if (!used_[r] && !cut(r)) return {};
    WholeRows out;
    for (Ray& ray : rays_) out.push_back(std::move(ray.x));
    std::sort(out.begin(), out.end());
    return out;
  }

 private:
  // The cone of the first rows that do not depend on each other: each ray leaves one of them and keeps the others.
  bool start() {
    Elimination e(static_cast<int>(columns_));
    std::vector<std::size_t> first;
    for (std::size_t r = 0; r < rows_.size(); ++r)
      if (e.add(rows_[r])) first.push_back(r), used_[r] = true;
    if (!e.is_full()) return false;
    return std::all_of(first.begin(), first.end(), [&](std::size_t left) { return add_start_ray(first, left); });
  }

  bool add_start_ray(const std::vector<std::size_t>& first, std::size_t left) {
    Elimination others(static_cast<int>(columns_));
    for (std::size_t r : first)
      if (r != left) others.add(rows_[r]);
    auto x = others.null_vector(others.free_columns().front());
    if (!x) return false;
    Ray ray{std::move(*x), {}};
    const std::int64_t sign = product(rows_[left], ray.x).value_or(0) < 0 ? -1 : 1, d = sign * common_divisor(ray.x);
    for (std::int64_t& v : ray.x) v /= d;
    // The null vector was found modulo a prime: its products with the rows are what proves it.
    for (std::size_t r : first) {
      const auto p = product(rows_[r], ray.x);
      if (!p || (r == left ? *p <= 0 : *p != 0)) return false;
      ray.zero[r] = *p == 0;
    }
    rays_.push_back(std::move(ray));
    return true;
  }

  // Takes one more row in: rays before it stay, neighbors across it meet it in new rays.
  bool cut(std::size_t r) {
    std::vector<std::int64_t> side;
    for (const Ray& ray : rays_) {
      const auto p = product(rows_[r], ray.x);
      if (!p) return false;
      side.push_back(*p);
    }
    std::vector<Ray> kept;
    for (std::size_t i = 0; i < rays_.size(); ++i)
      for (std::size_t j = 0; j < rays_.size() && side[i] > 0; ++j) {
        if (side[j] >= 0 || !neighbors(i, j)) continue;
        auto x = combined(side[i], rays_[j].x, -side[j], rays_[i].x);
        if (!x || kept.size() >= most_) return false;
        kept.push_back({std::move(*x), rays_[i].zero & rays_[j].zero});
        kept.back().zero[r] = true;
      }
    for (std::size_t i = 0; i < rays_.size(); ++i) {
      if (side[i] < 0) continue;
      rays_[i].zero[r] = side[i] == 0;
      kept.push_back(std::move(rays_[i]));
    }
    rays_ = std::move(kept);
    used_[r] = true;
    return rays_.size() <= most_;
  }

  // Two rays span a face exactly when no third one keeps all the rows that both keep.
  bool neighbors(std::size_t i, std::size_t j) const {
    const auto both = rays_[i].zero & rays_[j].zero;
    if (both.count() + 2 < columns_) return false;
    for (std::size_t k = 0; k < rays_.size(); ++k)
      if (k != i && k != j && (rays_[k].zero & both) == both) return false;
    return true;
  }

  const WholeRows& rows_;
  std::size_t columns_, most_;
  std::vector<Ray> rays_;
  std::bitset<kMostRayRows> used_;
};

}  // namespace

std::optional<WholeRows> extreme_rays(const WholeRows& rows, std::size_t columns, std::size_t most) {
  return Cone(rows, columns, most).rays();
}

}  // namespace stickwright
