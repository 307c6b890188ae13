// sweep.h - how far one body can slide before it meets another: exact, by whole numbers.
#pragma once
#include <cstdint>
#include <vector>

#include "family/family.h"

namespace stickwright {

// A distance in multiples of a direction vector: top/bottom, or without end when bottom is 0.
struct Reach {
  std::int64_t top = 1, bottom = 0;
  bool free() const { return bottom == 0; }
  bool at_least(std::int64_t k) const { return free() || top >= k * bottom; }
  std::int64_t whole() const { return top / bottom; }  // not for free ones
  friend bool operator<(const Reach& a, const Reach& b) { return a.top * b.bottom < b.top * a.bottom; }
  friend bool operator==(const Reach& a, const Reach& b) { return a.top * b.bottom == b.top * a.bottom; }
};

// A body prepared for sweeping: the extent of each of its cells along every separator normal of the family.
struct SweepBody {
  std::vector<std::vector<std::int64_t>> high, low;  // [cell][separator]
};
SweepBody sweep_body(const Family& family, const Cells& cells);

// The largest s such that `a`, shifted by `offset` and sliding along s * direction, does not enter `b`.
//   assumes  a shifted by offset does not overlap b
//   exact    the difference of two cells is bounded by the family's separators: docs/derivations/sliding.md
Reach reach(const Family& family, const SweepBody& a, const SweepBody& b, Vec offset, Vec direction);

}  // namespace stickwright
