// polytope.h - bounded convex polyhedra whose corners are lattice points.
#pragma once
#include <optional>
#include <span>
#include <vector>

#include "exact/vec.h"

namespace stickwright {

// A face: its plane (n points outward) and its corners, counter-clockwise seen from outside.
struct ExactFace {
  HalfSpace plane;
  std::vector<int> loop;  // indices into Polytope::corners
};

struct Polytope {
  std::vector<Vec> corners;      // sorted, distinct
  std::vector<ExactFace> faces;  // in the order of the half-spaces given; redundant ones left out

  Vec corner(const ExactFace& f, int i) const { return corners[f.loop[i]]; }
};

// The intersection of half-spaces.
//   returns  nothing when it is empty, flat, or has a corner that is no lattice point
//   assumes  the intersection is bounded
//   exact    all in integers
std::optional<Polytope> intersect(std::span<const HalfSpace> halves);

// Six times the volume, exact.
std::int64_t volume_times_6(const Polytope& p);

// Twice the area of a face, as a vector along its outward normal, exact.
Vec area_vector_times_2(const Polytope& p, const ExactFace& face);

}  // namespace stickwright
