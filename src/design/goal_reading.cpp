#include "design/goal_reading.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "design/cells_reading.h"
#include "design/solids.h"
#include "text/nearest.h"

namespace stickwright {
namespace {

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

}  // namespace

std::optional<Cells> read_goal(const Table& goal, const Family& family) {
  if (!goal.present()) return {};
  const char* const own = &family == &mitered() ? "solid" : "box";
  if (goal.exactly_one_of({"cells", own}) == 0) return read_cells(goal, "cells", family);
  return &family == &mitered() ? read_solid(goal) : read_box(goal, "box");
}

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
                                   d.pieces[at->second].name, d.pieces[i].name, show_cell(c)));
      break;
    }
  }
  Cells all;
  for (const auto& [cell, piece] : owner) all.push_back(cell);
  return all;
}

}  // namespace stickwright
