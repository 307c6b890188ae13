// real_blocks.h - every block of a closed puzzle as the saw of the full model cuts it: no expansion.
#pragma once
#include <span>
#include <vector>

#include "fit/puzzle_errors.h"

namespace stickwright::real {

// A convex body in mm, and the planes of those of its faces that the exact block has, in their order.
struct RealBlock {
  Body body;
  std::vector<Plane> planes;
};

RealBlock moved(const Placement& by, const RealBlock& block);

// The block, still by itself, laid where it should be in the closed puzzle by the frame of the work.
//   values   errors.numbers' values, from place 1
RealBlock sawn(const ClosedPuzzle& puzzle, std::size_t block, const ShopKnown& shop, const PuzzleErrors& errors,
               std::span<const double> values);

// The exact one.
RealBlock exact_block(const ClosedPuzzle& puzzle, std::size_t block);

}  // namespace stickwright::real
