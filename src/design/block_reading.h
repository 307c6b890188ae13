// block_reading.h - reads a piece that is drawn as a glue-up of blocks. Private to this room.
#pragma once
#include <optional>
#include <vector>

#include "family/family.h"
#include "text/toml_reader.h"

namespace stickwright {

// The cells of each block.   returns  nothing, with a problem noted, when some block could not be placed
std::optional<std::vector<Cells>> read_blocks(const Table& piece);

}  // namespace stickwright
