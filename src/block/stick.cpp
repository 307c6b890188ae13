#include "block/stick.h"

#include <algorithm>
#include <array>

namespace stickwright {
namespace {

constexpr int kMostCells = 560;  // of one stick within a piece: a rod of 512 cells, 3 a unit, and its surroundings
using Mask = std::bitset<kMostCells>;

// Turns that bring the x, y or z axis to z by exchanging axes in a ring.
Turn axis_to_z(int axis) {
  Turn t;
  for (int i = 0; i < 3; ++i) t.row[i] = axis_vec((axis + 1 + i) % 3);
  return t;
}

// The four rolls of a miter: the direction in which the plane's normal leans off the axis.
constexpr std::array<Vec, 4> kLean = {{{1, 0, 0}, {0, 1, 0}, {-1, 0, 0}, {0, -1, 0}}};

// The axis position of a miter plane is odd when it leans along x, even along y: the stick's axis runs through x = 1.
constexpr bool may_cross_axis_at(int roll, std::int64_t z) {
  return (z % 2 != 0) == (roll % 2 == 0);
}

// Cells at or before (sign +1: far plane) or after (-1: near plane) the miter of this roll that crosses the axis at z.
Mask kept_by(const Cells& cells, int sign, int roll, std::int64_t z) {
  Mask m;
  const Vec n = {kLean[roll].x, kLean[roll].y, sign};
  const std::int64_t limit = 4 * (n.x * 1 + sign * z);  // 4 n.p for the point (1, 0, z)
  for (std::size_t i = 0; i < cells.size(); ++i) m[i] = dot(n, cells[i]) < limit;
  return m;
}

// All that one end can look like when its tightest miter crosses the axis at `tightest`. A second miter matters only
// when it crosses less than two units further out, hence at `tightest` or one unit beyond.
std::vector<Mask> ends_at(const Cells& cells, int sign, std::int64_t tightest) {
  std::array<Mask, 4> by_roll;
  for (int roll = 0; roll < 4; ++roll)
    by_roll[roll] = kept_by(cells, sign, roll, may_cross_axis_at(roll, tightest) ? tightest : tightest + sign);
  std::vector<Mask> ends;
  for (int used = 1; used < 16; ++used) {
    Mask m;
    m.set();
    bool has_tightest = false;
    for (int roll = 0; roll < 4; ++roll)
      if (used >> roll & 1) {
        m &= by_roll[roll];
        has_tightest |= may_cross_axis_at(roll, tightest);
      }
    if (has_tightest) ends.push_back(m);
  }
  return ends;
}

Cells picked(const Cells& cells, const Mask& mask) {
  Cells out;
  for (std::size_t i = 0; i < cells.size(); ++i)
    if (mask[i]) out.push_back(cells[i]);
  return out;
}

Mask mask_of(const Cells& all, const Cells& some) {
  Mask m;
  for (std::size_t i = 0; i < all.size(); ++i) m[i] = std::binary_search(some.begin(), some.end(), all[i]);
  return m;
}

}  // namespace

StickId stick_through(Cell cell, int axis) {
  const Cell c = axis_to_z(axis) * cell;
  return {axis, floor_div(c.x + c.y, 8), floor_div(c.x - c.y, 8)};
}

Isometry to_standard_stick(const StickId& s) {
  const std::int64_t a = s.i + s.j, b = s.i - s.j;
  return {axis_to_z(s.axis), {-a, -b, ((a % 2) + 2) % 2}};
}

std::vector<int> stick_axes_of(const Cells& cells) {
  std::vector<int> axes;
  for (int axis = 0; axis < 3; ++axis) {
    const StickId first = stick_through(cells.front(), axis);
    if (std::all_of(cells.begin(), cells.end(), [&](Cell c) { return stick_through(c, axis) == first; }))
      axes.push_back(axis);
  }
  return axes;
}

Cells standard_stick_cells(std::int64_t z_low, std::int64_t z_high) {
  Cells cells;
  for (std::int64_t x = 0; x <= 8; ++x)
    for (std::int64_t y = -4; y <= 4; ++y)
      for (std::int64_t z = 4 * z_low; z <= 4 * z_high; ++z) {
        const Cell c = {x, y, z};
        if (!mitered().is_cell(c) || x + y <= 0 || x + y >= 8 || x - y <= 0 || x - y >= 8) continue;
        const auto corners = mitered().corners(c);
        if (std::all_of(corners.begin(), corners.end(), [&](Vec p) { return p.z >= z_low && p.z <= z_high; }))
          cells.push_back(c);
      }
  return cells;
}

namespace {

// Every block of the cells `all` whose tightest near miter crosses the axis at near_from..near_to, its far one before
// far_to, and that `wanted` accepts.
template <class Wanted>
std::set<Cells> blocks_between(const Cells& all, std::int64_t near_from, std::int64_t near_to, std::int64_t far_to,
                               Wanted wanted) {
  std::set<Cells> found;
  for (std::int64_t near = near_from; near <= near_to; ++near) {
    const std::vector<Mask> near_ends = ends_at(all, -1, near);
    for (std::int64_t far = near; far <= far_to; ++far)
      for (const Mask& far_end : ends_at(all, +1, far))
        for (const Mask& near_end : near_ends) {
          const Mask block = near_end & far_end;
          if (block.any() && wanted(block)) found.insert(picked(all, block));
        }
  }
  return found;
}

}  // namespace

std::set<Cells> blocks_of_any_stick(int most_cells) {
  // An end slants over two units, so a block of n cells lies within n/3 + 4 units of stick.
  const std::int64_t far_to = most_cells / 3 + 3;
  const Cells all = standard_stick_cells(-3, far_to + 3);
  if (all.size() > kMostCells) return {};
  return blocks_between(all, 0, 1, far_to,
                        [&](const Mask& m) { return m.count() <= static_cast<std::size_t>(most_cells); });
}

std::set<Cells> blocks_of_standard_stick(const Cells& allowed) {
  if (allowed.empty()) return {};
  const auto [low, high] =
      std::minmax_element(allowed.begin(), allowed.end(), [](Cell a, Cell b) { return a.z < b.z; });
  const std::int64_t z0 = floor_div(low->z, 4) - 2, z1 = floor_div(high->z, 4) + 3;
  const Cells all = standard_stick_cells(z0 - 2, z1 + 2);
  if (all.size() > kMostCells) return {};
  const Mask taken = ~mask_of(all, allowed);
  return blocks_between(all, z0, z1, z1, [&](const Mask& m) { return (m & taken).none(); });
}

}  // namespace stickwright
