// six_sticks_sides.h - a burr drawn as two sides, one of which can slide away from the other.
#pragma once
#include <vector>

#include "support/six_sticks_pieces.h"

namespace stickwright::six_sticks {

// A boundary with all that its two sides can be.
struct TwoSides {
  std::vector<Part> group, others;
};

// Every solid burr of the chosen pieces with a first move is one of `group` with one of `others` of the same entry;
// each side can start to move apart, too. Of burrs that can be turned into one another at least one is there.
std::vector<TwoSides> two_sides(const PieceChoice& choice, int threads);

}  // namespace stickwright::six_sticks
