#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "family/family.h"

namespace stickwright {
namespace {

Cells cells_in_box(std::int64_t reach) {
  Cells out;
  for (std::int64_t x = -reach; x <= reach; ++x)
    for (std::int64_t y = -reach; y <= reach; ++y)
      for (std::int64_t z = -reach; z <= reach; ++z)
        if (mitered().is_cell({x, y, z})) out.push_back({x, y, z});
  return out;
}

// geometry.md's worked cell: corners (2,0,0), (0,0,0), (1,1,1), (1,1,-1) is named (4, 2, 0).
TEST(Mitered, TheWorkedCellHasItsFourCorners) {
  auto corners = mitered().corners({4, 2, 0});
  std::sort(corners.begin(), corners.end());
  EXPECT_EQ(corners, (std::vector<Vec>{{0, 0, 0}, {1, 1, -1}, {1, 1, 1}, {2, 0, 0}}));
}

TEST(Mitered, EveryCellIsATetrahedronOfVolumeTwoThirdsNamedByFourTimesItsCentroid) {
  for (Cell c : cells_in_box(8)) {
    const auto p = mitered().corners(c);
    EXPECT_EQ(p[0] + p[1] + p[2] + p[3], c);
    EXPECT_EQ(std::abs(dot(p[1] - p[0], cross(p[2] - p[0], p[3] - p[0]))), 4);  // six times 2/3
    std::multiset<std::int64_t> squared_edges;
    for (int i = 0; i < 4; ++i)
      for (int j = i + 1; j < 4; ++j) squared_edges.insert(dot(p[i] - p[j], p[i] - p[j]));
    EXPECT_EQ(squared_edges, (std::multiset<std::int64_t>{3, 3, 3, 3, 4, 4}));
    for (Vec v : p) EXPECT_TRUE(mitered().is_shift(v));  // corners are points of the body-centered lattice
  }
}

TEST(Mitered, ThereAreSixCellsInALatticeCellAnd24AtEveryCorner) {
  std::set<Cell> homes;
  int at_origin = 0;
  for (Cell c : cells_in_box(8)) {
    const Vec home = mitered().shift_home(c);
    EXPECT_TRUE(mitered().is_shift(home));
    homes.insert(mitered().moved({Turn{}, home}, c));
    const auto p = mitered().corners(c);
    at_origin += std::find(p.begin(), p.end(), Vec{}) != p.end();
  }
  EXPECT_EQ(homes.size(), 6u);
  EXPECT_EQ(at_origin, 24);
}

// The separators must hold every facet of the difference of two cells. Checked against the definition: a plane through
// three of the sixteen corner differences with all others on one side is a facet.
TEST(Mitered, SeparatorsAreAllFacetNormalsOfDifferencesOfCells) {
  std::set<Vec> named(mitered().separators().begin(), mitered().separators().end());
  std::set<Vec> seen;
  const Cells all = cells_in_box(4);
  for (Cell a : all)
    for (Cell b : all) {
      std::vector<Vec> d;
      for (Vec p : mitered().corners(a))
        for (Vec q : mitered().corners(b)) d.push_back(q - p);
      for (Vec p : d)
        for (Vec q : d)
          for (Vec r : d) {
            Vec n = cross(q - p, r - p);
            if (n == Vec{}) continue;
            if (!std::all_of(d.begin(), d.end(), [&](Vec s) { return dot(n, s) <= dot(n, p); })) continue;
            const std::int64_t g = std::gcd(std::gcd(n.x, n.y), n.z);
            seen.insert({n.x / g, n.y / g, n.z / g});
          }
    }
  EXPECT_EQ(seen, named);
}

TEST(Shapes, CanonicalPoseIsTheSameForAllTurnsAndShifts) {
  const Cells piece = {{4, -2, 0}, {4, 0, -2}, {4, 0, 2}, {4, 2, 0}, {4, 0, 6}};
  Cells sorted = piece;
  std::sort(sorted.begin(), sorted.end());
  const PosedShape base = shape_of(mitered(), sorted);
  EXPECT_EQ(moved(mitered(), base.pose, base.shape.cells), sorted);
  for (const Turn& t : cube_rotations()) {
    const PosedShape other = shape_of(mitered(), moved(mitered(), {t, {3, -1, 5}}, sorted));
    EXPECT_EQ(other.shape, base.shape);
  }
}

TEST(Shapes, ConnectedTellsApartOneLumpFromTwo) {
  EXPECT_TRUE(connected(mitered(), {{4, 0, 2}, {4, 2, 0}}));
  EXPECT_FALSE(connected(mitered(), {{4, 0, -2}, {4, 0, 2}}));  // opposite around a long edge: they share no face
}

}  // namespace
}  // namespace stickwright
