// gap_rows.h - where the pieces of a closed puzzle touch, as rows of a linear program.
#pragma once
#include <vector>

#include "saw/body.h"

namespace stickwright {

// One corner of one contact area. When body i stands off its place by a small slide t_i and turn w_i, the gap here is
//   gap = h + normal . [(t_to + w_to x (at - o_to)) - (t_from + w_from x (at - o_from))]
// with h the gap that the errors of the pieces leave when all stand in their places.
struct GapRow {
  int from = 0, to = 0;  // bodies, from != to
  Point normal;          // of length 1, pointing from `from` to `to`
  Point at;              // mm
};

struct GapRows {
  int bodies = 0;             // body 0 is held
  std::vector<Point> center;  // [bodies] mm: the point o_i that body i turns about
  std::vector<GapRow> rows;
};

}  // namespace stickwright
