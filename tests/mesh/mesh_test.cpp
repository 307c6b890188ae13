// Meshes are watertight, hold the volume of their cells, and have the corners and edges that textbooks count.
#include "mesh/mesh.h"

#include <gtest/gtest.h>

#include <map>
#include <numeric>
#include <random>
#include <set>

#include "block/catalogue.h"
#include "design/solids.h"
#include "mesh/shared_faces.h"

namespace stickwright {
namespace {

// Every directed edge as often as its reverse; at most `most` times.
void expect_watertight(const Mesh& m, int most) {
  std::map<std::pair<int, int>, int> sides;
  for (const auto& t : m.triangles)
    for (std::size_t i = 0; i < 3; ++i) ++sides[{t[i], t[(i + 1) % 3]}];
  for (const auto& [side, times] : sides) {
    EXPECT_LE(times, most);
    const auto back = sides.find({side.second, side.first});
    ASSERT_NE(back, sides.end());
    EXPECT_EQ(back->second, times);
  }
  EXPECT_EQ(std::set(m.corners.begin(), m.corners.end()).size(), m.corners.size()) << "welded";
}

// Volume of cells without their mesh: a tetrahedron by its corners; a cube is 1.
std::int64_t volume_of_cells_times_6(const Family& family, const Cells& cells) {
  if (&family == &notched()) return 6 * std::ssize(cells);
  std::int64_t sum = 0;
  for (Cell c : cells) {
    const auto p = family.corners(c);
    sum += std::abs(dot(p[1] - p[0], cross(p[2] - p[0], p[3] - p[0])));
  }
  return sum;
}

// Corners that lie on some drawn edge's end.
std::size_t sharp_corners(const Mesh& m) {
  std::set<int> ends;
  for (const auto& e : m.edges) ends.insert(e.begin(), e.end());
  return ends.size();
}

// Flat faces: triangles joined across sides that lie on no drawn edge.
std::size_t flat_faces(const Mesh& m) {
  const auto on_edge = [&](int a, int b) {
    for (const auto& e : m.edges) {
      const Vec p = m.corners[e[0]], q = m.corners[e[1]];
      const auto inside = [&](Vec v) { return cross(v - p, q - p) == Vec{} && dot(v - p, v - q) <= 0; };
      if (inside(m.corners[a]) && inside(m.corners[b])) return true;
    }
    return false;
  };
  std::vector<std::size_t> root(m.triangles.size());
  std::iota(root.begin(), root.end(), 0u);
  const auto find = [&](std::size_t i) {
    while (root[i] != i) i = root[i];
    return i;
  };
  std::map<std::pair<int, int>, std::size_t> owner;
  for (std::size_t t = 0; t < m.triangles.size(); ++t)
    for (std::size_t i = 0; i < 3; ++i) {
      const auto side = std::minmax(m.triangles[t][i], m.triangles[t][(i + 1) % 3]);
      if (on_edge(side.first, side.second)) continue;
      const auto [at, added] = owner.try_emplace({side.first, side.second}, t);
      if (!added) root[find(t)] = find(at->second);
    }
  std::set<std::size_t> roots;
  for (std::size_t t = 0; t < root.size(); ++t) roots.insert(find(t));
  return roots.size();
}

void expect_counts(const Mesh& m, std::size_t corners, std::size_t edges, std::size_t faces) {
  EXPECT_EQ(sharp_corners(m), corners);
  EXPECT_EQ(m.edges.size(), edges);
  EXPECT_EQ(flat_faces(m), faces);
}

// Coxeter, Regular Polytopes, section 2.7: the rhombic dodecahedron has 14 vertices, 24 edges, 12 rhombs.
TEST(Mesh, RhombicDodecahedronHasTheCountsOfTheTextbookAtEverySize) {
  for (int size : {1, 2}) {
    const Cells cells = *named_solid("rhombic dodecahedron", size);
    const Mesh m = mesh_of(mitered(), cells);
    expect_watertight(m, 1);
    expect_counts(m, 14, 24, 12);
    EXPECT_EQ(volume_times_6(m), volume_of_cells_times_6(mitered(), cells));
    EXPECT_EQ(volume_times_6(m), 6 * 16 * size * size * size) << "edge a = sqrt 3: V = 16/9 sqrt 3 a^3";
  }
}

// Its faces are the 12 rhombs raised to pyramids: 48 triangles; 14 corners and 12 tips; 24 edges and 48 more.
TEST(Mesh, FirstStellationHasTwelvePyramidsOnTheRhombs) {
  const Mesh m = mesh_of(mitered(), *named_solid("first stellation of the rhombic dodecahedron", 1));
  expect_watertight(m, 1);
  expect_counts(m, 14 + 12, 24 + 48, 48);
}

TEST(Mesh, ABoxOfCubesHasEightCornersTwelveEdgesAndSixFaces) {
  Cells box;
  for (int x = 0; x < 3; ++x)
    for (int y = 0; y < 2; ++y)
      for (int z = 0; z < 4; ++z) box.push_back({x, y, z});
  const Mesh m = mesh_of(notched(), box);
  expect_watertight(m, 1);
  expect_counts(m, 8, 12, 6);
  EXPECT_EQ(volume_times_6(m), 6 * 24);
}

TEST(Mesh, EveryBlockOfTheCatalogueHasTheCornersAndFacesOfItsOwnPolytope) {
  for (const Block& b : block_catalogue(14)) {
    SCOPED_TRACE(b.full_name());
    const Mesh m = mesh_of(mitered(), b.cells);
    expect_watertight(m, 1);
    std::size_t sides = 0;
    for (const ExactFace& f : b.body.faces) sides += f.loop.size();
    expect_counts(m, b.body.corners.size(), sides / 2, b.body.faces.size());
    EXPECT_EQ(volume_times_6(m), volume_times_6(b.body));
  }
}

// Bodies that touch themselves along an edge have it twice in each direction, never more than six cells around allow.
TEST(Mesh, RandomBodiesAreWatertightAndHoldTheirCells) {
  std::mt19937 random(7);
  for (const Family* family : {&mitered(), &notched()})
    for (int round = 0; round < 60; ++round) {
      Cells cells = {family == &mitered() ? Cell{4, 2, 0} : Cell{}};
      while (cells.size() < 3 + random() % 30) {
        const auto next = family->neighbors(cells[random() % cells.size()]);
        const Cell c = next[random() % next.size()];
        if (std::find(cells.begin(), cells.end(), c) == cells.end()) cells.push_back(c);
      }
      std::sort(cells.begin(), cells.end());
      const Mesh m = mesh_of(*family, cells);
      expect_watertight(m, 3);
      EXPECT_EQ(volume_times_6(m), volume_of_cells_times_6(*family, cells));
    }
}

TEST(Mesh, OfNoCellsIsEmpty) {
  EXPECT_TRUE(mesh_of(mitered(), {}).triangles.empty());
}

TEST(SharedFaces, OfTwoCubesIsTheSquareBetweenThem) {
  const SharedFaces s = shared_faces(notched(), {{0, 0, 0}}, {{1, 0, 0}});
  EXPECT_EQ(s.cell_faces, 1);
  EXPECT_DOUBLE_EQ(s.area_units, 1);
  EXPECT_EQ(s.normal, (Vec{1, 0, 0}));
  EXPECT_EQ(s.middle, (std::array<double, 3>{1, 0.5, 0.5}));
}

TEST(SharedFaces, OfAMiteredCellAndItsNeighborIsATriangleOfRootTwo) {
  const Cell cell = {4, 2, 0};
  const auto across = mitered().neighbors(cell);
  for (std::size_t i = 0; i < across.size(); ++i) {
    const SharedFaces s = shared_faces(mitered(), {cell}, {across[i]});
    EXPECT_NEAR(s.area_units, std::sqrt(2.0), 1e-12);
    EXPECT_EQ(s.normal, mitered().planes(cell)[i].n);
  }
}

}  // namespace
}  // namespace stickwright
