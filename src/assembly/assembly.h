// assembly.h - every way in which the pieces fill the goal.
#pragma once
#include <cstdint>
#include <vector>

#include "design/design.h"
#include "quantity/result.h"

namespace stickwright {

// Pieces of one shape, whatever their names: they are interchangeable.
struct Supply {
  Shape shape;
  int count = 0;
  std::vector<int> made;  // index into made_pieces(design) of each copy; size `count`
};
std::vector<Supply> supplies_of(const Design& design);

struct PlacedPiece {
  int supply = 0;
  Cells cells;
  friend auto operator<=>(const PlacedPiece&, const PlacedPiece&) = default;
};
// Pieces in the order of their least cells.
using Assembly = std::vector<PlacedPiece>;

struct Assemblies {
  Verdict verdict = Verdict::stopped;
  std::int64_t count = 0;      // up to the rotations of the goal; a lower bound when stopped
  std::vector<Assembly> kept;  // the first of them, one for each class of rotations
  std::int64_t nodes = 0;      // search nodes opened
};

struct AssemblyLimits {
  std::int64_t nodes = 5'000'000;
  std::size_t keep = 1000;
};

// Exact cover of the goal's cells by all supplied pieces, each used exactly once, turned but never mirrored.
//   returns  found or none_exists when the search was exhausted, stopped when limits.nodes was reached
//   exact    an assembly is counted when no rotation of the goal makes it smaller, so each class counts once
//   assumes  the goal has at most kMaxGoalCells cells (checked on load)
Assemblies find_assemblies(const Design& design, const AssemblyLimits& limits = {});

// True when the assembly uses every piece once, none mirrored, and fills the goal. Knows only the rules.
bool check_assembly(const Design& design, const Assembly& assembly);

// Which of made_pieces(design) each placed piece is: result[i] for assembly[i]. Copies are handed out in order.
std::vector<int> made_pieces_in(const Assembly& assembly, const std::vector<Supply>& supplies);

}  // namespace stickwright
