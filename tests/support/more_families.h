// more_families.h - families that the program does not offer: other honeycombs behind the same interface. They know all
// that cell sets need; what only sliding and drawing need, they refuse.
#pragma once
#include <ostream>
#include <string>
#include <vector>

#include "family/family.h"

namespace stickwright {

// The face-centered cubic packing: a cell is named by its center.
const Family& rhombic_dodecahedra();

// Every rhombic dodecahedron cut from its center into 12 pyramids, one on each face. A pyramid is named by twice the
// middle of its axis.
const Family& rhombic_pyramids();

// Cubes cut from their centers into 6 pyramids, each joined with the one across the cube's face: four of the mitered
// family's cells around a long edge. A bipyramid is named by its center.
const Family& square_bipyramids();

// The program's families and these.
std::vector<const Family*> all_families();

// The family's name as one word, for the name of a test.
std::string word_for(const Family& family);
// How a test's report prints it.
inline void PrintTo(const Family* family, std::ostream* out) {
  *out << family->name();
}

}  // namespace stickwright
