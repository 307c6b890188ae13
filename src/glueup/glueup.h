// glueup.h - how each piece is made up of blocks: which, where, glued on which faces, and how the grain runs.
#pragma once
#include <optional>
#include <vector>

#include "block/catalogue.h"
#include "design/design.h"
#include "quantity/result.h"

namespace stickwright {

struct PlacedBlock {
  int shape = 0;       // index into Split::shapes
  Cells cells;         // in the piece
  Isometry pose;       // takes the shape's canonical cells to these
  int grain_axis = 2;  // 0 x, 1 y, 2 z: the stick's axis, in the piece; set by run_grain
};

// Two blocks glued face to face. They are convex, so they meet in one plane, in one polygon.
struct Joint {
  int a = 0, b = 0;    // blocks of the piece, a < b
  HalfSpace plane;     // normal from a to b
  int cell_faces = 0;  // faces of cells in the joint, each of area sqrt 2 square units
  double area_units() const;
};

// All joints of a piece, by the pair of blocks.
//   blocks   the cells of each; no cell in two
std::vector<Joint> joints_of(const std::vector<Cells>& blocks);

struct GlueUp {
  std::vector<PlacedBlock> blocks;  // larger ones first
  std::vector<Joint> joints;
};

struct Split {
  Verdict verdict = Verdict::stopped;  // found: proven best in all three respects
  std::vector<Block> shapes;           // the different shapes in use, as in the catalogue's order
  std::vector<GlueUp> pieces;          // one for each made piece, in the order given
};

struct SplitLimits {
  std::int64_t covers = 20'000;  // ways to split one piece that are compared
  std::int64_t nodes = 20'000'000;
};

// Splits every piece into blocks: fewest blocks, then fewest different shapes (hands counted apart) over all the pieces
// together, then the largest glue area, then the largest smallest block (a sliver is hard to hold and to glue).
// A piece with own blocks keeps them.
//   returns  found when that is proven; stopped when a limit was reached: the fewest blocks found so far
//   errors   none: every single cell is a block, so a split always exists
Split split_pieces(const std::vector<MadePiece>& pieces, const SplitLimits& limits = {});

// True when the blocks are catalogue blocks that fill the piece exactly and the joints are all its glued faces.
bool check_glue_up(const GlueUp& glue_up, const std::vector<Block>& shapes, const Cells& piece);

// When each joint is glued, by joint, from 1: outwards from the first block, all joints of a stage in one clamping.
std::vector<int> glue_stages(const GlueUp& glue_up);

// Sets the grain of every block along its stick's axis.
//   stick_axis  for each shape, the axis of its canonical pose along which it is cut
// A block that its own symmetry lets lie in more ways than one takes the direction that most of the piece's wood
// shares.
void run_grain(Split& split, const std::vector<int>& stick_axis);

}  // namespace stickwright
