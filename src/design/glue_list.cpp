#include "design/glue_list.h"

#include <fmt/core.h>

#include <algorithm>

#include "design/cells_reading.h"
#include "design/gluing.h"
#include "text/nearest.h"

namespace stickwright {
namespace {

constexpr int kMostBlockCells = 60;  // of the shapes that a file can name

std::vector<std::string> shape_names() {
  std::vector<std::string> names;
  for (const Block& b : nameable_blocks()) names.push_back(b.shape);
  return names;
}

std::variant<const Block*, NotSeated> shape_asked(const BlockAsked& asked) {
  bool known = false;
  for (const Block& b : nameable_blocks()) {
    if (b.shape != asked.shape) continue;
    if (b.hand == asked.hand) return &b;
    known = true;
  }
  if (known && asked.hand != Hand::none)
    return NotSeated{"hand", "hand_needed", fmt::format("a {} has no hand. Leave the key out.", asked.shape)};
  if (known)
    return NotSeated{"shape", "hand_needed",
                     fmt::format("a {} is left- or right-handed. Add hand = \"left\" or \"right\".", asked.shape)};
  return NotSeated{"shape", "unknown_shape",
                   fmt::format("no block is called \"{}\".{} The trade names are in docs/files.md; other blocks are "
                               "called by their cells, such as \"5-cell block\".",
                               asked.shape, did_you_mean(asked.shape, shape_names()))};
}

NotSeated out_of_range(const char* key, std::int64_t least, std::int64_t most, std::int64_t found) {
  return {key, "out_of_range",
          fmt::format("{}: expected a whole number from {} to {}, found {}", key, least, most, found)};
}

// The ways from which `turn` chooses one.
using Ways = std::variant<std::vector<Cells>, NotSeated>;

Ways glued_ways(const BlockAsked& asked, const Block& shape, const std::vector<Cells>& before, const Cells& taken) {
  if (!asked.on || !asked.face)
    return NotSeated{"", "missing_key", "a block is glued `on` a block before, at a `face` of it: give both."};
  if (asked.at) return NotSeated{"at", "unknown_key", "a block that is glued on another has no `at`. Leave it out."};
  const auto normal = face_asked(*asked.on, *asked.face, before);
  if (const auto* trouble = std::get_if<NotSeated>(&normal)) return *trouble;
  const Cells& base = before[static_cast<std::size_t>(*asked.on - 1)];
  auto ways = ways_to_glue(shape.cells, base, std::get<Vec>(normal), taken);
  if (ways.empty())
    return NotSeated{
        "face", "no_way_to_glue",
        fmt::format("a {} cannot be glued on face {} of block {}: no face of it lies flat there without running "
                    "into other blocks. Choose another face.",
                    shape.shape, *asked.face, *asked.on)};
  if (ways.size() > 1 && !asked.turn)
    return NotSeated{
        "shape", "several_ways",
        fmt::format("there are {} ways to glue this block there. Add turn = 1 to {}.", ways.size(), ways.size())};
  return ways;
}

// A block that stands on its own: turned, then shifted.
Ways free_ways(const BlockAsked& asked, const Block& shape) {
  const Vec at = asked.at.value_or(Vec{});
  if (!mitered().is_shift(at))
    return NotSeated{
        "at", "bad_shift",
        fmt::format("{} moves cells off the lattice: expected three even or three odd numbers.", show_cell(at))};
  std::vector<Cells> ways;
  for (const PosedShape& p : distinct_turns(mitered(), {shape.cells}))
    ways.push_back(moved(mitered(), {Turn{}, at}, p.shape.cells));
  return ways;
}

}  // namespace

std::string face_name(Vec normal) {
  std::string name;
  for (int axis = 0; axis < 3; ++axis)
    if (normal[axis] != 0) name += {normal[axis] > 0 ? '+' : '-', "xyz"[axis]};
  return name;
}

std::variant<Vec, NotSeated> face_asked(std::int64_t on, const std::string& face, const std::vector<Cells>& before) {
  if (on < 1 || on > std::ssize(before)) return out_of_range("on", 1, std::ssize(before), on);
  const Cells& base = before[static_cast<std::size_t>(on - 1)];
  if (base.empty()) return NotSeated{"on", "no_way_to_glue", "the block that this one is glued on is not placed."};
  const auto normal = face_normal(face);
  std::string faces;
  for (const ExactFace& f : body_of(base).faces) {
    if (normal == f.plane.n) return f.plane.n;
    faces += (faces.empty() ? "" : ", ") + face_name(f.plane.n);
  }
  return NotSeated{"face", "bad_face", fmt::format("block {} has no face \"{}\". Its faces are {}.", on, face, faces)};
}

const std::vector<Block>& nameable_blocks() {
  static const std::vector<Block> all = block_catalogue(kMostBlockCells);
  return all;
}

std::variant<SeatedBlock, NotSeated> seat_block(const BlockAsked& asked, const std::vector<Cells>& before,
                                                const Cells& taken) {
  const auto found = shape_asked(asked);
  if (const auto* trouble = std::get_if<NotSeated>(&found)) return *trouble;
  const Block& shape = *std::get<const Block*>(found);
  const bool glued = asked.on || asked.face;
  Ways ways = glued ? glued_ways(asked, shape, before, taken) : free_ways(asked, shape);
  if (const auto* trouble = std::get_if<NotSeated>(&ways)) return *trouble;
  auto& all = std::get<std::vector<Cells>>(ways);
  const std::int64_t turn = asked.turn.value_or(1);
  if (turn < 1 || turn > std::ssize(all)) return out_of_range("turn", 1, std::ssize(all), turn);
  SeatedBlock seated{&shape, std::move(all[static_cast<std::size_t>(turn - 1)])};
  const auto twice = std::find_if(seated.cells.begin(), seated.cells.end(),
                                  [&](Cell c) { return std::binary_search(taken.begin(), taken.end(), c); });
  if (twice == seated.cells.end()) return seated;
  return NotSeated{
      "", "blocks_overlap",
      fmt::format("this block takes cell {}, which an earlier block has. Move one of them.", show_cell(*twice))};
}

}  // namespace stickwright
