// piece_symmetry.h - turns and mirror images that take the closed puzzle to itself, piece to piece.
#pragma once
#include <vector>

#include "family/family.h"

namespace stickwright {

struct PieceSymmetry {
  Turn turn;
  std::vector<int> piece_to;  // by piece: the one whose place it takes
};

// The identity first; rotations before reflections.
std::vector<PieceSymmetry> piece_symmetries(const Family& family, const std::vector<Cells>& pieces);

}  // namespace stickwright
