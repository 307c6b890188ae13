#include "design/solids.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace stickwright {
namespace {

using Sides = std::array<int, 6>;  // beyond which of the six pairs of face planes a point lies: -1, 0 between, +1

Sides sides_of(Cell c, std::int64_t limit) {
  Sides s{};
  for (std::size_t k = 0; k < 6; ++k) {
    const std::int64_t at = dot(mitered().cut_planes()[k].n, c);
    s[k] = at > limit ? 1 : at < -limit ? -1 : 0;
  }
  return s;
}

// The region of these sides runs to infinity when some ray keeps between every pair of planes that it is between, and
// on the same side of the others. The rays to try are the corners of the arrangement: <100> and <111>.
bool runs_to_infinity(const Sides& s) {
  for (std::int64_t x = -1; x <= 1; ++x)
    for (std::int64_t y = -1; y <= 1; ++y)
      for (std::int64_t z = -1; z <= 1; ++z) {
        const auto axes = (x != 0) + (y != 0) + (z != 0);
        if (axes != 1 && axes != 3) continue;
        bool stays = true;
        for (std::size_t k = 0; k < 6; ++k) {
          const std::int64_t speed = dot(mitered().cut_planes()[k].n, {x, y, z});
          stays &= s[k] == 0 ? speed == 0 : s[k] * speed >= 0;
        }
        if (stays) return true;
      }
  return false;
}

// The core is beyond no plane; each stellation adds the bounded regions that lie beyond one plane more.
Cells stellation(int order, int size) {
  const std::int64_t limit = 8 * size, reach = 20 * size;
  Cells cells;
  for (std::int64_t x = -reach; x <= reach; x += 2)
    for (std::int64_t y = -reach; y <= reach; y += 2)
      for (std::int64_t z = -reach; z <= reach; z += 2) {
        if (!mitered().is_cell({x, y, z})) continue;
        const Sides s = sides_of({x, y, z}, limit);
        const auto beyond = 6 - std::count(s.begin(), s.end(), 0);
        if (beyond <= order && !runs_to_infinity(s)) cells.push_back({x, y, z});
      }
  return cells;
}

}  // namespace

const std::vector<std::string>& solid_names() {
  static const std::vector<std::string> names = {"rhombic dodecahedron", "first stellation of the rhombic dodecahedron",
                                                 "second stellation of the rhombic dodecahedron",
                                                 "third stellation of the rhombic dodecahedron"};
  return names;
}

std::optional<Cells> named_solid(std::string_view name, int size) {
  const auto at = std::find(solid_names().begin(), solid_names().end(), name);
  if (at == solid_names().end()) return {};
  return stellation(static_cast<int>(at - solid_names().begin()), size);
}

}  // namespace stickwright
