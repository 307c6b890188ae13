// six_sticks.h - the census of solid six-stick burrs: how many ways there are to share out the cubes of the closed burr
// among its six sticks so that it comes apart.
#pragma once
#include <functional>
#include <vector>

#include "support/six_sticks_pieces.h"

namespace stickwright::six_sticks {

// Whether these sticks come apart, which stand as in the closed burr. It is asked from several threads at once.
using ApartTest = std::function<bool(const std::vector<Cells>& sticks)>;

// The solid burrs of allowed pieces that come apart, one of each twelve turned ones; mirror images count apart.
std::vector<Burr> burrs_that_come_apart(const PieceTest& allowed, const ApartTest& comes_apart, int threads);

struct Census {
  std::size_t pieces = 0, burrs = 0, pieces_in_burrs = 0, sets_of_pieces = 0;
};
Census census(const PieceTest& allowed, const ApartTest& comes_apart, int threads);

}  // namespace stickwright::six_sticks
