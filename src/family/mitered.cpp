#include <algorithm>
#include <array>
#include <cstdlib>

#include "family/family.h"

namespace stickwright {
namespace {

constexpr std::int64_t mod(std::int64_t a, std::int64_t m) {
  return ((a % m) + m) % m;
}

// A cell has two edges of length 2, each along an axis, whose midpoints lie one unit apart along the third axis.
// Half its name is the sum of the two midpoints.
struct Bones {
  int low_edge, high_edge, between;  // axes
  Vec low, high;                     // midpoints of the two edges
};

int between_axis(Cell c) {
  for (int i = 0; i < 3; ++i)
    if (mod(c[i], 4) == 2) return i;
  return -1;
}

// The axis in which a midpoint differs in parity from its other two coordinates.
int odd_one_out(Vec m) {
  const bool x = mod(m.x, 2), y = mod(m.y, 2), z = mod(m.z, 2);
  return y == z ? 0 : x == z ? 1 : 2;
}

Bones bones_of(Cell c) {
  const int axis = between_axis(c);
  const Vec low = {(c.x - (axis == 0 ? 2 : 0)) / 4, (c.y - (axis == 1 ? 2 : 0)) / 4, (c.z - (axis == 2 ? 2 : 0)) / 4};
  const Vec high = low + axis_vec(axis);
  return {odd_one_out(low), odd_one_out(high), axis, low, high};
}

constexpr std::array<Vec, 12> kMiterNormals = {{{1, 1, 0},
                                                {-1, -1, 0},
                                                {1, -1, 0},
                                                {-1, 1, 0},
                                                {0, 1, 1},
                                                {0, -1, -1},
                                                {0, 1, -1},
                                                {0, -1, 1},
                                                {1, 0, 1},
                                                {-1, 0, -1},
                                                {-1, 0, 1},
                                                {1, 0, -1}}};

constexpr std::array<Vec, 18> kSeparators = [] {
  std::array<Vec, 18> all{};
  std::copy(kMiterNormals.begin(), kMiterNormals.end(), all.begin());
  for (int axis = 0; axis < 3; ++axis) {
    all[12 + 2 * axis] = axis_vec(axis, 1);
    all[13 + 2 * axis] = axis_vec(axis, -1);
  }
  return all;
}();

constexpr std::array<Family::CutPlanes, 6> kCutPlanes = {
    {{{1, 1, 0}, 2}, {{1, -1, 0}, 2}, {{0, 1, 1}, 2}, {{0, 1, -1}, 2}, {{1, 0, 1}, 2}, {{-1, 0, 1}, 2}}};

class Mitered final : public Family {
 public:
  std::string_view name() const override { return "mitered"; }
  std::string_view cell_rule() const override {
    return "four times the centroid of a tetrahedral cell: one number is 2 more than a multiple of 4, the other two "
           "are "
           "multiples of 4, and exactly one of those two is a multiple of 8";
  }

  bool is_cell(Cell c) const override {
    const int axis = between_axis(c);
    if (axis < 0) return false;
    const std::int64_t a = c[(axis + 1) % 3], b = c[(axis + 2) % 3];
    return mod(a, 4) == 0 && mod(b, 4) == 0 && mod(a + b, 8) == 4;
  }

  std::vector<Vec> corners(Cell c) const override {
    const Bones b = bones_of(c);
    return {b.low - axis_vec(b.low_edge), b.low + axis_vec(b.low_edge), b.high - axis_vec(b.high_edge),
            b.high + axis_vec(b.high_edge)};
  }

  std::vector<HalfSpace> planes(Cell c) const override {
    const Bones b = bones_of(c);
    // A face holds one whole long edge and one end of the other, so it leans away from the edge's far end.
    std::vector<HalfSpace> faces;
    for (int sign : {-1, 1}) {
      const Vec low_side = axis_vec(b.high_edge, sign) - axis_vec(b.between);
      const Vec high_side = axis_vec(b.low_edge, sign) + axis_vec(b.between);
      faces.push_back({low_side, dot(low_side, b.low)});
      faces.push_back({high_side, dot(high_side, b.high)});
    }
    return faces;
  }

  std::vector<Cell> neighbors(Cell c) const override {
    std::vector<Cell> across;
    for (const HalfSpace& f : planes(c)) across.push_back(c + (4 * f.c - dot(f.n, c)) * f.n);  // mirrored: n.n = 2
    return across;
  }

  std::span<const Turn> rotations() const override { return cube_rotations(); }
  std::span<const Turn> reflections() const override { return cube_reflections(); }
  bool is_shift(Vec v) const override { return mod(v.x, 2) == mod(v.y, 2) && mod(v.y, 2) == mod(v.z, 2); }

  Vec shift_home(Cell c) const override {
    const int axis = between_axis(c), a = (axis + 1) % 3, b = (axis + 2) % 3;
    const std::int64_t up = (c[axis] - 2) / 4;
    const bool a_is_home = mod(c[a] / 4 - up, 2) == 1;  // the other of the two then has the parity of `up`
    const Vec home = axis_vec(axis, 2) + axis_vec(a_is_home ? a : b, 4);
    const Vec d = home - c;
    return {d.x / 4, d.y / 4, d.z / 4};
  }

  Cell moved(const Isometry& by, Cell c) const override { return by.turn * c + 4 * by.shift; }

  std::span<const Vec> separators() const override { return kSeparators; }
  std::int64_t separator_step(Vec n) const override { return dot(n, n); }  // x±y = 2k, and x = k
  std::span<const CutPlanes> cut_planes() const override { return kCutPlanes; }

  // 14 rays, 36 arcs and 24 chambers of the planes x±y, y±z, z±x = 0: 74 classes.
  std::span<const Vec> slide_directions() const override {
    static const std::vector<Vec> all = all_turns_of({{1, 1, 1}, {1, 0, 0}, {1, 1, 0}, {2, 1, 1}, {3, 2, 0}});
    return all;
  }
  std::span<const Vec> edge_directions() const override {
    static const std::vector<Vec> all = all_turns_of({{1, 1, 1}, {1, 0, 0}, {1, 1, 0}});
    return all;
  }
  // Two: a body an odd number of units aside meets the planes x+y = 2k half-way between whole steps along (1,1,0).
  int stops_per_unit() const override { return 2; }
  std::vector<Cells> convex_parts(const Cells& cells) const override {
    std::vector<Cells> parts;
    for (Cell c : cells) parts.push_back({c});
    return parts;
  }
};

}  // namespace

const Family& mitered() {
  static const Mitered family;
  return family;
}

}  // namespace stickwright
