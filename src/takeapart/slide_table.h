// slide_table.h - how far each piece can slide past each other one, looked up once for every place of the two.
#pragma once
#include <compare>
#include <cstdint>
#include <deque>
#include <vector>

#include "takeapart/sweep.h"

namespace stickwright {

// Where a piece stands, in stops: multiples of 1 / family.stops_per_unit() of a lattice unit.
struct Stand {
  std::int16_t x = 0, y = 0, z = 0;
  friend constexpr auto operator<=>(const Stand&, const Stand&) = default;
};
constexpr Stand operator-(Stand a, Stand b) {
  return {static_cast<std::int16_t>(a.x - b.x), static_cast<std::int16_t>(a.y - b.y),
          static_cast<std::int16_t>(a.z - b.z)};
}

inline constexpr int kMostEdges = 32;               // edge directions of a family
inline constexpr std::int16_t kFreeStops = 0x7fff;  // slides away for good

// One piece past another, both standing still at first: what a slide along each edge direction meets.
struct Passing {
  std::int16_t stops[kMostEdges];  // whole stops before the two meet; kFreeStops: they never do
  std::uint32_t blocked = 0;       // directions without a single stop, one bit each
  std::uint32_t ends = 0;          // directions that are not free
  std::uint32_t between = 0;       // directions in which they meet between two stops
};

class SlideTable {
 public:
  SlideTable(const Family& family, const std::vector<Cells>& pieces);

  const Family& family() const { return family_; }
  int directions() const { return static_cast<int>(edges_.size()); }
  Vec direction(int d) const { return edges_[d]; }
  int opposite(int d) const { return opposite_[d]; }
  // Directions turned around, bit by bit.
  std::uint32_t opposites(std::uint32_t directions) const;

  struct Plane {
    Vec normal;
    std::int64_t step;  // in stops
  };
  // The planes of the separators that a slide along the direction crosses.
  const std::vector<Plane>& planes_crossed(int direction) const { return planes_[direction]; }

  // Piece i sliding past piece j, which stands `offset` before it; i < j.
  const Passing& passing(int i, int j, Stand offset);

  // Along any direction, from lattice points between stops, too.
  Reach reach_of(int i, int j, FineShift offset, Vec direction) const;

 private:
  // A pair of pieces and their offset, packed.
  using Key = std::uint64_t;
  static Key key_of(int i, int j, Stand offset);
  std::int32_t* slot_of(Key key);
  void grow();
  Passing compute(int i, int j, Stand offset);

  const Family& family_;
  std::span<const Vec> edges_;
  std::vector<int> opposite_;
  std::vector<std::vector<Plane>> planes_;  // [direction]
  std::vector<SweepBody> bodies_;
  Sweeper sweeper_;
  std::vector<std::int32_t> slots_;  // open addressing: index into `keys_`, or -1
  std::vector<Key> keys_;
  std::deque<Passing> passings_;  // by key; a deque, so that references stay good
};

}  // namespace stickwright
