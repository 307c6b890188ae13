#include "takeapart/sweep.h"

#include <algorithm>

namespace stickwright {
namespace {

// The open interval of s in which cell a (extents), moved by offset + s * direction, overlaps cell b. Empty: no entry.
struct Interval {
  Reach from{-1, 0}, to{1, 0};  // minus and plus infinity
  bool empty = false;
};

Interval overlap(std::span<const Vec> normals, const std::vector<std::int64_t>& a_low,
                 const std::vector<std::int64_t>& b_high, Vec offset, Vec direction) {
  Interval in;
  for (std::size_t k = 0; k < normals.size() && !in.empty; ++k) {
    const std::int64_t room = b_high[k] - a_low[k] - dot(normals[k], offset), speed = dot(normals[k], direction);
    if (speed == 0) in.empty = room <= 0;
    if (speed > 0) in.to = std::min(in.to, Reach{room, speed});
    if (speed < 0) in.from = std::max(in.from, Reach{-room, -speed});
  }
  return in;
}

}  // namespace

SweepBody sweep_body(const Family& family, const Cells& cells) {
  SweepBody body;
  for (Cell c : cells) {
    std::vector<std::int64_t> high, low;
    const auto corners = family.corners(c);
    for (Vec n : family.separators()) {
      const auto [least, most] =
          std::minmax_element(corners.begin(), corners.end(), [&](Vec p, Vec q) { return dot(n, p) < dot(n, q); });
      high.push_back(dot(n, *most));
      low.push_back(dot(n, *least));
    }
    body.high.push_back(std::move(high));
    body.low.push_back(std::move(low));
  }
  return body;
}

Reach reach(const Family& family, const SweepBody& a, const SweepBody& b, Vec offset, Vec direction) {
  const Reach here{0, 1};
  Reach least;
  for (const auto& a_low : a.low)
    for (const auto& b_high : b.high) {
      const Interval in = overlap(family.separators(), a_low, b_high, offset, direction);
      if (!in.empty && in.from < in.to && here < in.to) least = std::min(least, std::max(in.from, here));
    }
  return least;
}

}  // namespace stickwright
