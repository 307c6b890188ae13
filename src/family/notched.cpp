#include <algorithm>
#include <array>

#include "family/family.h"

namespace stickwright {
namespace {

constexpr std::array<Vec, 6> kCubeNormals = {{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}}};
constexpr std::array<Family::CutPlanes, 3> kCubePlanes = {{{{1, 0, 0}, 1}, {{0, 1, 0}, 1}, {{0, 0, 1}, 1}}};

// A cube's name as one number: numbers are in the order of the names, and a step along an axis adds the same to all.
using Packed = std::int64_t;
constexpr std::int64_t kBase = std::int64_t{1} << 20;
static_assert(4 * kMaxCoord < kBase);

constexpr Packed packed(Cell c) {
  return (c.x * kBase + c.y) * kBase + c.z;
}

// Cubes that are still to be shared out among boxes.
class Left {
 public:
  explicit Left(const Cells& cells) : cells_(cells) {
    std::sort(cells_.begin(), cells_.end());
    cells_.erase(std::unique(cells_.begin(), cells_.end()), cells_.end());
    for (Cell c : cells_) names_.push_back(packed(c));
    there_.assign(cells_.size(), 1);
  }

  // The least of them, or null.
  const Cell* first() const {
    const auto at = std::find(there_.begin(), there_.end(), 1) - there_.begin();
    return at < std::ssize(cells_) ? &cells_[at] : nullptr;
  }
  bool holds(Cell c) const {
    const std::size_t at = place(c);
    return at < names_.size() && names_[at] == packed(c) && there_[at];
  }
  void take(const Cells& box) {
    for (Cell c : box) there_[place(c)] = 0;
  }

 private:
  std::size_t place(Cell c) const {
    return static_cast<std::size_t>(std::lower_bound(names_.begin(), names_.end(), packed(c)) - names_.begin());
  }

  Cells cells_;
  std::vector<Packed> names_;
  std::vector<char> there_;
};

// Lengthens a box along an axis by whole layers of cubes that are there.
void grow(Cells& box, int axis, const Left& left) {
  const Vec step = axis_vec(axis);
  const auto layer = std::ssize(box);
  while (std::all_of(box.end() - layer, box.end(), [&](Cell c) { return left.holds(c + step); }))
    for (std::ptrdiff_t k = 0; k < layer; ++k) box.push_back(*(box.end() - layer) + step);
}

// Unit cubes, named by their low corners.
class Notched final : public Family {
 public:
  std::string_view name() const override { return "notched"; }
  std::string_view cell_rule() const override { return "the low corner of a unit cube: three whole numbers"; }
  bool is_cell(Cell) const override { return true; }

  std::vector<Vec> corners(Cell c) const override {
    std::vector<Vec> out;
    for (int k = 0; k < 8; ++k) out.push_back(c + Vec{k & 1, k >> 1 & 1, k >> 2});
    return out;
  }
  std::vector<HalfSpace> planes(Cell c) const override {
    std::vector<HalfSpace> out;
    for (Vec n : kCubeNormals) out.push_back({n, std::max(dot(n, c), dot(n, c + Vec{1, 1, 1}))});
    return out;
  }
  std::vector<Cell> neighbors(Cell c) const override {
    std::vector<Cell> out;
    for (Vec n : kCubeNormals) out.push_back(c + n);
    return out;
  }

  std::span<const Turn> rotations() const override { return cube_rotations(); }
  std::span<const Turn> reflections() const override { return cube_reflections(); }
  bool is_shift(Vec) const override { return true; }
  Vec shift_home(Cell c) const override { return -c; }

  // The middle of a cube, doubled so that it is whole, is what a turn carries along.
  Cell moved(const Isometry& by, Cell c) const override {
    const Vec middle = by.turn * (2 * c + Vec{1, 1, 1}) - Vec{1, 1, 1};
    return Vec{middle.x / 2, middle.y / 2, middle.z / 2} + by.shift;
  }

  std::span<const Vec> separators() const override { return kCubeNormals; }
  std::int64_t separator_step(Vec) const override { return 1; }
  std::span<const CutPlanes> cut_planes() const override { return kCubePlanes; }

  std::span<const Vec> slide_directions() const override {
    static const std::vector<Vec> all = all_turns_of({{1, 0, 0}, {1, 1, 0}, {1, 1, 1}});
    return all;
  }
  std::span<const Vec> edge_directions() const override { return kCubeNormals; }
  int stops_per_unit() const override { return 1; }

  // Boxes: each grows from its least cube along x, then y, then z, as far as it stays full.
  std::vector<Cells> convex_parts(const Cells& cells) const override {
    std::vector<Cells> parts;
    Left left(cells);
    while (const Cell* first = left.first()) {
      Cells box = {*first};
      for (int axis : {2, 1, 0}) grow(box, axis, left);
      left.take(box);
      parts.push_back(std::move(box));
    }
    return parts;
  }
};

}  // namespace

const Family& notched() {
  static const Notched family;
  return family;
}

}  // namespace stickwright
