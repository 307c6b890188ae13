#include "design/gluing.h"

#include <algorithm>
#include <set>

#include "block/catalogue.h"

namespace stickwright {
namespace {

// The cells across the face of a block with this normal: one for each cell face in it.
std::vector<Cell> across_face(const Cells& block, Vec normal) {
  std::vector<Cell> out;
  for (const ExactFace& f : body_of(block).faces) {
    if (f.plane.n != normal) continue;
    for (Cell c : block) {
      const auto planes = mitered().planes(c);
      const auto neighbors = mitered().neighbors(c);
      for (std::size_t i = 0; i < planes.size(); ++i)
        if (planes[i] == f.plane) out.push_back(neighbors[i]);
    }
  }
  return out;
}

bool overlap(const Cells& a, const Cells& b) {
  return std::any_of(a.begin(), a.end(), [&](Cell c) { return std::binary_search(b.begin(), b.end(), c); });
}

bool is_full_contact(const Cells& glued, const std::vector<Cell>& base_across, Vec normal) {
  const auto contact = std::count_if(base_across.begin(), base_across.end(),
                                     [&](Cell c) { return std::binary_search(glued.begin(), glued.end(), c); });
  const auto own = across_face(glued, -normal).size();
  return static_cast<std::size_t>(contact) == std::min(own, base_across.size());
}

}  // namespace

std::optional<Vec> face_normal(std::string_view name) {
  if (name.size() != 4) return {};
  Vec n;
  for (std::size_t i : {0u, 2u}) {
    const std::int64_t sign = name[i] == '+' ? 1 : name[i] == '-' ? -1 : 0;
    const int axis = name[i + 1] - 'x';
    if (sign == 0 || axis < 0 || axis > 2 || n[axis] != 0) return {};
    n = n + axis_vec(axis, sign);
  }
  return n;
}

std::vector<Cells> ways_to_glue(const Cells& shape, const Cells& base, Vec normal, const Cells& taken) {
  const std::vector<Cell> across = across_face(base, normal);
  std::set<Cells> ways;
  for (const PosedShape& turned : distinct_turns(mitered(), {shape}))
    for (Cell c : turned.shape.cells)
      for (Cell target : across) {
        const Vec gap = target - c;
        if (gap.x % 4 || gap.y % 4 || gap.z % 4) continue;
        const Vec shift = {gap.x / 4, gap.y / 4, gap.z / 4};
        if (!mitered().is_shift(shift)) continue;
        Cells placed = moved(mitered(), {Turn{}, shift}, turned.shape.cells);
        if (!overlap(placed, taken) && is_full_contact(placed, across, normal)) ways.insert(std::move(placed));
      }
  return {ways.begin(), ways.end()};
}

}  // namespace stickwright
