// block_reading.h - reads a piece that is drawn as a glue-up of blocks. Private to this room.
#pragma once
#include <optional>
#include <vector>

#include "design/glue_list.h"
#include "text/toml_reader.h"

namespace stickwright {

struct BlockList {
  std::vector<BlockAsked> asked;  // as written
  std::vector<Cells> cells;       // of each block
};

//   returns  nothing, with a problem noted, when some block could not be placed
std::optional<BlockList> read_blocks(const Table& piece);

}  // namespace stickwright
