#include "design/design.h"

#include <algorithm>
#include <span>

namespace stickwright {
namespace {

MadePiece mirror_image(const Family& family, const Piece& p, int index) {
  const Isometry mirror = {family.reflections().front(), {}};
  MadePiece m{index, true, p.name + " (mirror image)", p.mirrored_copies, moved(family, mirror, p.cells), {}};
  for (const Cells& block : p.own_blocks) m.own_blocks.push_back(moved(family, mirror, block));
  for (Vec normal : p.datum) m.datum.push_back(mirror.turn * normal);
  return m;
}

std::vector<Isometry> onto_itself(const Family& family, std::span<const Turn> turns, const Cells& cells) {
  std::vector<Isometry> found;
  for (const Turn& turn : turns) {
    const Cells turned = moved(family, {turn, {}}, cells);
    // Equal sets have equal least cells, so one shift is all there is to try.
    const Vec shift = family.shift_home(turned.front()) - family.shift_home(cells.front());
    if (moved(family, {turn, shift}, cells) == cells) found.push_back({turn, shift});
  }
  return found;
}

}  // namespace

std::vector<MadePiece> made_pieces(const Design& design) {
  std::vector<MadePiece> made;
  for (std::size_t i = 0; i < design.pieces.size(); ++i) {
    const Piece& p = design.pieces[i];
    const int index = static_cast<int>(i);
    if (p.copies > 0) made.push_back({index, false, p.name, p.copies, p.cells, p.own_blocks, p.datum});
    if (p.mirrored_copies > 0) made.push_back(mirror_image(*design.family, p, index));
  }
  return made;
}

Design settled(const Design& design, const std::vector<int>& used, Cells filled) {
  Design out{design.name, design.family, std::move(filled), design.pieces};
  for (Piece& p : out.pieces) p.copies = p.mirrored_copies = 0, p.optional = false;
  const std::vector<MadePiece> made = made_pieces(design);
  for (std::size_t i = 0; i < made.size(); ++i) {
    Piece& p = out.pieces[static_cast<std::size_t>(made[i].piece)];
    (made[i].mirrored ? p.mirrored_copies : p.copies) = used[i];
  }
  std::erase_if(out.pieces, [](const Piece& p) { return p.total_copies() == 0; });
  return out;
}

std::vector<Isometry> rotations_onto_itself(const Family& family, const Cells& cells) {
  return onto_itself(family, family.rotations(), cells);
}

std::vector<Isometry> reflections_onto_itself(const Family& family, const Cells& cells) {
  return onto_itself(family, family.reflections(), cells);
}

bool Design::all_used() const {
  return std::none_of(pieces.begin(), pieces.end(), [](const Piece& p) { return p.optional; });
}

}  // namespace stickwright
