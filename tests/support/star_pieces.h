// star_pieces.h - the six pieces of the star where they stand when it is closed.
#pragma once
#include <vector>

#include "assembly/assembly.h"
#include "support/known_designs.h"

namespace stickwright::known {

inline std::vector<Cells> star_pieces() {
  std::vector<Cells> pieces;
  const Assemblies all = find_assemblies(star());
  for (const PlacedPiece& p : all.kept.at(0)) pieces.push_back(p.cells);
  return pieces;
}

}  // namespace stickwright::known
