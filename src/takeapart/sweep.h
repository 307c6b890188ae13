// sweep.h - how far one body can slide before it meets another: exact, by whole numbers.
#pragma once
#include <cstdint>
#include <span>
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

// A body prepared for sweeping: the extent of each of its convex parts along every separator normal of the family. The
// last part is what holds all of them.
struct SweepBody {
  std::size_t parts = 0;                // without the last
  std::vector<std::int64_t> high, low;  // [part * separators + separator]
};
SweepBody sweep_body(const Family& family, const Cells& cells);

// Makes many bodies of one family: cells that a shift takes to one another are looked at once.
class BodyMaker {
 public:
  explicit BodyMaker(const Family& family) : family_(family) {}
  SweepBody operator()(const Cells& cells);

 private:
  struct Extent {
    Cell home;
    std::vector<std::int64_t> low, high;  // along each separator normal
  };
  const Extent& at_home(Cell home);

  const Family& family_;
  std::vector<Extent> known_;
};

// Where a body stands: a shift by shift / unit lattice units.
struct FineShift {
  Vec shift;
  std::int64_t unit = 1;
};

// The largest s such that `a`, shifted by `offset` and sliding along s * direction, does not enter `b`.
//   assumes  a shifted by offset does not overlap b
//   exact    the difference of two convex parts is bounded by the family's separators: docs/derivations/sliding.md
Reach reach(const Family& family, const SweepBody& a, const SweepBody& b, FineShift offset, Vec direction);

// Sweeps along the same directions again and again, with offsets in the same unit.
class Sweeper {
 public:
  Sweeper(const Family& family, std::span<const Vec> directions, std::int64_t unit);

  // The reach along every direction, good until the next call. Otherwise as above.
  const std::vector<Reach>& reaches(const SweepBody& a, const SweepBody& b, Vec shift);

 private:
  struct Speed {
    std::size_t separator;
    std::int64_t speed;  // without its sign, times the unit
  };
  // What the separators' planes do when sliding along a direction.
  struct Course {
    std::vector<std::size_t> across;  // keep their room
    std::vector<Speed> nearing, leaving;
  };

  void take_room(const SweepBody& a, std::size_t a_part, const SweepBody& b, std::size_t b_part);
  Reach meeting(const Course& course, const Reach& least) const;

  std::span<const Vec> normals_;
  std::int64_t unit_;
  std::vector<Course> courses_;
  // Between two convex parts along each separator normal n: how much n.(movement of the first) may grow until they are
  // clear of each other again on the far side, times the unit.
  std::vector<std::int64_t> room_;
  std::vector<std::int64_t> shift_;  // along each normal
  std::vector<Reach> least_;
  std::vector<std::size_t> open_;  // directions in which the two may meet, or sooner than is known
};

}  // namespace stickwright
