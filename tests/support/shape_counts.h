// shape_counts.h - how many connected cell sets of a family there are, by number of cells.
#pragma once
#include <cstdint>
#include <vector>

#include "family/family.h"

namespace stickwright {

struct ShapeCounts {
  std::int64_t fixed = 0;      // up to shifts
  std::int64_t one_sided = 0;  // up to shifts and rotations
  std::int64_t free = 0;       // up to shifts, rotations and reflections
};

// The counts for 1, 2, ... `most` cells.
//   assumes  the family has all 48 symmetries of the cube, and a shift adds the same to the name of every cell
std::vector<ShapeCounts> count_shapes(const Family& family, int most);

}  // namespace stickwright
