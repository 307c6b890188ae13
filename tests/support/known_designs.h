// known_designs.h - designs that several tests use. Cells as given in the project's geometry notes.
#pragma once
#include <algorithm>
#include <cstdlib>
#include <set>

#include "design/design.h"

namespace stickwright::known {

inline Cells sorted(Cells cells) {
  std::sort(cells.begin(), cells.end());
  return cells;
}

// One of six like pieces of the classical six-piece star, lying in the stick 0 < x±y < 2.
inline Cells star_arm() {
  return sorted({{4, -2, 0}, {4, 2, 0}, {4, 0, -2}, {4, 0, 2}, {4, 0, -6}, {4, 0, 6}, {6, 0, -4}, {6, 0, 4}});
}

// The first stellation of the rhombic dodecahedron as the union of three squat octahedra of stick side 2s.
inline Cells star_goal() {
  Cells goal;
  const auto within = [](std::int64_t a, std::int64_t b, std::int64_t c) {
    return std::abs(a) + std::abs(b) < 8 && std::abs(a) + std::abs(c) < 8;
  };
  for (std::int64_t x = -8; x <= 8; ++x)
    for (std::int64_t y = -8; y <= 8; ++y)
      for (std::int64_t z = -8; z <= 8; ++z)
        if (mitered().is_cell({x, y, z}) && (within(x, y, z) || within(y, z, x) || within(z, x, y)))
          goal.push_back({x, y, z});
  return goal;
}

// Every set that has one neighboring cell more than one of these.
inline std::set<Cells> one_cell_larger(const Family& family, const std::set<Cells>& sets) {
  std::set<Cells> out;
  for (const Cells& s : sets)
    for (Cell c : s)
      for (Cell next : family.neighbors(c)) {
        if (std::binary_search(s.begin(), s.end(), next)) continue;
        Cells larger = s;
        larger.push_back(next);
        out.insert(sorted(std::move(larger)));
      }
  return out;
}

inline Design star() {
  return {"six-piece star", &mitered(), star_goal(), {{"arm", 6, 0, star_arm(), {}}}};
}

}  // namespace stickwright::known
