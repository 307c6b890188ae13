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
  double value() const { return static_cast<double>(top) / static_cast<double>(bottom); }  // not for free ones
  friend bool operator<(const Reach& a, const Reach& b) { return a.top * b.bottom < b.top * a.bottom; }
  friend bool operator==(const Reach& a, const Reach& b) { return a.top * b.bottom == b.top * a.bottom; }
};

// A body prepared for sweeping: the extent of each of its convex parts along every separator normal of the family.
struct SweepBody {
  std::vector<std::vector<std::int64_t>> high, low;  // [part][separator]
};
SweepBody sweep_body(const Family& family, const Cells& cells);

// Where a body stands: a shift by shift / unit lattice units.
struct FineShift {
  Vec shift;
  std::int64_t unit = 1;
};

// The largest s such that `a`, shifted by `offset` and sliding along s * direction, does not enter `b`.
//   assumes  a shifted by offset does not overlap b
//   exact    the difference of two convex parts is bounded by the family's separators: docs/derivations/sliding.md
Reach reach(const Family& family, const SweepBody& a, const SweepBody& b, FineShift offset, Vec direction);

// The same for every edge direction of the family at once.
std::vector<Reach> reaches(const Family& family, const SweepBody& a, const SweepBody& b, FineShift offset);

}  // namespace stickwright
