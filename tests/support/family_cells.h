// family_cells.h - cells of any family, found through its interface alone.
#pragma once
#include <algorithm>
#include <set>
#include <stdexcept>
#include <vector>

#include "family/family.h"

namespace stickwright {

inline Cell home_of(const Family& family, Cell c) {
  return family.moved({Turn{}, family.shift_home(c)}, c);
}

inline Cell any_cell(const Family& family) {
  for (std::int64_t x = 0; x < 8; ++x)
    for (std::int64_t y = 0; y < 8; ++y)
      for (std::int64_t z = 0; z < 8; ++z)
        if (family.is_cell({x, y, z})) return {x, y, z};
  throw std::logic_error("the family has no cell near the origin");
}

// One cell of every translation class.
inline std::vector<Cell> home_cells(const Family& family) {
  std::vector<Cell> homes = {home_of(family, any_cell(family))};
  for (std::size_t done = 0; done < homes.size(); ++done)
    for (Cell n : family.neighbors(homes[done])) {
      const Cell home = home_of(family, n);
      if (std::find(homes.begin(), homes.end(), home) == homes.end()) homes.push_back(home);
    }
  return homes;
}

// The cells that can be reached in so many steps from neighbor to neighbor.
inline std::set<Cell> cells_near(const Family& family, Cell start, int steps) {
  std::set<Cell> reached = {start}, edge = reached;
  for (int step = 0; step < steps; ++step) {
    std::set<Cell> next;
    for (Cell c : edge)
      for (Cell n : family.neighbors(c))
        if (reached.insert(n).second) next.insert(n);
    edge = std::move(next);
  }
  return reached;
}

}  // namespace stickwright
