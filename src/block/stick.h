// stick.h - the cells of one square stick, and the pieces of it that two ends of miters leave.
#pragma once
#include <bitset>
#include <functional>
#include <set>

#include "family/family.h"

namespace stickwright {

// Which stick along an axis: the cells with 2i < x+y < 2i+2 and 2j < x-y < 2j+2 (x, y, z turned so that z is the axis).
struct StickId {
  int axis = 2;
  std::int64_t i = 0, j = 0;
  friend auto operator<=>(const StickId&, const StickId&) = default;
};

StickId stick_through(Cell cell, int axis);

// Takes the stick to the standard one: along z, 0 < x±y < 2, its axis through (1, 0, z).
Isometry to_standard_stick(const StickId& stick);

// The axes along which all cells lie in one stick.
std::vector<int> stick_axes_of(const Cells& cells);

// All cell sets that miters at both ends leave of the standard stick, among the given cells of it (sorted).
std::set<Cells> blocks_of_standard_stick(const Cells& allowed);

// The same, of at most `most_cells` cells and anywhere in the stick, but only one of those that differ by a shift of
// two units along it: the tightest near miter crosses the axis at 0 or 1.
std::set<Cells> blocks_of_any_stick(int most_cells);

// The cells of the standard stick with all corners at z_low <= z <= z_high.
Cells standard_stick_cells(std::int64_t z_low, std::int64_t z_high);

}  // namespace stickwright
