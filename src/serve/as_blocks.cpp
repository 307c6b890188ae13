#include "serve/as_blocks.h"

#include <algorithm>
#include <stdexcept>

#include "batch/shapes_cut.h"
#include "design/gluing.h"
#include "serve/glue_asked.h"

namespace stickwright {
namespace {

// The blocks of one piece as it is drawn. All pieces are split together, so that they are those shown elsewhere.
struct DrawnSplit {
  Split split;
  std::size_t made = 0;
};

DrawnSplit split_of(const Design& design, std::size_t piece) {
  std::vector<MadePiece> made = made_pieces(design);
  auto at = std::find_if(made.begin(), made.end(),
                         [&](const MadePiece& m) { return m.piece == static_cast<int>(piece) && !m.mirrored; });
  if (at == made.end()) {  // supplied as mirror images only
    const Piece& p = design.pieces[piece];
    at = made.insert(made.end(), {static_cast<int>(piece), false, p.name, 1, p.cells, p.own_blocks, p.datum});
  }
  const auto index = static_cast<std::size_t>(at - made.begin());
  return {split_with_grain(made), index};
}

BlockAsked named(const Block& shape) {
  BlockAsked asked;
  asked.shape = shape.shape;
  asked.hand = shape.hand;
  return asked;
}

class BlockWriter {
 public:
  // Glued on a block that is there already.   returns  false when it cannot be written so
  bool glue(const Block& shape, const Cells& cells) {
    for (std::size_t on = 0; on < list_.cells.size(); ++on)
      for (const ExactFace& f : body_of(list_.cells[on]).faces) {
        const auto ways = ways_to_glue(shape.cells, list_.cells[on], f.plane.n, list_.all);
        const auto at = std::find(ways.begin(), ways.end(), cells);
        if (at == ways.end()) continue;
        BlockAsked asked = named(shape);
        asked.on = static_cast<std::int64_t>(on) + 1;
        asked.face = face_name(f.plane.n);
        if (ways.size() > 1) asked.turn = at - ways.begin() + 1;
        put(asked, cells);
        return true;
      }
    return false;
  }

  // By its turn and where it is shifted to.
  void place(const Block& shape, const Cells& cells) {
    const auto turns = distinct_turns(mitered(), {shape.cells});
    for (std::size_t t = 0; t < turns.size(); ++t) {
      // A shift keeps the order of cells, which are named by four times their centroids.
      const Vec gap = cells.front() - turns[t].shape.cells.front();
      if (gap.x % 4 != 0 || gap.y % 4 != 0 || gap.z % 4 != 0) continue;
      const Vec shift = {gap.x / 4, gap.y / 4, gap.z / 4};
      if (!mitered().is_shift(shift) || moved(mitered(), {Turn{}, shift}, turns[t].shape.cells) != cells) continue;
      BlockAsked asked = named(shape);
      if (t > 0) asked.turn = static_cast<std::int64_t>(t) + 1;
      if (shift != Vec{}) asked.at = shift;
      return put(asked, cells);
    }
    throw std::logic_error("a block lies as no turn of its shape does");
  }

  std::vector<BlockAsked> written;

 private:
  void put(const BlockAsked& asked, const Cells& cells) {
    written.push_back(asked);
    list_.cells.push_back(cells);
    list_.all.insert(list_.all.end(), cells.begin(), cells.end());
    std::sort(list_.all.begin(), list_.all.end());
  }

  GluedList list_;
};

}  // namespace

Result<std::vector<BlockAsked>> blocks_to_glue(const Design& design, std::size_t piece) {
  const auto [split, made] = split_of(design, piece);
  const auto& all = nameable_blocks();
  std::vector<const PlacedBlock*> left;
  for (const PlacedBlock& b : split.pieces[made].blocks) left.push_back(&b);
  const auto shape = [&](const PlacedBlock* b) -> const Block& {
    return split.shapes[static_cast<std::size_t>(b->shape)];
  };
  BlockWriter writer;
  while (!left.empty()) {
    const bool nameable = std::any_of(all.begin(), all.end(), [&](const Block& b) {
      return b.shape == shape(left.front()).shape && b.hand == shape(left.front()).hand;
    });
    if (!nameable)
      return Problem{"no_names", "piece",
                     "this piece has a block so large that no design file can name it; it stays as cells.", ""};
    auto next =
        std::find_if(left.begin(), left.end(), [&](const PlacedBlock* b) { return writer.glue(shape(b), b->cells); });
    if (next == left.end()) writer.place(shape(left.front()), left.front()->cells), next = left.begin();
    left.erase(next);
  }
  const auto again = glue_up_list(writer.written);
  if (!again || again.value().all != design.pieces[piece].cells)
    throw std::logic_error("a list of blocks does not glue up to its piece");
  return writer.written;
}

}  // namespace stickwright
