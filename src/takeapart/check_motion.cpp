// The checker of sliding motions. It shares no code with the search: separating axes are made from the cells' corners.
#include <algorithm>
#include <set>

#include "takeapart/cell_axes.h"
#include "takeapart/first_motion.h"

namespace stickwright {
namespace {

// Two boxes around the cells have room between them.
bool far_apart(const Corners& a, const Corners& b) {
  for (int axis = 0; axis < 3; ++axis)
    if (gap(a, b, axis_vec(axis)) > 0 || gap(b, a, axis_vec(axis)) > 0) return true;
  return false;
}

// While bodies only slide, the axes that can part them stay the same: one must part them now and for a while.
bool stay_apart(const Corners& a, const Corners& b, Vec speed_of_a) {
  if (far_apart(a, b)) return true;
  const std::set<Vec> axes = cell_axes(a, b);
  return std::any_of(axes.begin(), axes.end(), [&](Vec n) {
    const std::int64_t g = gap(a, b, n);
    return g > 0 || (g == 0 && dot(n, speed_of_a) <= 0);
  });
}

std::vector<Corners> bodies(const Family& family, const Standing& standing, std::size_t piece) {
  std::vector<Corners> out;
  for (Cell c : standing.pieces[piece]) out.push_back(shifted_corners(family, c, standing.shift(piece)));
  return out;
}

}  // namespace

bool check_motion(const Family& family, const Standing& standing, const Motion& motion) {
  const std::size_t pieces = standing.pieces.size();
  if (motion.slide.size() != pieces || !motion.turn.empty()) return false;
  if (std::set<Vec>(motion.slide.begin(), motion.slide.end()).size() < 2) return false;
  for (std::size_t i = 0; i < pieces; ++i)
    for (std::size_t j = i + 1; j < pieces; ++j)
      for (const Corners& a : bodies(family, standing, i))
        for (const Corners& b : bodies(family, standing, j))
          if (!stay_apart(a, b, motion.slide[i] - motion.slide[j])) return false;
  return true;
}

}  // namespace stickwright
