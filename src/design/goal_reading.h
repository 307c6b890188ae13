// goal_reading.h - reads the [goal] of a design file, or makes one of the pieces. Private to this room.
#pragma once
#include <vector>

#include "design/design.h"
#include "text/toml_reader.h"

namespace stickwright {

// What the goal says goes into the design: the cells, those that may stay empty among them, the number of pieces.
// Nothing is read when there is no goal.
void read_goal(const Table& goal, Design& d);

// Without a goal the pieces stand where they belong, and the goal is what they fill.
//   tables   of the pieces, in order
Cells union_of_pieces(const Design& d, const std::vector<Table>& tables);

}  // namespace stickwright
