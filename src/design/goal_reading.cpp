#include "design/goal_reading.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "design/cells_reading.h"
#include "design/design_file.h"
#include "design/solids.h"
#include "text/nearest.h"

namespace stickwright {
namespace {

Cells read_solid(const Table& goal, GoalGiven& given) {
  const std::string name = goal.text("solid");
  const auto size = goal.integer_or("size", {1, 3}, 1);
  const auto cells = named_solid(name, static_cast<int>(std::max<std::int64_t>(size, 1)));
  if (!cells && !name.empty())
    goal.report("solid", "unknown_solid",
                fmt::format("no solid is called \"{}\".{} Known: {}.", name, did_you_mean(name, solid_names()),
                            quoted_list(solid_names(), "and")));
  given = {name, static_cast<int>(size)};
  return cells.value_or(Cells{});
}

Cells read_cells_to_fill(const Table& goal, const Family& family, GoalGiven& given) {
  const char* const own = &family == &mitered() ? "solid" : "box";
  if (goal.exactly_one_of({"cells", own}) == 0) return read_cells(goal, "cells", family);
  return &family == &mitered() ? read_solid(goal, given) : read_box(goal, "box");
}

// These cells are given besides those that must be filled.
Cells read_may_stay_empty(const Table& goal, const Family& family, const Cells& to_fill) {
  const Cells listed = goal.has("may_stay_empty") ? goal.triples("may_stay_empty") : Cells{};
  for (std::size_t i = 0; i < listed.size(); ++i)
    if (std::binary_search(to_fill.begin(), to_fill.end(), listed[i]))
      goal.report("may_stay_empty", i, "must_be_filled",
                  fmt::format("cell {} is one of those that must be filled, so leave it out of one of the two.",
                              show_cell(listed[i])));
  return read_cells(goal, "may_stay_empty", family);
}

Cells joined(Cells a, const Cells& b) {
  a.insert(a.end(), b.begin(), b.end());
  std::sort(a.begin(), a.end());
  return a;
}

// Of a design without a goal every piece is used, standing where it is drawn.
void check_all_drawn_once(const Piece& p, const Table& table) {
  if (p.optional)
    table.report(
        "optional", "optional_needs_goal",
        "a piece can be left out only where there is a [goal] for the others to fill, so add one, or take this "
        "key away.");
  if (p.copies == 1 && p.mirrored_copies == 0) return;
  table.report(p.copies != 1 ? "copies" : "mirrored_copies", "copies_need_goal",
               "a piece with more copies than the one drawn needs a [goal]: cells or a named solid to fill. "
               "Add it, or draw every copy where it stands.");
}

}  // namespace

void read_goal(const Table& goal, Design& d) {
  if (!goal.present()) return;
  const Cells to_fill = read_cells_to_fill(goal, *d.family, d.goal_given.emplace());
  d.may_stay_empty = read_may_stay_empty(goal, *d.family, to_fill);
  d.goal = joined(to_fill, d.may_stay_empty);
  if (goal.has("pieces")) d.pieces_used = static_cast<int>(goal.integer("pieces", {1, kMaxPieces}));
}

Cells union_of_pieces(const Design& d, const std::vector<Table>& tables) {
  std::map<Cell, std::size_t> owner;
  for (std::size_t i = 0; i < d.pieces.size(); ++i) {
    check_all_drawn_once(d.pieces[i], tables[i]);
    for (Cell c : d.pieces[i].cells) {
      const auto [at, added] = owner.try_emplace(c, i);
      if (added || at->second == i) continue;
      tables[i].report(tables[i].place(), "pieces_overlap",
                       fmt::format("pieces \"{}\" and \"{}\" both take cell {}. Move one of them, or add a [goal] for "
                                   "them to be fitted into.",
                                   d.pieces[at->second].name, d.pieces[i].name, show_cell(c)));
      break;
    }
  }
  Cells all;
  for (const auto& [cell, piece] : owner) all.push_back(cell);
  return all;
}

}  // namespace stickwright
