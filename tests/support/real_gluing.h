// real_gluing.h - blocks glued to a piece by real planes: no expansion, each block placed by solving its conditions.
#pragma once
#include <span>
#include <vector>

#include "support/real_blocks.h"

namespace stickwright::real {

// What gluing brings into one piece. mm, rad.
struct RealGlue {
  std::vector<double> line, right, up, turn;  // by joint
  std::vector<std::vector<double>> plate;     // by block and plate
};

// Those of every piece, read off the numbers that are drawn: they stand there in the order of pieces, joints, blocks.
std::vector<RealGlue> drawn_glue(const ClosedPuzzle& puzzle, const PuzzleErrors& errors,
                                 std::span<const double> values);

// Where each block of the piece is put. The first stays. Each further one meets these conditions, as many as leave it
// free, in this order: its joint's real face parallel to the other's, as far from it as the glue is thick; its real
// face and a plate's plane (the real face of the first block that lies on the plate) at one height, less the slip, at
// the middle of the exact face, and equally steep along the line where plate and joint meet; its exact outline, laid
// onto the real face so that the squares of its corners' distances from the real edges are least, on the other block's
// exact outline, laid so on that one's face.
//   blocks   of the piece, each laid where it should be
std::vector<Placement> glued(const ClosedPuzzle& puzzle, const StandingPieceParts& piece,
                             std::span<const RealBlock> blocks, const RealGlue& glue);

// The closed puzzle of real blocks, each piece held by its first block.
std::vector<RealBlock> real_puzzle(const ClosedPuzzle& puzzle, const ShopKnown& shop, const PuzzleErrors& errors,
                                   std::span<const double> values);

// A turn by the vector's length about it.
Placement turn_about(Point center, Point by);

}  // namespace stickwright::real
