#include "exact/vec.h"

#include <algorithm>

namespace stickwright {
namespace {

std::vector<Turn> turns_with_determinant(int determinant) {
  std::vector<Turn> found;
  std::array<int, 3> order = {0, 1, 2};
  do {
    for (int signs = 0; signs < 8; ++signs) {
      Turn t;
      for (int i = 0; i < 3; ++i) t.row[i] = axis_vec(order[i], (signs >> i & 1) ? -1 : 1);
      if (t.determinant() == determinant) found.push_back(t);
    }
  } while (std::next_permutation(order.begin(), order.end()));
  return found;
}

}  // namespace

const std::vector<Turn>& cube_rotations() {
  static const std::vector<Turn> turns = turns_with_determinant(+1);
  return turns;
}

const std::vector<Turn>& cube_reflections() {
  static const std::vector<Turn> turns = turns_with_determinant(-1);
  return turns;
}

std::vector<Vec> all_turns_of(std::initializer_list<Vec> seeds) {
  std::vector<Vec> all;
  for (Vec seed : seeds)
    for (const auto* turns : {&cube_rotations(), &cube_reflections()})
      for (const Turn& t : *turns)
        if (std::find(all.begin(), all.end(), t * seed) == all.end()) all.push_back(t * seed);
  return all;
}

}  // namespace stickwright
