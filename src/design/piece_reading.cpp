#include "design/piece_reading.h"

#include <fmt/core.h>

#include <algorithm>

#include "design/block_reading.h"
#include "design/cells_reading.h"
#include "design/datum_reading.h"
#include "design/design_file.h"

namespace stickwright {
namespace {

// A square stick lying where it is drawn, less the cubes that are notched out of it.
Cells read_stick(const Table& piece) {
  Cells cells = read_box(piece, "stick");
  const Cells notches = piece.triples_or_none("notches");
  for (std::size_t i = 0; i < notches.size(); ++i) {
    const auto at = std::lower_bound(cells.begin(), cells.end(), notches[i]);
    if (at != cells.end() && *at == notches[i])
      cells.erase(at);
    else if (!cells.empty())
      piece.report(
          "notches", i, "bad_notch",
          fmt::format("cube {} is not in the stick, or is notched out already. Correct it.", show_cell(notches[i])));
  }
  return moved(notched(), {Turn{}, piece.triple_or("at", {})}, cells);
}

Cells read_glued(const Table& table, Piece& p) {
  const auto blocks = read_blocks(table);
  const bool keep = table.flag_or("keep_blocks", false);
  Cells cells;
  if (!blocks) return cells;
  p.drawn_blocks = blocks->asked;
  if (keep) p.own_blocks = blocks->cells;
  for (const Cells& b : blocks->cells) cells.insert(cells.end(), b.begin(), b.end());
  std::sort(cells.begin(), cells.end());
  return cells;
}

// How a piece is drawn: each family has its own way besides plain cells.
enum class Form { blocks, cells, stick };

bool suits(Form form, const Family& family) {
  return form == Form::cells || (form == Form::blocks) == (&family == &mitered());
}

}  // namespace

Piece read_piece(const Table& table, const Family& family) {
  constexpr const char* kKeys[] = {"blocks", "cells", "stick"};
  Piece p;
  p.name = table.text("name");
  p.copies = static_cast<int>(table.integer_or("copies", {0, kMaxPieces}, 1));
  p.mirrored_copies = static_cast<int>(table.integer_or("mirrored_copies", {0, kMaxPieces}, 0));
  p.optional = table.flag_or("optional", false);
  const std::vector<std::string> datum = table.texts_or_none("datum");
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
  if (form == Form::cells) p.cells = read_cells(table, "cells", family);
  if (form == Form::blocks) p.cells = read_glued(table, p);
  if (form == Form::stick) p.cells = read_stick(table);
  if (!p.cells.empty() && !connected(family, p.cells))
    table.report(key, "piece_in_parts",
                 fmt::format("piece \"{}\" is not in one part: some of its cells share no face with the rest. Join "
                             "them, or make two pieces.",
                             p.name));
  p.datum = read_datum(table, datum, family, p.cells);
  return p;
}

}  // namespace stickwright
