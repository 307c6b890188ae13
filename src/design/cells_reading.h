// cells_reading.h - reads cells as a maker lists them. Private to this room.
#pragma once
#include <string>
#include <string_view>

#include "family/family.h"
#include "text/toml_reader.h"

namespace stickwright {

// "[4, 2, 0]"
std::string show_cell(Cell c);

// The key's list of cells: each must be a cell, none twice. None when the key is not there.
Cells read_cells(const Table& table, std::string_view key, const Family& family);

// The cubes of a box with one corner at the origin, given by its three sides.
Cells read_box(const Table& table, std::string_view key);

}  // namespace stickwright
