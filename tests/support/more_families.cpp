#include "support/more_families.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <stdexcept>

namespace stickwright {
namespace {

constexpr std::array<int, 2> kSigns = {-1, 1};

bool even(std::int64_t a) {
  return a % 2 == 0;
}
bool all_even(Vec v) {
  return even(v.x) && even(v.y) && even(v.z);
}

// The twelve (±1, ±1, 0), (0, ±1, ±1), (±1, 0, ±1).
const std::vector<Vec>& face_normals() {
  static const std::vector<Vec> all = all_turns_of({{1, 1, 0}});
  return all;
}

// What all of these families share: the symmetries of the cube, and no answer to questions about sliding and drawing.
class Honeycomb : public Family {
 public:
  std::span<const Turn> rotations() const override { return cube_rotations(); }
  std::span<const Turn> reflections() const override { return cube_reflections(); }
  std::span<const Vec> separators() const override { return refuse<Vec>(); }
  std::span<const Vec> edge_directions() const override { return refuse<Vec>(); }
  std::int64_t separator_step(Vec) const override { return 1; }
  int stops_per_unit() const override { return 1; }
  std::vector<Cells> convex_parts(const Cells& cells) const override { return {cells}; }
  std::span<const Vec> slide_directions() const override { return refuse<Vec>(); }
  std::span<const CutPlanes> cut_planes() const override { return refuse<CutPlanes>(); }

 private:
  template <typename T>
  std::span<const T> refuse() const {
    throw std::logic_error("this family is for cell sets only");
  }
};

class RhombicDodecahedra final : public Honeycomb {
 public:
  std::string_view name() const override { return "rhombic dodecahedra"; }
  std::string_view cell_rule() const override {
    return "the center of a rhombic dodecahedron: three even numbers whose sum is a multiple of 4";
  }
  bool is_cell(Cell c) const override { return all_even(c) && (c.x + c.y + c.z) % 4 == 0; }

  std::vector<Vec> corners(Cell c) const override {
    std::vector<Vec> out;
    for (Vec offset : all_turns_of({{2, 0, 0}, {1, 1, 1}})) out.push_back(c + offset);
    return out;
  }
  std::vector<HalfSpace> planes(Cell c) const override {
    std::vector<HalfSpace> out;
    for (Vec n : face_normals()) out.push_back({n, dot(n, c) + 2});
    return out;
  }
  std::vector<Cell> neighbors(Cell c) const override {
    std::vector<Cell> out;
    for (Vec n : face_normals()) out.push_back(c + 2 * n);
    return out;
  }

  bool is_shift(Vec v) const override { return is_cell(v); }
  Vec shift_home(Cell c) const override { return -c; }
  Cell moved(const Isometry& by, Cell c) const override { return by * c; }
};

// The residue of a modulo 4 that is nearest to 0; 2 stands for itself.
std::int64_t nearest_residue(std::int64_t a) {
  const std::int64_t r = a - 4 * floor_div(a, 4);
  return r == 3 ? -1 : r;
}

class RhombicPyramids final : public Honeycomb {
 public:
  std::string_view name() const override { return "rhombic pyramids"; }
  std::string_view cell_rule() const override {
    return "twice the middle of a rhombic pyramid's axis: two numbers are odd, one is a multiple of 4, and without "
           "their nearest residues modulo 4 the three add up to a multiple of 8";
  }
  bool is_cell(Cell c) const override {
    const Vec n = base_normal(c);
    return dot(n, n) == 2 && std::count(face_normals().begin(), face_normals().end(), n) == 1 &&
           rhombic_dodecahedra().is_cell(apex(c));
  }

  std::vector<Vec> corners(Cell c) const override {
    const Vec top = apex(c), n = base_normal(c), a = first_part(n), b = n - a, d = cross(a, b);
    return {top, top + 2 * a, top + 2 * b, top + n + d, top + n - d};
  }
  // The base, then the four sides, which meet at the apex.
  std::vector<HalfSpace> planes(Cell c) const override {
    const Vec top = apex(c), n = base_normal(c);
    std::vector<HalfSpace> out = {{n, dot(n, top) + 2}};
    for (Vec m : side_normals(n)) out.push_back({m, dot(m, top)});
    return out;
  }
  std::vector<Cell> neighbors(Cell c) const override {
    const Vec n = base_normal(c);
    std::vector<Cell> out = {c + 2 * n};
    for (Vec m : side_normals(n)) out.push_back(c + m);
    return out;
  }

  bool is_shift(Vec v) const override { return rhombic_dodecahedra().is_shift(v); }
  Vec shift_home(Cell c) const override { return -apex(c); }
  Cell moved(const Isometry& by, Cell c) const override { return by.turn * c + 2 * by.shift; }

 private:
  static Vec base_normal(Cell c) { return {nearest_residue(c.x), nearest_residue(c.y), nearest_residue(c.z)}; }
  // The center of the rhombic dodecahedron: c is twice it, and the normal.
  static Vec apex(Cell c) {
    const Vec twice = c - base_normal(c);
    return {twice.x / 2, twice.y / 2, twice.z / 2};
  }
  // One of the two signed axes that a normal is the sum of.
  static Vec first_part(Vec n) { return n.x != 0 ? Vec{n.x, 0, 0} : Vec{0, n.y, 0}; }

  static std::array<Vec, 4> side_normals(Vec n) {
    const Vec a = first_part(n), b = n - a, d = cross(a, b);
    return {d - a, d - b, -d - a, -d - b};
  }
};

class SquareBipyramids final : public Honeycomb {
 public:
  std::string_view name() const override { return "square bipyramids"; }
  std::string_view cell_rule() const override {
    return "the center of a square bipyramid: one number is odd, the other two are even";
  }
  bool is_cell(Cell c) const override { return !even(c.x) + !even(c.y) + !even(c.z) == 1; }

  std::vector<Vec> corners(Cell c) const override {
    const Axes at = axes_of(c);
    std::vector<Vec> out = {c - at.along, c + at.along};
    for (int s : kSigns)
      for (int t : kSigns) out.push_back(c + s * at.across[0] + t * at.across[1]);
    return out;
  }
  std::vector<HalfSpace> planes(Cell c) const override {
    std::vector<HalfSpace> out;
    for (Vec n : normals(c)) out.push_back({n, dot(n, c) + 1});
    return out;
  }
  std::vector<Cell> neighbors(Cell c) const override {
    std::vector<Cell> out;
    for (Vec n : normals(c)) out.push_back(c + n);
    return out;
  }

  bool is_shift(Vec v) const override { return all_even(v); }
  Vec shift_home(Cell c) const override { return axes_of(c).along - c; }
  Cell moved(const Isometry& by, Cell c) const override { return by * c; }

 private:
  struct Axes {
    Vec along;                  // from apex to apex
    std::array<Vec, 2> across;  // in the plane of the square
  };
  static Axes axes_of(Cell c) {
    const int axis = !even(c.x) ? 0 : !even(c.y) ? 1 : 2;
    return {axis_vec(axis), {axis_vec((axis + 1) % 3), axis_vec((axis + 2) % 3)}};
  }
  static std::vector<Vec> normals(Cell c) {
    const Axes at = axes_of(c);
    std::vector<Vec> out;
    for (int s : kSigns)
      for (int t : kSigns)
        for (Vec across : at.across) out.push_back(s * at.along + t * across);
    return out;
  }
};

}  // namespace

const Family& rhombic_dodecahedra() {
  static const RhombicDodecahedra family;
  return family;
}

const Family& rhombic_pyramids() {
  static const RhombicPyramids family;
  return family;
}

const Family& square_bipyramids() {
  static const SquareBipyramids family;
  return family;
}

std::vector<const Family*> all_families() {
  return {&mitered(), &notched(), &rhombic_dodecahedra(), &rhombic_pyramids(), &square_bipyramids()};
}

std::string word_for(const Family& family) {
  std::string word;
  for (char letter : family.name()) word += std::isalnum(static_cast<unsigned char>(letter)) ? letter : '_';
  return word;
}

}  // namespace stickwright
