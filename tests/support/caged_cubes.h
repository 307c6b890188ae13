// caged_cubes.h - cubes that slide about inside a cage and can never leave it: how many positions there are is known.
#pragma once
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <vector>

#include "family/family.h"

namespace stickwright::known {

// The cage first, the shell of 5 x 5 x 5 cubes; then so many of the 27 places inside, one cube each.
inline std::vector<Cells> caged_cubes(int cubes) {
  std::vector<Cells> out(1);
  for (std::int64_t x = -2; x <= 2; ++x)
    for (std::int64_t y = -2; y <= 2; ++y)
      for (std::int64_t z = -2; z <= 2; ++z) {
        if (std::max({std::abs(x), std::abs(y), std::abs(z)}) == 2)
          out.front().push_back({x, y, z});
        else if (static_cast<int>(out.size()) <= cubes)
          out.push_back({{x, y, z}});
      }
  return out;
}

// Every cube in any place that no other is in. With a few cubes all can be reached.
inline std::int64_t positions_of_caged_cubes(int cubes) {
  std::int64_t positions = 1;
  for (int k = 0; k < cubes; ++k) positions *= 27 - k;
  return positions;
}

}  // namespace stickwright::known
