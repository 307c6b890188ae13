// hard_designs.h - designs whose way apart, or why there is none, can be told by hand.
#pragma once
#include <algorithm>
#include <vector>

#include "support/known_designs.h"
#include "support/polycubes.h"
#include "support/random_pieces.h"

namespace stickwright::known {

// A cube in a block, at the start of a tunnel of one cube's width.
inline std::vector<Cells> cube_in_a_tunnel(Cells block, const Cells& tunnel) {
  std::erase_if(block, [&](Cell c) { return std::find(tunnel.begin(), tunnel.end(), c) != tunnel.end(); });
  return {std::move(block), {tunnel.front()}};
}

// A rhombic dodecahedron cut into three like pieces that only come apart all at once, found by trying at random.
inline std::vector<Cells> opening_together() {
  return three_around_a_diagonal(
      {{-4, 0, -2}, {-2, 0, -4}, {0, 2, -4}, {2, 0, -4}, {2, 0, 4}, {4, -2, 0}, {4, 0, -2}, {4, 0, 2}});
}

// The mitered cells in a box for which `in` holds.
template <class In>
Cells mitered_cells_where(const In& in) {
  Cells out;
  for (std::int64_t x = -48; x <= 48; ++x)
    for (std::int64_t y = -48; y <= 48; ++y)
      for (std::int64_t z = -16; z <= 32; ++z)
        if (mitered().is_cell({x, y, z}) && in(x, y, z)) out.push_back({x, y, z});
  return out;
}

// Two bars, along x and y, meet in a miter at a corner; above it the ends beyond the corner meet the other way round. A
// sleeve around each bar lets it slide along itself only. So one bar pushes the other around the corner, to and fro:
// the three parts move at once, and all that touch keep touching.   returns  sleeves, bar along x, bar along y
inline std::vector<Cells> bars_around_a_corner() {
  const auto within = [](std::int64_t low, std::int64_t v, std::int64_t high) { return low < v && v < high; };
  // A square stick along one axis: `across` is the other axis that has a name here; 8 wide, or 24 with the sleeve.
  const auto stick = [=](std::int64_t across, std::int64_t z, std::int64_t sleeve) {
    return within(-sleeve, across + z, 8 + sleeve) && within(-sleeve, across - z, 8 + sleeve);
  };
  const auto ring = [=](std::int64_t across, std::int64_t z) { return stick(across, z, 8) && !stick(across, z, 0); };
  return {mitered_cells_where([=](auto x, auto y, auto z) {
            return (ring(y, z) && within(-40, x + y, -24)) || (ring(x, z) && within(32, x + y, 48));
          }),
          mitered_cells_where([=](auto x, auto y, auto z) {
            return (stick(y, z, 0) && within(-40, x + y, 8)) || (stick(y, z - 16, 0) && within(8, x + y, 24));
          }),
          mitered_cells_where([=](auto x, auto y, auto z) {
            return (stick(x, z, 0) && within(8, x + y, 48)) || (stick(x, z - 16, 0) && within(-8, x + y, 8));
          })};
}

}  // namespace stickwright::known
