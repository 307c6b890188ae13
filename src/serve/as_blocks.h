// as_blocks.h - a piece that is given as cells, as the list of blocks that a maker would write. Private to this room.
#pragma once
#include <vector>

#include "design/design.h"
#include "quantity/result.h"

namespace stickwright {

// The blocks that the program splits the piece into, the largest first, each glued on one before it where the faces
// allow that, else placed by itself.
//   returns  a list that glues up to the very cells of the piece, as it is drawn
//   errors   no_names (a block is so large that no file can name it)
//   assumes  a mitered design
Result<std::vector<BlockAsked>> blocks_to_glue(const Design& design, std::size_t piece);

}  // namespace stickwright
