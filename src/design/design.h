// design.h - a puzzle as its maker describes it: named pieces made of cells, and the solid that they fill together.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "design/glue_list.h"
#include "family/family.h"

namespace stickwright {

// The most cells of a goal, hence of a piece: designs beyond are refused on load, never cut short.
inline constexpr int kMaxGoalCells = 512;

struct Piece {
  std::string name;
  int copies = 1;                 // supplied as drawn
  int mirrored_copies = 0;        // supplied as mirror images, besides
  Cells cells;                    // as given in the file
  std::vector<Cells> own_blocks;  // the maker's own glue-up, when the piece is to be kept as given; else empty
  bool optional = false;          // an assembly may use any number of the copies, or none
  std::vector<Vec> datum = {};    // outward normals of the faces that the plates of the glue jig hold, as drawn
  std::vector<BlockAsked> drawn_blocks = {};  // as the file lists them; empty when it gives cells or a stick
  int total_copies() const { return copies + mirrored_copies; }
};

// What the file says of the goal.
struct GoalGiven {
  std::string solid;  // a named one; else ""
  int size = 1;
};

struct Design {
  std::string name;
  const Family* family = nullptr;
  Cells goal;
  std::vector<Piece> pieces;
  Cells may_stay_empty = {};                 // cells of the goal that an assembly need not fill
  std::optional<int> pieces_used = {};       // how many pieces an assembly uses; nothing: as many as fill the goal
  std::optional<GoalGiven> goal_given = {};  // nothing: the pieces stand where they belong
  bool draft = false;                        // still being built: the pieces need not have as many cells as the goal
  bool all_used() const;                     // no piece is optional
};

// What is still wrong with the counts of a draft: "60 cells of the goal are not filled yet"; "" when the pieces can
// fill the goal as far as counting tells.
std::string unfilled_in_words(const Design& design);

// A piece as it is made: a piece of the design, or its mirror image where mirrored copies are supplied.
struct MadePiece {
  int piece = 0;  // index into Design::pieces
  bool mirrored = false;
  std::string name;  // "arm", "arm (mirror image)"
  int copies = 0;    // in one puzzle
  Cells cells;
  std::vector<Cells> own_blocks;
  std::vector<Vec> datum = {};  // mirrored like the cells
};
std::vector<MadePiece> made_pieces(const Design& design);

// The design reduced to the pieces that one assembly uses, and the cells that it fills: nothing of it is optional.
//   used     how many copies of each of made_pieces(design)
//   filled   the cells that they fill
Design settled(const Design& design, const std::vector<int>& used, Cells filled);

// The rotations, with shifts, that map a set of cells onto itself; the identity first.
std::vector<Isometry> rotations_onto_itself(const Family& family, const Cells& cells);
// The reflections, with shifts, that do.
std::vector<Isometry> reflections_onto_itself(const Family& family, const Cells& cells);

}  // namespace stickwright
