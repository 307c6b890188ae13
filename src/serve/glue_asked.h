// glue_asked.h - what the page asks while a piece is being built. Private to this room.
#pragma once
#include <optional>
#include <vector>

#include "design/design.h"
#include "serve/call.h"
#include "serve/given.h"
#include "serve/saw_rule.h"

namespace stickwright {

struct GlueAsked {
  std::optional<Design> design;      // whose goal the piece is for; of one not saved yet it has the goal alone
  std::optional<std::size_t> piece;  // of the design: the one that is edited
  std::int64_t copies = 1, mirrored_copies = 0;
  std::vector<BlockAsked> blocks;
  SawRule saw;
};

// The "goal" of a call: a named solid; a null or missing one is none.   errors   unknown_key (a box is of the notched
// family, whose pieces are not glued)
std::optional<GoalGiven> read_goal_given(const Given& body);

// Reads a list of blocks, as in a design file but with "on" and "hand" null where they are not given.
std::vector<BlockAsked> read_blocks_given(const Given& body);
nlohmann::ordered_json block_asked_json(const BlockAsked& asked);

//   more     keys that the call takes besides
//   errors   of Given; of Folder::file and load_design; of saw_rule_of; wrong_family; out_of_range (no such piece);
//            unknown_solid; two_goals (of a design and one besides)
Result<GlueAsked> read_glue_asked(const Folder& folder, const Call& call,
                                  std::initializer_list<std::string_view> more = {});

// The blocks where they sit.
struct GluedList {
  std::vector<SeatedBlock> blocks;
  std::vector<Cells> cells;  // of each
  Cells all;
};
//   errors   those of seat_block, at "blocks[1].turn"; too_large; piece_in_parts
Result<GluedList> glue_up_list(const std::vector<BlockAsked>& asked);

// What the piece leaves of the design's goal. Cells, copies counted.
struct GoalCount {
  std::int64_t cells = 0, others = 0, here = 0;
  std::int64_t left() const { return cells - others - here; }
};
//   returns  nothing without a goal
std::optional<GoalCount> goal_count(const GlueAsked& asked, std::size_t piece_cells);

// Where a piece, and its mirror image where copies of that are asked for, can lie in the goal.
class RoomInGoal {
 public:
  RoomInGoal(const GlueAsked& asked, const Cells& piece);
  // Nothing without a goal.
  std::optional<bool> fits() const;
  // The same with some cells more.
  std::optional<bool> fits_with(const Cells& more) const;

 private:
  const Design* design_ = nullptr;
  std::vector<std::vector<Isometry>> ways_;  // of the piece; of the mirror image
};

}  // namespace stickwright
