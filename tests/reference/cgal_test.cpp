// Blocks, sticks and stellations against an independent general-purpose geometry library with exact arithmetic
// (CGAL: Nef polyhedra and convex hulls). Test only: nothing of it is linked into the program.
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Nef_polyhedron_3.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Polygon_mesh_processing/triangulate_faces.h>
#include <CGAL/Polyhedron_3.h>
#include <CGAL/convex_hull_3.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <set>

#include "block/catalogue.h"
#include "design/solids.h"

namespace stickwright {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using CgalPoint = Kernel::Point_3;
using Mesh = CGAL::Polyhedron_3<Kernel>;
using Nef = CGAL::Nef_polyhedron_3<Kernel>;

CgalPoint at(Vec v) {
  return {v.x, v.y, v.z};
}

Mesh hull(const std::vector<Vec>& points) {
  std::vector<CgalPoint> p;
  for (Vec v : points) p.push_back(at(v));
  Mesh mesh;
  CGAL::convex_hull_3(p.begin(), p.end(), mesh);
  return mesh;
}

double volume_of(const Mesh& mesh) {
  return CGAL::to_double(CGAL::Polygon_mesh_processing::volume(mesh));
}

double volume_of(const Nef& nef) {
  Mesh mesh;
  nef.convert_to_polyhedron(mesh);
  CGAL::Polygon_mesh_processing::triangulate_faces(mesh);
  return volume_of(mesh);
}

std::set<std::array<double, 3>> corners_of(const Mesh& mesh) {
  std::set<std::array<double, 3>> out;
  for (auto v = mesh.vertices_begin(); v != mesh.vertices_end(); ++v)
    out.insert({CGAL::to_double(v->point().x()), CGAL::to_double(v->point().y()), CGAL::to_double(v->point().z())});
  return out;
}

// A square stick along an axis (0 x, 1 y, 2 z), its diagonals along the other two, section half-diagonal r, length 2h.
Nef stick(int axis, std::int64_t r, std::int64_t h) {
  std::vector<Vec> p;
  for (std::int64_t end : {-h, h})
    for (int other : {(axis + 1) % 3, (axis + 2) % 3})
      for (std::int64_t side : {-r, r}) p.push_back(axis_vec(axis, end) + axis_vec(other, side));
  Mesh mesh = hull(p);
  return Nef(mesh);
}

TEST(Cgal, EveryBlockUpTo18CellsIsTheHullOfItsCellsCornersWithTheirVolume) {
  for (const Block& b : block_catalogue(18)) {
    std::vector<Vec> points;
    for (Cell c : b.cells)
      for (Vec v : mitered().corners(c)) points.push_back(v);
    const Mesh mesh = hull(points);
    EXPECT_NEAR(volume_of(mesh), 2.0 / 3.0 * static_cast<double>(b.cells.size()), 1e-12) << b.full_name();
    std::set<std::array<double, 3>> ours;
    for (Vec v : b.body.corners) ours.insert({double(v.x), double(v.y), double(v.z)});
    EXPECT_EQ(corners_of(mesh), ours) << b.full_name();
  }
}

// geometry.md: the squat octahedron is the intersection of two perpendicular sticks. For stick side s the unit is
// u = s / sqrt 2: s^2 = 2 u^2, so s^3 = 2 sqrt 2 u^3 and 8/3 u^3 = 8 / (6 sqrt 2) s^3 = 0.942809 s^3.
TEST(Cgal, SquatOctahedronIsTheIntersectionOfTwoSticks) {
  const double v = volume_of(stick(0, 1, 5) * stick(2, 1, 5));
  EXPECT_NEAR(v, 8.0 / 3.0, 1e-12);
  EXPECT_NEAR(v / (2 * std::sqrt(2.0)), 0.942809, 5e-7);
  for (const Block& b : block_catalogue(4))
    if (b.shape == "squat octahedron") EXPECT_EQ(volume_times_6(b.body), 16);  // 6 * 8/3
}

// Distances across the flats: s for all four pairs of the squat octahedron, that is sqrt 2 units.
TEST(Cgal, SquatOctahedronMeasuresTheStickSizeAcrossAllFourPairs) {
  for (const Block& b : block_catalogue(4)) {
    if (b.shape != "squat octahedron") continue;
    int pairs = 0;
    for (const ExactFace& f : b.body.faces)
      for (const ExactFace& g : b.body.faces) {
        if (f.plane.n != -g.plane.n || f.plane.n < g.plane.n) continue;
        const Kernel::Plane_3 plane(at(b.body.corner(g, 0)), at(b.body.corner(g, 1)), at(b.body.corner(g, 2)));
        EXPECT_EQ(CGAL::squared_distance(at(b.body.corner(f, 0)), plane), Kernel::FT(2));
        ++pairs;
      }
    EXPECT_EQ(pairs, 4);
  }
}

// geometry.md: center block 6 cells, longest edge 4u = 2.828427 s.
TEST(Cgal, CenterBlockHasALongestEdgeOfFourUnits) {
  for (const Block& b : block_catalogue(6)) {
    if (b.shape != "center block") continue;
    Kernel::FT longest = 0;
    for (const ExactFace& f : b.body.faces)
      for (std::size_t i = 0; i < f.loop.size(); ++i)
        longest = std::max(longest, CGAL::squared_distance(at(b.body.corner(f, int(i))),
                                                           at(b.body.corner(f, int((i + 1) % f.loop.size())))));
    EXPECT_EQ(longest, Kernel::FT(16));
    EXPECT_NEAR(4 / std::sqrt(2.0), 2.828427, 5e-7);  // in stick sides: u = s / sqrt 2
  }
}

// Rhombic dodecahedron as the hull of (±1,±1,±1) and (±2,0,0) and permutations: volume 16, 24 cells.
TEST(Cgal, RhombicDodecahedronIs24Cells) {
  std::vector<Vec> p;
  for (std::int64_t x : {-1, 1})
    for (std::int64_t y : {-1, 1})
      for (std::int64_t z : {-1, 1}) p.push_back({x, y, z});
  for (int axis = 0; axis < 3; ++axis)
    for (std::int64_t end : {-2, 2}) p.push_back(axis_vec(axis, end));
  const Mesh rd = hull(p);
  EXPECT_NEAR(volume_of(rd), 16, 1e-12);
  const Cells cells = named_solid("rhombic dodecahedron", 1).value();
  EXPECT_EQ(cells.size(), 24u);
  std::vector<Vec> points;
  for (Cell c : cells)
    for (Vec v : mitered().corners(c)) points.push_back(v);
  EXPECT_EQ(corners_of(hull(points)), corners_of(rd));
}

// geometry.md: the first stellation is the union of three squat octahedra of stick side 2s, of volume twice the core
// (R. B. Fuller, Synergetics, fig. 987.326: 12 against 6); its twelve outer points are (0,±2,±2) and permutations.
TEST(Cgal, FirstStellationIsTheUnionOfThreeLargeSquatOctahedra) {
  const Nef star = stick(0, 2, 9) * stick(1, 2, 9) + stick(1, 2, 9) * stick(2, 2, 9) + stick(2, 2, 9) * stick(0, 2, 9);
  const double v = volume_of(star);
  EXPECT_NEAR(v, 32, 1e-9);
  const Cells cells = named_solid("first stellation of the rhombic dodecahedron", 1).value();
  EXPECT_NEAR(2.0 / 3.0 * static_cast<double>(cells.size()), v, 1e-9);
  Mesh mesh;
  star.convert_to_polyhedron(mesh);
  std::set<std::array<double, 3>> tips;
  for (const auto& p : corners_of(mesh))
    if (p[0] * p[0] + p[1] * p[1] + p[2] * p[2] == 8) tips.insert(p);
  EXPECT_EQ(tips.size(), 12u);
  for (const auto& p : tips) EXPECT_EQ(p[0] * p[1] * p[2], 0);
  // Across the puzzle parallel to an axis, two outer points lie 4u = 2.828427 s apart; opposite ones 4 sqrt 2 u = 4 s.
  EXPECT_TRUE(tips.contains({0, 2, 2}) && tips.contains({0, 2, -2}) && tips.contains({0, -2, -2}));
  EXPECT_NEAR(4 / std::sqrt(2.0), 2.828427, 5e-7);
}

// Three stellations beyond the core (J. D. Luke, Mathematical Gazette, 1957). The twelve face planes bound, besides the
// core, 12, 24 and 24 regions of two cells each in successive layers: volumes 1 : 2 : 4 : 6.
TEST(Cgal, StellationsHave24And48And96And144Cells) {
  std::vector<std::size_t> cells;
  for (const std::string& name : solid_names()) cells.push_back(named_solid(name, 1)->size());
  EXPECT_EQ(cells, (std::vector<std::size_t>{24, 48, 96, 144}));
  EXPECT_EQ(named_solid("rhombic dodecahedron", 2)->size(), 24u * 8);
}

}  // namespace
}  // namespace stickwright
