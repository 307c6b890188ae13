// random_pieces.h - a goal cut into connected pieces at random, and shapes to cut.
#pragma once
#include <algorithm>
#include <cstdlib>
#include <map>
#include <random>
#include <set>

#include "family/family.h"

namespace stickwright::known {

// A rhombic dodecahedron: 24 cells around the origin for size 2, 192 for size 4.
inline Cells rhombic_dodecahedron(std::int64_t size) {
  Cells out;
  const std::int64_t r = 4 * size;
  for (std::int64_t x = -r; x <= r; ++x)
    for (std::int64_t y = -r; y <= r; ++y)
      for (std::int64_t z = -r; z <= r; ++z)
        if (mitered().is_cell({x, y, z}) && std::abs(x) + std::abs(y) < r && std::abs(y) + std::abs(z) < r &&
            std::abs(z) + std::abs(x) < r)
          out.push_back({x, y, z});
  return out;
}

inline Cells cube_of_cubes(std::int64_t n) {
  Cells out;
  for (std::int64_t x = 0; x < n; ++x)
    for (std::int64_t y = 0; y < n; ++y)
      for (std::int64_t z = 0; z < n; ++z) out.push_back({x, y, z});
  return out;
}

// Pieces grow in turn, a cell at a time, until the goal is full.
inline std::vector<Cells> cut_at_random(const Family& family, Cells goal, int pieces, std::mt19937& rng) {
  std::shuffle(goal.begin(), goal.end(), rng);
  std::set<Cell> left(goal.begin(), goal.end());
  std::vector<Cells> out;
  for (int i = 0; i < pieces; ++i) out.push_back({goal[i]}), left.erase(goal[i]);
  for (bool grew = true; grew;) {
    grew = false;
    for (Cells& piece : out) {
      std::vector<Cell> next;
      for (Cell c : piece)
        for (Cell n : family.neighbors(c))
          if (left.contains(n)) next.push_back(n);
      if (next.empty()) continue;
      piece.push_back(next[rng() % next.size()]);
      left.erase(piece.back());
      grew = true;
    }
  }
  for (Cells& piece : out) std::sort(piece.begin(), piece.end());
  return out;
}

// The piece and its two turns about the diagonal (1,1,1).
inline std::vector<Cells> three_around_a_diagonal(Cells piece) {
  std::vector<Cells> out;
  for (int k = 0; k < 3; ++k) {
    std::sort(piece.begin(), piece.end());
    out.push_back(piece);
    for (Cell& c : piece) c = {c.y, c.z, c.x};
  }
  return out;
}

}  // namespace stickwright::known
