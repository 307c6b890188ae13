// vec.h - points and directions of the lattice: whole numbers only.
#pragma once
#include <array>
#include <compare>
#include <cstdint>
#include <initializer_list>
#include <numeric>
#include <vector>

namespace stickwright {

// Coordinates stay below this in every design (checked on load), so that products of three differences fit 64 bits.
inline constexpr std::int64_t kMaxCoord = std::int64_t{1} << 16;
static_assert(6 * (2 * kMaxCoord) * (2 * kMaxCoord) * (2 * kMaxCoord) > 0, "a 3x3 determinant of differences fits");

struct Vec {
  std::int64_t x = 0, y = 0, z = 0;
  friend constexpr auto operator<=>(const Vec&, const Vec&) = default;
  friend constexpr Vec operator+(Vec a, Vec b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
  friend constexpr Vec operator-(Vec a, Vec b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
  friend constexpr Vec operator-(Vec a) { return {-a.x, -a.y, -a.z}; }
  friend constexpr Vec operator*(std::int64_t k, Vec a) { return {k * a.x, k * a.y, k * a.z}; }
  constexpr std::int64_t operator[](int axis) const { return axis == 0 ? x : axis == 1 ? y : z; }
};

constexpr std::int64_t dot(Vec a, Vec b) {
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
constexpr Vec cross(Vec a, Vec b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
constexpr Vec axis_vec(int axis, std::int64_t length = 1) {
  return {axis == 0 ? length : 0, axis == 1 ? length : 0, axis == 2 ? length : 0};
}
// Quotient rounded towards minus infinity; b > 0.
constexpr std::int64_t floor_div(std::int64_t a, std::int64_t b) {
  return a / b - ((a % b != 0) && (a < 0) ? 1 : 0);
}

// The half-space n.x <= c.
struct HalfSpace {
  Vec n;
  std::int64_t c = 0;
  friend constexpr auto operator<=>(const HalfSpace&, const HalfSpace&) = default;
};

// A turn about the origin that maps the three axes to axes: a signed permutation of the coordinates.
struct Turn {
  std::array<Vec, 3> row = {Vec{1, 0, 0}, Vec{0, 1, 0}, Vec{0, 0, 1}};
  friend constexpr auto operator<=>(const Turn&, const Turn&) = default;
  constexpr Vec operator*(Vec v) const { return {dot(row[0], v), dot(row[1], v), dot(row[2], v)}; }
  constexpr Turn inverse() const {
    return {{Vec{row[0].x, row[1].x, row[2].x}, Vec{row[0].y, row[1].y, row[2].y}, Vec{row[0].z, row[1].z, row[2].z}}};
  }
  constexpr std::int64_t determinant() const { return dot(row[0], cross(row[1], row[2])); }
};
// (a * b) v == a * (b * v)
constexpr Turn operator*(const Turn& a, const Turn& b) {
  const Turn bt = b.inverse();
  return {{Vec{dot(a.row[0], bt.row[0]), dot(a.row[0], bt.row[1]), dot(a.row[0], bt.row[2])},
           Vec{dot(a.row[1], bt.row[0]), dot(a.row[1], bt.row[1]), dot(a.row[1], bt.row[2])},
           Vec{dot(a.row[2], bt.row[0]), dot(a.row[2], bt.row[1]), dot(a.row[2], bt.row[2])}}};
}

const std::vector<Turn>& cube_rotations();    // the 24 with determinant +1; the identity first
const std::vector<Turn>& cube_reflections();  // the 24 with determinant -1

// Every distinct image of the seeds under the 48 turns, seed by seed.
std::vector<Vec> all_turns_of(std::initializer_list<Vec> seeds);

// A turn, then a shift.
struct Isometry {
  Turn turn;
  Vec shift;
  friend constexpr auto operator<=>(const Isometry&, const Isometry&) = default;
  constexpr Vec operator*(Vec v) const { return turn * v + shift; }
  constexpr Isometry inverse() const { return {turn.inverse(), -(turn.inverse() * shift)}; }
};
// (a * b) v == a * (b * v)
constexpr Isometry operator*(const Isometry& a, const Isometry& b) {
  return {a.turn * b.turn, a * b.shift};
}

}  // namespace stickwright
