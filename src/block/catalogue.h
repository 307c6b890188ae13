// catalogue.h - every block that a stick and miter cuts can make, computed from planes; only the names are a table.
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "exact/polytope.h"
#include "family/family.h"

namespace stickwright {

// right: going along the stick, the miters turn like a right-hand screw from the near end to the far one.
enum class Hand { none, left, right };
const char* to_string(Hand hand);  // "", "left", "right"

// One block shape in its canonical pose.
struct Block {
  std::string shape;  // trade name, or "7-cell block" ("7-cell block, form 2" when there are several)
  Hand hand = Hand::none;
  Cells cells;                  // canonical pose
  Polytope body;                // the same, as a convex polyhedron in lattice units
  std::vector<int> stick_axes;  // axes (0 x, 1 y, 2 z) along which it fits into one stick, ascending

  std::string full_name() const;  // "prism block, left-handed"
};

// All blocks of at most `most_cells` cells, by number of cells, then faces, then cells; a mirror pair stands left
// first.
//   exact    complete: every intersection of a stick with miter planes at both ends is considered
//   source   docs/derivations/catalogue.md
std::vector<Block> block_catalogue(int most_cells);

// The block with exactly these cells in any pose, with the pose that takes its canonical cells to these.
struct PosedBlock {
  const Block* block;
  Isometry pose;
};
std::optional<PosedBlock> find_block(const std::vector<Block>& catalogue, const Cells& cells);

// Calls `take` with every set of cells, all among `cells`, that one block makes. No set twice.
void for_each_block_within(const Cells& cells, const std::function<void(const Cells&)>& take);

// The convex polyhedron that a block's cells fill.  assumes  the cells are one block
Polytope body_of(const Cells& block_cells);

}  // namespace stickwright
