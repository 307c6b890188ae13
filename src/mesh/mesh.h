// mesh.h - the outside of a set of cells as triangles and lines, for pictures that can be turned.
#pragma once
#include <array>
#include <vector>

#include "family/family.h"

namespace stickwright {

struct Mesh {
  std::vector<Vec> corners;                   // lattice points, sorted, distinct
  std::vector<std::array<int, 3>> triangles;  // counter-clockwise seen from outside
  std::vector<std::array<int, 2>> edges;      // lines where faces meet at an angle; none inside a flat face
};

// The boundary of the cells, taken as one body. Its triangles are those of the cells' own faces: neighbors of the
// lattice share whole edges, so the mesh has no corner in the middle of another triangle's edge and is watertight.
// Edges are drawn through: a corner lies inside one only where nothing else begins.
//   cells    sorted, distinct; may be none
//   exact    all in integers
Mesh mesh_of(const Family& family, const Cells& cells);

// Six times the volume, by the divergence theorem over the triangles.
std::int64_t volume_times_6(const Mesh& mesh);

// A cell's face: its corners counter-clockwise seen from outside the cell.
std::vector<Vec> face_loop(const Family& family, Cell cell, const HalfSpace& plane);

}  // namespace stickwright
