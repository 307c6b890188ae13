// piece_reading.h - reads one [[piece]] of a design file. Private to this room.
#pragma once
#include "design/design.h"
#include "text/toml_reader.h"

namespace stickwright {

Piece read_piece(const Table& table, const Family& family);

}  // namespace stickwright
