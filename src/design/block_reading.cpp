#include "design/block_reading.h"

#include <fmt/core.h>

#include <algorithm>

#include "block/catalogue.h"
#include "design/cells_reading.h"
#include "design/gluing.h"
#include "text/nearest.h"

namespace stickwright {
namespace {

constexpr int kMostBlockCells = 60;  // of the shapes that a file can name

const std::vector<Block>& shapes() {
  static const std::vector<Block> all = block_catalogue(kMostBlockCells);
  return all;
}

std::vector<std::string> shape_names() {
  std::vector<std::string> names;
  for (const Block& b : shapes()) names.push_back(b.shape);
  return names;
}

const Block* read_shape(const Table& entry) {
  const std::string name = entry.text("shape");
  const bool says_hand = entry.has("hand");
  const auto hand = says_hand ? (entry.choice("hand", {"left", "right"}) == 0 ? Hand::left : Hand::right) : Hand::none;
  bool known = false;
  for (const Block& b : shapes()) {
    if (b.shape != name) continue;
    if (b.hand == hand) return &b;
    known = true;
  }
  if (known && says_hand)
    entry.report("hand", "hand_needed", fmt::format("a {} has no hand. Leave the key out.", name));
  if (known && !says_hand)
    entry.report("shape", "hand_needed",
                 fmt::format("a {} is left- or right-handed. Add hand = \"left\" or \"right\".", name));
  if (!known && !name.empty())
    entry.report("shape", "unknown_shape",
                 fmt::format("no block is called \"{}\".{} The trade names are in docs/files.md; other blocks are "
                             "called by their cells, such as \"5-cell block\".",
                             name, did_you_mean(name, shape_names())));
  return nullptr;
}

// The one of several ways that `turn` chooses.
Cells choose_way(const Table& entry, const std::vector<Cells>& ways) {
  const auto count = static_cast<std::int64_t>(ways.size());
  if (count == 0) return {};
  if (count > 1 && !entry.has("turn"))
    entry.report("shape", "several_ways",
                 fmt::format("there are {} ways to glue this block there. Add turn = 1 to {}.", count, count));
  return ways[static_cast<std::size_t>(std::clamp<std::int64_t>(entry.integer_or("turn", {1, count}, 1), 1, count) -
                                       1)];
}

Cells glued_block(const Table& entry, const Block& shape, const std::vector<Cells>& before, const Cells& taken) {
  const auto on = entry.integer("on", {1, static_cast<std::int64_t>(before.size())});
  const std::string face = entry.text("face");
  const auto normal = face_normal(face);
  if (on < 1 || before[static_cast<std::size_t>(on - 1)].empty()) return {};
  const Cells& base = before[static_cast<std::size_t>(on - 1)];
  std::string faces;
  for (const ExactFace& f : body_of(base).faces)
    for (std::string name :
         {"+x+y", "+x-y", "-x+y", "-x-y", "+y+z", "+y-z", "-y+z", "-y-z", "+x+z", "+x-z", "-x+z", "-x-z"})
      if (face_normal(name) == f.plane.n) faces += (faces.empty() ? "" : ", ") + name;
  if (!face.empty() && (!normal || faces.find(face) == std::string::npos)) {
    entry.report("face", "bad_face", fmt::format("block {} has no face \"{}\". Its faces are {}.", on, face, faces));
    return {};
  }
  if (!normal) return {};
  const auto ways = ways_to_glue(shape.cells, base, *normal, taken);
  if (ways.empty())
    entry.report(
        "face", "no_way_to_glue",
        fmt::format("a {} cannot be glued on face {} of block {}: no face of it lies flat there without running "
                    "into other blocks. Choose another face.",
                    shape.shape, face, on));
  return choose_way(entry, ways);
}

// A block that stands on its own: turned, then shifted.
Cells free_block(const Table& entry, const Block& shape) {
  std::vector<Cells> turned;
  for (const PosedShape& p : distinct_turns(mitered(), {shape.cells})) turned.push_back(p.shape.cells);
  const auto turn = entry.integer_or("turn", {1, static_cast<std::int64_t>(turned.size())}, 1);
  const Vec at = entry.triple_or("at", {});
  if (!mitered().is_shift(at)) {
    entry.report(
        "at", "bad_shift",
        fmt::format("{} moves cells off the lattice: expected three even or three odd numbers.", show_cell(at)));
    return {};
  }
  return moved(mitered(), {Turn{}, at},
               turned[static_cast<std::size_t>(
                   std::clamp<std::int64_t>(turn, 1, static_cast<std::int64_t>(turned.size())) - 1)]);
}

// Adds a block's cells to those taken.   returns  false, with a problem noted, when one of them was taken already
bool take_cells(const Table& entry, const Cells& block, Cells& taken) {
  const auto twice = std::find_if(block.begin(), block.end(),
                                  [&](Cell c) { return std::binary_search(taken.begin(), taken.end(), c); });
  if (twice != block.end()) {
    entry.report(
        entry.place(), "blocks_overlap",
        fmt::format("this block takes cell {}, which an earlier block has. Move one of them.", show_cell(*twice)));
    return false;
  }
  taken.insert(taken.end(), block.begin(), block.end());
  std::sort(taken.begin(), taken.end());
  return true;
}

}  // namespace

std::optional<std::vector<Cells>> read_blocks(const Table& piece) {
  std::vector<Cells> blocks;
  Cells taken;
  bool sound = true;
  for (const Table& entry : piece.tables("blocks")) {
    const Block* shape = read_shape(entry);
    const bool glued = entry.has("on") || entry.has("face");
    Cells cells;
    if (shape && glued) cells = glued_block(entry, *shape, blocks, taken);
    if (shape && !glued) cells = free_block(entry, *shape);
    if (!shape)
      for (const char* key : {"on", "face", "turn", "at"}) (void)entry.has(key);
    sound &= !cells.empty() && take_cells(entry, cells, taken);
    blocks.push_back(std::move(cells));
  }
  return sound ? std::optional(std::move(blocks)) : std::nullopt;
}

}  // namespace stickwright
