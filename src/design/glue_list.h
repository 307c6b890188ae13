// glue_list.h - a piece as a list of blocks, each glued on one before: from plain values, so that a file and a page can
// ask for the same.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "block/catalogue.h"

namespace stickwright {

// One entry of `blocks`, as a maker writes it. Keys: docs/files.md.
struct BlockAsked {
  std::string shape;
  Hand hand = Hand::none;
  std::optional<std::int64_t> on;  // counts from 1
  std::optional<std::string> face;
  std::optional<std::int64_t> turn;
  std::optional<Vec> at;
  friend bool operator==(const BlockAsked&, const BlockAsked&) = default;
};

// A block where it sits.
struct SeatedBlock {
  const Block* shape = nullptr;  // lives as long as the program
  Cells cells;
};

// Why an entry cannot be placed: the key at fault, "" for the entry as a whole.
struct NotSeated {
  std::string key, code, say;
};

// Every block that a file can name.
const std::vector<Block>& nameable_blocks();

// The face of a block before that is called so.   errors   out_of_range (`on`), bad_face
std::variant<Vec, NotSeated> face_asked(std::int64_t on, const std::string& face, const std::vector<Cells>& before);

// Places one entry after those before it.
//   before   the cells of each block before; empty where one could not be placed
//   taken    all cells of these, sorted
//   errors   unknown_shape, hand_needed, out_of_range, missing_key, bad_face, no_way_to_glue, several_ways, bad_shift,
//            blocks_overlap
std::variant<SeatedBlock, NotSeated> seat_block(const BlockAsked& asked, const std::vector<Cells>& before,
                                                const Cells& taken);

// How a face is named in a file: "+x+y" for the outward normal (1, 1, 0).
std::string face_name(Vec normal);

}  // namespace stickwright
