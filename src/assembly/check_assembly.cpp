// The checker of assemblies. It shares no code with the search.
#include <algorithm>
#include <map>

#include "assembly/assembly.h"

namespace stickwright {
namespace {

struct Allowed {
  int at_least = 0, at_most = 0;
};

std::map<Cells, Allowed> allowed_shapes(const Design& design) {
  std::map<Cells, Allowed> allowed;
  const Family& family = *design.family;
  for (const Piece& p : design.pieces) {
    const Cells mirrored = moved(family, {family.reflections().front(), {}}, p.cells);
    for (const auto& [cells, copies] : {std::pair(p.cells, p.copies), {mirrored, p.mirrored_copies}}) {
      Allowed& a = allowed[shape_of(family, cells).shape.cells];
      a.at_most += copies;
      a.at_least += p.optional ? 0 : copies;
    }
  }
  return allowed;
}

}  // namespace

bool check_assembly(const Design& design, const Assembly& assembly) {
  Cells filled;
  std::map<Cells, int> used;
  for (const PlacedPiece& p : assembly) {
    ++used[shape_of(*design.family, p.cells).shape.cells];
    filled.insert(filled.end(), p.cells.begin(), p.cells.end());
  }
  std::sort(filled.begin(), filled.end());
  if (std::adjacent_find(filled.begin(), filled.end()) != filled.end()) return false;
  if (!std::includes(design.goal.begin(), design.goal.end(), filled.begin(), filled.end())) return false;
  Cells empty;
  std::set_difference(design.goal.begin(), design.goal.end(), filled.begin(), filled.end(), std::back_inserter(empty));
  if (!std::includes(design.may_stay_empty.begin(), design.may_stay_empty.end(), empty.begin(), empty.end()))
    return false;
  const auto allowed = allowed_shapes(design);
  const auto is_allowed = [&](const auto& shape_and_count) { return allowed.contains(shape_and_count.first); };
  if (!std::all_of(used.begin(), used.end(), is_allowed)) return false;
  for (const auto& [shape, a] : allowed)
    if (used[shape] < a.at_least || used[shape] > a.at_most) return false;
  return !design.pieces_used || assembly.size() == static_cast<std::size_t>(*design.pieces_used);
}

}  // namespace stickwright
