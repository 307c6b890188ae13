// design_edit.h - changes one piece in the text of a design file and leaves every other byte as it is.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "design/design.h"
#include "quantity/result.h"

namespace stickwright {

// A [[piece]] table as it should be.
struct PieceAsked {
  std::string name;
  int copies = 1, mirrored_copies = 0;
  bool optional = false, keep_blocks = false;
  std::vector<std::string> datum;                 // names of faces
  std::optional<std::vector<BlockAsked>> blocks;  // nothing: drawn as it is, as cells, a stick or blocks
};

// All below give the whole new text. Each has been read again: it holds exactly the piece asked for, and all others and
// the goal as they were. Where only the number of cells does not fit the goal yet, the text says `draft = true`; where
// it fits, it no longer does.
//   file     the name that problems carry
//   errors   those of parse_design, of the old text and of the new; out_of_range (no such piece); cannot_edit (the file
//            is TOML, but written in a way that is not changed here: pieces inside `piece = [...]`, [[piece.blocks]])

// Of the table only the values that change are written anew.
Result<std::string> with_piece_changed(std::string_view text, const std::string& file, std::size_t index,
                                       const PieceAsked& asked);
// At the end of the file.
Result<std::string> with_piece_added(std::string_view text, const std::string& file, const PieceAsked& asked);
// From its header to its last value, with the comments between; those above the header stay.
Result<std::string> with_piece_removed(std::string_view text, const std::string& file, std::size_t index);

struct NewDesign {
  std::string name, family;
  std::optional<GoalGiven> goal;
  PieceAsked piece;
};
Result<std::string> new_design_text(const NewDesign& design, const std::string& file);

}  // namespace stickwright
