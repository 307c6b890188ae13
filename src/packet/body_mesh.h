// body_mesh.h - a real convex body as triangles and lines, for pictures in space that can be turned.
#pragma once
#include <array>
#include <vector>

#include "saw/body.h"

namespace stickwright {

struct BodyMesh {
  std::vector<Point> corners;                 // distinct
  std::vector<std::array<int, 3>> triangles;  // counter-clockwise seen from outside
  std::vector<std::array<int, 2>> edges;      // where two faces meet, each once
};

// Watertight, as the faces of a body share their corners.
BodyMesh mesh_of(const Body& body);

// The convex body between two opposite corners, its sides along the axes.
Body box_body(Point low, Point high);

}  // namespace stickwright
