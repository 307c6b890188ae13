// shared_faces.h - where two bodies of cells lie face on face: how much, where, and which way.
#pragma once
#include <array>

#include "family/family.h"

namespace stickwright {

struct SharedFaces {
  int cell_faces = 0;
  double area_units = 0;              // square lattice units
  std::array<double, 3> middle = {};  // of the area, lattice units
  Vec normal;                         // from a to b; of the plane with the most faces where they meet in several
};

//   a, b     sorted; no cell in both
SharedFaces shared_faces(const Family& family, const Cells& a, const Cells& b);

// The area of one face of a cell, square lattice units.
double face_area(const Family& family, Cell cell, const HalfSpace& plane);

// The middle of a body: the mean of its cells' middles, which are all of one size.
std::array<double, 3> middle_of(const Family& family, const Cells& cells);

}  // namespace stickwright
