// How far apart real blocks are, against an independent general-purpose geometry library with exact arithmetic (CGAL:
// the convex hull of the Minkowski difference when they go into one another, its distance from the origin else).
#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Polyhedron_3.h>
#include <CGAL/convex_hull_3.h>
#include <CGAL/squared_distance_3.h>
#include <gtest/gtest.h>

#include <random>

#include "fit/nonlinear.h"

namespace stickwright {
namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Mesh = CGAL::Polyhedron_3<Kernel>;

// Every face of the hull is a triangle. Outside, the origin is nearest to one of these; inside, to the plane of one.
double separation_by_hull(const Body& a, const Body& b) {
  std::vector<Kernel::Point_3> differences;
  for (Point q : corners_of(b))
    for (Point p : corners_of(a))
      differences.emplace_back(Kernel::FT(q.a) - Kernel::FT(p.a), Kernel::FT(q.b) - Kernel::FT(p.b),
                               Kernel::FT(q.t) - Kernel::FT(p.t));
  Mesh hull;
  CGAL::convex_hull_3(differences.begin(), differences.end(), hull);
  const Kernel::Point_3 origin(0, 0, 0);
  bool inside = true, first = true;
  Kernel::FT to_plane = 0, to_face = 0;
  for (auto f = hull.facets_begin(); f != hull.facets_end(); ++f) {
    const auto e = f->halfedge();
    const Kernel::Point_3 x = e->vertex()->point(), y = e->next()->vertex()->point(),
                          z = e->next()->next()->vertex()->point();
    const Kernel::Plane_3 plane(x, y, z);
    if (plane.has_on_positive_side(origin)) inside = false;
    const Kernel::FT d = CGAL::squared_distance(origin, plane),
                     t = CGAL::squared_distance(origin, Kernel::Triangle_3(x, y, z));
    to_plane = first ? d : std::min(to_plane, d);
    to_face = first ? t : std::min(to_face, t);
    first = false;
  }
  return inside ? -std::sqrt(CGAL::to_double(to_plane)) : std::sqrt(CGAL::to_double(to_face));
}

TEST(Separation, BlocksThatAreApartOrGoIntoOneAnotherMeasureAsByTheHullOfTheirDifference) {
  const known::FitPuzzle p = cut_core(2, 3);
  std::mt19937_64 random(5);
  std::normal_distribution<double> normal;
  int apart = 0, within = 0;
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    const auto blocks = real::real_puzzle(p.puzzle, p.shop, p.errors, known::drawn_errors(p, seed, 0.2));
    for (std::size_t c = 0; c < p.contacts.size(); c += 2) {
      const Body& a = blocks[static_cast<std::size_t>(p.contacts[c].from)].body;
      const Body& b = blocks[static_cast<std::size_t>(p.contacts[c].to)].body;
      Placement move = real::turn_about({}, {0.01 * normal(random), 0.01 * normal(random), 0.01 * normal(random)});
      move.shift = {0.2 * normal(random), 0.2 * normal(random), 0.2 * normal(random)};
      const Body moved_b = moved(move, b);
      const double ours = real::separation(a, moved_b);
      EXPECT_NEAR(ours, separation_by_hull(a, moved_b), 1e-9);
      ++(ours > 0 ? apart : within);
    }
  }
  EXPECT_GT(apart, 5);
  EXPECT_GT(within, 5);
}

TEST(Separation, PlayOfRealPuzzlesIsTheSmallestSeparationByTheHullToo) {
  for (const known::FitPuzzle& p : {cut_core(2, 3), planned_star()})
    for (std::uint64_t seed = 1; seed <= 2; ++seed) {
      const auto blocks = real::real_puzzle(p.puzzle, p.shop, p.errors, known::drawn_errors(p, seed, 0.05));
      const real::Closing closed = real::close_up(p.puzzle, p.contacts, blocks, 0.1);
      double least = 1;
      for (const BlockContact& c : p.contacts) {
        const auto real = [&](int b) {
          const auto piece = static_cast<std::size_t>(p.puzzle.blocks[static_cast<std::size_t>(b)].piece);
          return moved(closed.pieces[piece], blocks[static_cast<std::size_t>(b)].body);
        };
        least = std::min(least, separation_by_hull(real(c.from), real(c.to)));
      }
      EXPECT_NEAR(closed.play_mm, least, 1e-6) << p.name << ", seed " << seed;
    }
}

}  // namespace
}  // namespace stickwright
