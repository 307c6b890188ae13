// What the interface promises, asked of every family that stands behind it.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <set>
#include <string>

#include "exact/polytope.h"
#include "support/family_cells.h"
#include "support/more_families.h"

namespace stickwright {
namespace {

std::vector<Vec> sorted(std::vector<Vec> points) {
  std::sort(points.begin(), points.end());
  return points;
}

std::vector<Vec> box(std::int64_t reach) {
  std::vector<Vec> out;
  for (std::int64_t x = -reach; x <= reach; ++x)
    for (std::int64_t y = -reach; y <= reach; ++y)
      for (std::int64_t z = -reach; z <= reach; ++z) out.push_back({x, y, z});
  return out;
}

std::vector<Vec> corners_on(const HalfSpace& plane, const std::vector<Vec>& corners) {
  std::vector<Vec> out;
  for (Vec p : corners)
    if (dot(plane.n, p) == plane.c) out.push_back(p);
  return sorted(std::move(out));
}

class EveryFamily : public testing::TestWithParam<const Family*> {
 protected:
  const Family& family() const { return *GetParam(); }
  std::vector<Vec> moved_corners(const Isometry& by, Cell c) const {
    std::vector<Vec> out;
    for (Vec p : family().corners(c)) out.push_back(by * p);
    return sorted(std::move(out));
  }
};
std::string name_of_case(const testing::TestParamInfo<const Family*>& family) {
  return word_for(*family.param);
}
INSTANTIATE_TEST_SUITE_P(Families, EveryFamily, testing::ValuesIn(all_families()), name_of_case);

TEST_P(EveryFamily, CellsAreBoundedByTheirPlanes) {
  for (Cell c : home_cells(family())) {
    const auto planes = family().planes(c);
    const auto body = intersect(planes);
    ASSERT_TRUE(body);
    EXPECT_EQ(body->corners, sorted(family().corners(c)));
    EXPECT_EQ(body->faces.size(), planes.size());
  }
}

TEST_P(EveryFamily, NeighborsShareAWholeFaceAndLieBehindItsPlane) {
  for (Cell c : home_cells(family())) {
    const auto across = family().neighbors(c);
    const auto planes = family().planes(c);
    ASSERT_EQ(across.size(), planes.size());
    for (std::size_t i = 0; i < across.size(); ++i) {
      ASSERT_TRUE(family().is_cell(across[i]));
      const auto theirs = family().corners(across[i]);
      EXPECT_EQ(corners_on(planes[i], theirs), corners_on(planes[i], family().corners(c)));
      for (Vec p : theirs) EXPECT_GE(dot(planes[i].n, p), planes[i].c);
      const auto back = family().neighbors(across[i]);
      EXPECT_EQ(std::count(back.begin(), back.end(), c), 1);
    }
  }
}

TEST_P(EveryFamily, CellsAreAllThatNeighborsLeadTo) {
  const auto reached = cells_near(family(), home_cells(family()).front(), 14);
  for (Vec v : box(4)) EXPECT_EQ(family().is_cell(v), reached.contains(v)) << v.x << ' ' << v.y << ' ' << v.z;
}

TEST_P(EveryFamily, IsometriesCarryCellsToCells) {
  const std::array<std::span<const Turn>, 2> both = {family().rotations(), family().reflections()};
  for (Cell c : home_cells(family()))
    for (Vec shift : box(2))
      for (const auto& turns : both)
        for (const Turn& t : turns) {
          if (!family().is_shift(shift)) continue;
          const Isometry by{t, shift};
          const Cell there = family().moved(by, c);
          ASSERT_TRUE(family().is_cell(there));
          ASSERT_EQ(moved_corners(by, c), sorted(family().corners(there)));
        }
}

TEST_P(EveryFamily, ShiftsAreExactlyTheTranslationsThatKeepTheCells) {
  const auto homes = home_cells(family());
  std::set<std::vector<Vec>> cells;
  for (Cell c : cells_near(family(), homes.front(), 14)) cells.insert(sorted(family().corners(c)));
  for (Vec v : box(2)) {
    const bool keeps = std::all_of(homes.begin(), homes.end(), [&](Cell c) {
      return cells.contains(moved_corners({Turn{}, v}, c));
    });
    EXPECT_EQ(family().is_shift(v), keeps) << v.x << ' ' << v.y << ' ' << v.z;
  }
}

// The order of cells is then the same everywhere, and canonical poses rest on that.
TEST_P(EveryFamily, AShiftAddsTheSameToTheNameOfEveryCell) {
  const auto homes = home_cells(family());
  for (Vec v : box(2)) {
    if (!family().is_shift(v)) continue;
    const Isometry by{Turn{}, v};
    const Vec added = family().moved(by, homes.front()) - homes.front();
    EXPECT_EQ(added == Vec{}, v == Vec{});
    for (Cell c : homes) EXPECT_EQ(family().moved(by, c) - c, added);
  }
}

TEST_P(EveryFamily, TheShiftHomeLeadsToOneCellOfEachClass) {
  const auto homes = home_cells(family());
  for (Cell c : cells_near(family(), homes.front(), 6)) {
    EXPECT_TRUE(family().is_shift(family().shift_home(c)));
    EXPECT_EQ(std::count(homes.begin(), homes.end(), home_of(family(), c)), 1);
  }
  for (Cell c : homes) EXPECT_EQ(family().shift_home(c), Vec{});
  for (Cell c : homes)
    for (Cell d : homes)
      for (Vec v : box(2)) EXPECT_FALSE(c != d && family().is_shift(v) && family().moved({Turn{}, v}, c) == d);
}

}  // namespace
}  // namespace stickwright
