// face_overlap.h - what two faces on one plane share: exact, with rational corners.
#pragma once
#include <span>
#include <vector>

#include "exact/vec.h"
#include "takeapart/contacts.h"

namespace stickwright {

// A convex polygon in space: corners in order around it, and for each the normal within the plane of the edge that
// starts there, pointing inward.
struct FacePolygon {
  std::vector<Vec> corners, inward;
  Vec low, high;  // extent along the axes
};

// The face of a convex cell on the plane, shifted.
FacePolygon face_polygon(std::span<const Vec> cell_corners, const HalfSpace& plane, Vec shift);

// The corners of what two polygons on one plane share.
//   returns  distinct, ascending; empty when they share no area
//   exact    the polygons are a few units wide and stand near each other, so that all products fit 64 bits
std::vector<Spot> overlap(const FacePolygon& a, const FacePolygon& b);

// The mean of the points.
Spot middle(std::span<const Spot> spots);

// The corners of the convex hull of points on a plane of that normal, in order around it.
std::vector<Spot> hull(std::vector<Spot> spots, Vec normal);

}  // namespace stickwright
