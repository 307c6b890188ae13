// goal_reading.h - reads the [goal] of a design file, or makes one of the pieces. Private to this room.
#pragma once
#include <optional>
#include <vector>

#include "design/design.h"
#include "text/toml_reader.h"

namespace stickwright {

// Nothing when there is no goal.
std::optional<Cells> read_goal(const Table& goal, const Family& family);

// Without a goal the pieces stand where they belong, and the goal is what they fill.   tables  of the pieces
Cells union_of_pieces(const Design& d, const std::vector<Table>& tables);

}  // namespace stickwright
