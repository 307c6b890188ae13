#include "design/design_file.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>

#include "block/catalogue.h"
#include "design/gluing.h"
#include "design/solids.h"
#include "text/nearest.h"
#include "text/toml_reader.h"

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

std::string show(Cell c) {
  return fmt::format("[{}, {}, {}]", c.x, c.y, c.z);
}

// Cells as a maker lists them: each must be a cell, none twice.
Cells read_cells(const Table& table, const Family& family) {
  Cells cells = table.triples("cells");
  std::set<Cell> seen;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (!family.is_cell(cells[i]))
      table.report(
          "cells", i, "not_a_cell",
          fmt::format("{} is not a cell: expected {}. Correct the three numbers.", show(cells[i]), family.cell_rule()));
    else if (!seen.insert(cells[i]).second)
      table.report("cells", i, "cell_twice",
                   fmt::format("cell {} stands here twice. Leave it out once.", show(cells[i])));
  }
  return {seen.begin(), seen.end()};
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
    entry.report("at", "bad_shift",
                 fmt::format("{} moves cells off the lattice: expected three even or three odd numbers.", show(at)));
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
    entry.report(entry.place(), "blocks_overlap",
                 fmt::format("this block takes cell {}, which an earlier block has. Move one of them.", show(*twice)));
    return false;
  }
  taken.insert(taken.end(), block.begin(), block.end());
  std::sort(taken.begin(), taken.end());
  return true;
}

// Nothing, with a problem noted, when some block could not be placed.
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

constexpr std::int64_t kLongestSide = 60;  // of a box of cubes

// The cubes of a box with one corner at the origin, given by its three sides.
Cells box_of(const Table& table, std::string_view key) {
  const Vec size = table.triple(key);
  Cells cells;
  if (std::min({size.x, size.y, size.z}) < 1 || std::max({size.x, size.y, size.z}) > kLongestSide ||
      size.x * size.y * size.z > kMaxGoalCells) {
    if (size != Vec{})
      table.report(key, "out_of_range",
                   fmt::format("expected three sides of 1 to {} cubes, {} cubes in all at most, found {}.",
                               kLongestSide, kMaxGoalCells, show(size)));
    return cells;
  }
  for (std::int64_t x = 0; x < size.x; ++x)
    for (std::int64_t y = 0; y < size.y; ++y)
      for (std::int64_t z = 0; z < size.z; ++z) cells.push_back({x, y, z});
  return cells;
}

// A square stick lying where it is drawn, less the cubes that are notched out of it.
Cells read_stick(const Table& piece) {
  Cells cells = box_of(piece, "stick");
  const Cells notches = piece.triples_or_none("notches");
  for (std::size_t i = 0; i < notches.size(); ++i) {
    const auto at = std::lower_bound(cells.begin(), cells.end(), notches[i]);
    if (at != cells.end() && *at == notches[i])
      cells.erase(at);
    else if (!cells.empty())
      piece.report(
          "notches", i, "bad_notch",
          fmt::format("cube {} is not in the stick, or is notched out already. Correct it.", show(notches[i])));
  }
  return moved(notched(), {Turn{}, piece.triple_or("at", {})}, cells);
}

Cells read_glued(const Table& table, Piece& p) {
  const auto blocks = read_blocks(table);
  if (table.flag_or("keep_blocks", false) && blocks) p.own_blocks = *blocks;
  Cells cells;
  for (const Cells& b : blocks.value_or(std::vector<Cells>{})) cells.insert(cells.end(), b.begin(), b.end());
  std::sort(cells.begin(), cells.end());
  return cells;
}

// How a piece is drawn: each family has its own way besides plain cells.
enum class Form { blocks, cells, stick };

bool suits(Form form, const Family& family) {
  return form == Form::cells || (form == Form::blocks) == (&family == &mitered());
}

Piece read_piece(const Table& table, const Family& family) {
  constexpr const char* kKeys[] = {"blocks", "cells", "stick"};
  Piece p;
  p.name = table.text("name");
  p.copies = static_cast<int>(table.integer_or("copies", {0, kMaxPieces}, 1));
  p.mirrored_copies = static_cast<int>(table.integer_or("mirrored_copies", {0, kMaxPieces}, 0));
  if (p.total_copies() == 0)
    table.report(
        "copies", "out_of_range",
        "no copy of this piece is supplied. Give copies or mirrored_copies of at least 1, or leave the piece out.");
  const auto form = static_cast<Form>(table.exactly_one_of({"blocks", "cells", "stick"}));
  const char* key = kKeys[static_cast<int>(form)];
  if (!table.has(key)) return p;
  if (!suits(form, family)) {
    table.report(table.key_place(key), "wrong_family",
                 fmt::format("the {} family has no `{}`: blocks are glued from mitered sticks, sticks are notched. Use "
                             "`cells`, or what the family has.",
                             family.name(), key));
    return p;
  }
  if (form == Form::cells) p.cells = read_cells(table, family);
  if (form == Form::blocks) p.cells = read_glued(table, p);
  if (form == Form::stick) p.cells = read_stick(table);
  if (!p.cells.empty() && !connected(family, p.cells))
    table.report(key, "piece_in_parts",
                 fmt::format("piece \"{}\" is not in one part: some of its cells share no face with the rest. Join "
                             "them, or make two pieces.",
                             p.name));
  return p;
}

Cells read_solid(const Table& goal) {
  const std::string name = goal.text("solid");
  const auto size = goal.integer_or("size", {1, 3}, 1);
  const auto cells = named_solid(name, static_cast<int>(std::max<std::int64_t>(size, 1)));
  if (!cells && !name.empty())
    goal.report("solid", "unknown_solid",
                fmt::format("no solid is called \"{}\".{} Known: {}.", name, did_you_mean(name, solid_names()),
                            quoted_list(solid_names(), "and")));
  return cells.value_or(Cells{});
}

std::optional<Cells> read_goal(const Table& goal, const Family& family) {
  if (!goal.present()) return {};
  const char* const own = &family == &mitered() ? "solid" : "box";
  if (goal.exactly_one_of({"cells", own}) == 0) return read_cells(goal, family);
  return &family == &mitered() ? read_solid(goal) : box_of(goal, "box");
}

// Without a goal the pieces stand where they belong, and the goal is what they fill.
Cells union_of_pieces(const Design& d, const std::vector<Table>& tables) {
  std::map<Cell, std::size_t> owner;
  for (std::size_t i = 0; i < d.pieces.size(); ++i) {
    if (d.pieces[i].copies != 1 || d.pieces[i].mirrored_copies != 0)
      tables[i].report(d.pieces[i].copies != 1 ? "copies" : "mirrored_copies", "copies_need_goal",
                       "a piece with more copies than the one drawn needs a [goal]: cells or a named solid to fill. "
                       "Add it, or draw every copy where it stands.");
    for (Cell c : d.pieces[i].cells) {
      const auto [at, added] = owner.try_emplace(c, i);
      if (added || at->second == i) continue;
      tables[i].report(tables[i].place(), "pieces_overlap",
                       fmt::format("pieces \"{}\" and \"{}\" both take cell {}. Move one of them, or add a [goal] for "
                                   "them to be fitted into.",
                                   d.pieces[at->second].name, d.pieces[i].name, show(c)));
      break;
    }
  }
  Cells all;
  for (const auto& [cell, piece] : owner) all.push_back(cell);
  return all;
}

void check_names(const Design& d, const std::vector<Table>& tables) {
  std::set<std::string> names;
  for (std::size_t i = 0; i < d.pieces.size(); ++i)
    if (!names.insert(d.pieces[i].name).second)
      tables[i].report("name", "name_twice",
                       fmt::format("two pieces are called \"{}\". Give each its own name.", d.pieces[i].name));
}

void check_volume(const Design& d, const Table& at) {
  std::size_t pieces = 0, copies = 0;
  for (const Piece& p : d.pieces) {
    copies += static_cast<std::size_t>(p.total_copies());
    pieces += p.cells.size() * static_cast<std::size_t>(p.total_copies());
  }
  if (copies > kMaxPieces || d.goal.size() > kMaxGoalCells)
    at.report(at.place(), "too_large",
              fmt::format("{} pieces and {} cells: at most {} pieces and {} cells can be checked.", copies,
                          d.goal.size(), kMaxPieces, kMaxGoalCells));
  else if (pieces != d.goal.size())
    at.report(at.place(), "wrong_volume",
              fmt::format("the goal has {} cells, the pieces have {} in all: they cannot fill it. Correct the copies, "
                          "the pieces or the goal.",
                          d.goal.size(), pieces));
  else if (!connected(*d.family, d.goal))
    at.report(at.place(), "piece_in_parts",
              "the goal is not in one part: some of its cells share no face with the rest.");
}

Result<Design> design_of(const Document& document) {
  const Table root = document.root();
  root.format(1);
  Design d;
  d.name = root.text("name");
  const std::string family = root.text("family");
  d.family = find_family(family);
  if (!d.family) {
    if (!family.empty())
      root.report("family", "unknown_family",
                  fmt::format("no family is called \"{}\".{} Known: {}.", family, did_you_mean(family, family_names()),
                              quoted_list(family_names(), "and")));
    return document.finish().value_or(Problem{"unknown_family", "", "family", ""});
  }
  const Table goal = root.table_if("goal");
  const auto goal_cells = read_goal(goal, *d.family);
  const std::vector<Table> tables = root.tables("piece");
  for (const Table& t : tables) d.pieces.push_back(read_piece(t, *d.family));
  check_names(d, tables);
  if (auto problem = document.finish()) return *problem;  // before the pieces are put together: they must be sound
  d.goal = goal_cells ? *goal_cells : union_of_pieces(d, tables);
  if (auto problem = document.finish()) return *problem;
  check_volume(d, goal.present() ? goal : tables.front());
  return document.finish(std::move(d));
}

}  // namespace

Result<Design> load_design(const std::filesystem::path& path) {
  auto document = read_toml(path);
  if (!document) return document.problem();
  return design_of(document.value());
}

Result<Design> parse_design(std::string_view text, const std::string& file) {
  auto document = parse_toml(text, file);
  if (!document) return document.problem();
  return design_of(document.value());
}

}  // namespace stickwright
