#include "exact/polytope.h"

#include <gtest/gtest.h>

#include <set>

namespace stickwright {
namespace {

std::vector<HalfSpace> cube(std::int64_t side) {
  std::vector<HalfSpace> h;
  for (int axis = 0; axis < 3; ++axis) {
    h.push_back({axis_vec(axis, 1), side});
    h.push_back({axis_vec(axis, -1), 0});
  }
  return h;
}

TEST(Turns, ThereAre24RotationsAnd24ReflectionsAndTheyAreClosed) {
  std::set<Turn> all(cube_rotations().begin(), cube_rotations().end());
  ASSERT_EQ(all.size(), 24u);
  EXPECT_EQ(cube_rotations().front(), Turn{});
  for (const Turn& a : cube_rotations())
    for (const Turn& b : cube_rotations()) EXPECT_TRUE(all.contains(a * b));
  std::set<Turn> mirrors(cube_reflections().begin(), cube_reflections().end());
  EXPECT_EQ(mirrors.size(), 24u);
  for (const Turn& a : mirrors) EXPECT_TRUE(all.contains(a * a));
}

TEST(Turns, ProductMeansSecondAfterFirst) {
  for (const Turn& a : cube_rotations())
    for (const Turn& b : cube_reflections()) {
      const Vec v = {3, 5, -7};
      EXPECT_EQ((a * b) * v, a * (b * v));
      EXPECT_EQ(a.inverse() * (a * v), v);
    }
}

TEST(Intersect, CubeHasEightCornersSixFacesAndItsVolume) {
  const auto p = intersect(cube(3));
  ASSERT_TRUE(p);
  EXPECT_EQ(p->corners.size(), 8u);
  EXPECT_EQ(p->faces.size(), 6u);
  EXPECT_EQ(volume_times_6(*p), 6 * 27);
  Vec sum;
  for (const ExactFace& f : p->faces) {
    const Vec area = area_vector_times_2(*p, f);
    EXPECT_EQ(area, 2 * 9 * f.plane.n);  // points outward
    sum = sum + area;
  }
  EXPECT_EQ(sum, Vec{});  // the area vectors of a closed surface cancel
}

TEST(Intersect, RedundantAndDoubledHalfSpacesLeaveNoFace) {
  auto h = cube(2);
  h.push_back({{1, 1, 0}, 4});  // touches an edge only
  h.push_back({{1, 0, 0}, 9});  // misses
  h.push_back({{1, 0, 0}, 2});  // the same face again
  EXPECT_EQ(intersect(h)->faces.size(), 6u);
}

TEST(Intersect, EmptyFlatAndOffLatticeAreRefused) {
  auto empty = cube(2);
  empty.push_back({{1, 0, 0}, -1});
  EXPECT_FALSE(intersect(empty));
  auto flat = cube(2);
  flat.push_back({{1, 0, 0}, 0});
  EXPECT_FALSE(intersect(flat));
  auto off = cube(2);
  off.push_back({{2, 0, 0}, 3});  // corners at x = 3/2
  EXPECT_FALSE(intersect(off));
}

TEST(FloorDiv, RoundsTowardsMinusInfinity) {
  EXPECT_EQ(floor_div(7, 4), 1);
  EXPECT_EQ(floor_div(-7, 4), -2);
  EXPECT_EQ(floor_div(-8, 4), -2);
}

}  // namespace
}  // namespace stickwright
