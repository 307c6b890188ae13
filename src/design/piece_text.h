// piece_text.h - pieces and blocks as a maker would write them. Private to this room.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "design/design_edit.h"
#include "text/toml_layout.h"

namespace stickwright {

std::string block_text(const BlockAsked& block);  // { shape = "prism block", hand = "left", on = 1, face = "+x+z" }
std::string datum_text(const std::vector<std::string>& faces);
// [ one block a line ]
std::string blocks_text(const std::vector<BlockAsked>& blocks, std::string_view indent, std::string_view line_end);
// A [[piece]] table from its header to the end of its last line.
std::string piece_text(const PieceAsked& piece, std::string_view line_end);

// A span of the old text, and what stands there in the new one.
struct TextChange {
  TextSpan span;
  std::string by;
};
//   changes   none overlaps another; of several at one place the first comes first
std::string changed_text(std::string_view text, std::vector<TextChange> changes);

// The changes that turn a written list of blocks into another: what stays the same is not touched.
std::vector<TextChange> block_changes(std::string_view text, const LaidValue& list, const std::vector<BlockAsked>& were,
                                      const std::vector<BlockAsked>& are);

}  // namespace stickwright
