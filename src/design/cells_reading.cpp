#include "design/cells_reading.h"

#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "design/design.h"

namespace stickwright {
namespace {

constexpr std::int64_t kLongestSide = 60;  // of a box of cubes

}  // namespace

std::string show_cell(Cell c) {
  return fmt::format("[{}, {}, {}]", c.x, c.y, c.z);
}

Cells read_cells(const Table& table, std::string_view key, const Family& family) {
  Cells cells = table.has(key) ? table.triples(key) : Cells{};
  std::set<Cell> seen;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (!family.is_cell(cells[i]))
      table.report(key, i, "not_a_cell",
                   fmt::format("{} is not a cell: expected {}. Correct the three numbers.", show_cell(cells[i]),
                               family.cell_rule()));
    else if (!seen.insert(cells[i]).second)
      table.report(key, i, "cell_twice",
                   fmt::format("cell {} stands here twice. Leave it out once.", show_cell(cells[i])));
  }
  return {seen.begin(), seen.end()};
}

Cells read_box(const Table& table, std::string_view key) {
  const Vec size = table.triple(key);
  Cells cells;
  if (std::min({size.x, size.y, size.z}) < 1 || std::max({size.x, size.y, size.z}) > kLongestSide ||
      size.x * size.y * size.z > kMaxGoalCells) {
    if (size != Vec{})
      table.report(key, "out_of_range",
                   fmt::format("expected three sides of 1 to {} cubes, {} cubes in all at most, found {}.",
                               kLongestSide, kMaxGoalCells, show_cell(size)));
    return cells;
  }
  for (std::int64_t x = 0; x < size.x; ++x)
    for (std::int64_t y = 0; y < size.y; ++y)
      for (std::int64_t z = 0; z < size.z; ++z) cells.push_back({x, y, z});
  return cells;
}

}  // namespace stickwright
