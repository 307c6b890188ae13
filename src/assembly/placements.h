// placements.h - a design as a cover problem: every way to place every piece in the goal.
#pragma once
#include "assembly/assembly.h"

namespace stickwright {

struct Placements {
  Cells goal;  // in the order in which it is filled; the cover's cells are places in this list
  std::vector<Supply> supplies;
  CoverProblem problem;  // one supply for each of `supplies`
};

// The cover problem whose covers are the assemblies of the design.
Placements placements_of(const Design& design, UpTo up_to);

// The turns and shifts that take a piece to a place among the cells of the goal, at most so many; never mirrored.
std::vector<Isometry> poses_in(const Family& family, const Cells& piece, const Cells& goal,
                               std::size_t most = SIZE_MAX);

// The assembly that a cover of the problem stands for.
Assembly assembly_of(const Placements& placements, const Cover& cover);

}  // namespace stickwright
