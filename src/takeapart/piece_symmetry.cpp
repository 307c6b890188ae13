#include "takeapart/piece_symmetry.h"

#include <algorithm>
#include <map>
#include <optional>

namespace stickwright {
namespace {

using Owners = std::map<Cell, int>;

// Which piece each one lands on; nothing when one lands on parts of several, or outside.
std::optional<std::vector<int>> landing(const Family& family, const Isometry& by, const std::vector<Cells>& pieces,
                                        const Owners& owners) {
  std::vector<int> to;
  for (const Cells& cells : pieces) {
    const auto first = owners.find(family.moved(by, cells.front()));
    if (first == owners.end() || pieces[first->second].size() != cells.size()) return {};
    for (Cell c : cells)
      if (const auto at = owners.find(family.moved(by, c)); at == owners.end() || at->second != first->second)
        return {};
    to.push_back(first->second);
  }
  return to;
}

}  // namespace

std::vector<PieceSymmetry> piece_symmetries(const Family& family, const std::vector<Cells>& pieces) {
  Owners owners;
  for (std::size_t i = 0; i < pieces.size(); ++i)
    for (Cell c : pieces[i]) owners[c] = static_cast<int>(i);
  Cells all;
  for (const auto& [cell, piece] : owners) all.push_back(cell);
  std::vector<PieceSymmetry> out;
  for (const auto turns : {family.rotations(), family.reflections()})
    for (const Turn& turn : turns) {
      const Cells turned = moved(family, {turn, {}}, all);
      const Vec shift = family.shift_home(turned.front()) - family.shift_home(all.front());
      if (auto to = landing(family, {turn, shift}, pieces, owners)) out.push_back({turn, *std::move(to)});
    }
  return out;
}

}  // namespace stickwright
