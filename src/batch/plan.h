// plan.h - the whole plan of a batch: one value, computed by one function from the files that the maker wrote.
#pragma once
#include <string>
#include <vector>

#include "batch/design_plan.h"
#include "batch/known_saw.h"
#include "batch/set_up.h"
#include "glueup/glueup.h"

namespace stickwright {

// One puzzle of the batch: its design, how many are made, and the wood of every block.
struct PuzzlePlan {
  DesignPlan design;
  int copies = 0;
  std::size_t first = 0;  // of its made pieces in Plan::split
  // wood_of[made piece][copy in one puzzle][block of the piece]
  std::vector<std::vector<std::vector<std::string>>> wood_of;
  int like_wood_contacts = 0;  // cell faces at which neighbors show the same wood
};

struct BatchPlan {
  Batch batch;
  GaugeSet gauge_blocks;
  std::vector<PuzzlePlan> puzzles;
  Split split;                 // all made pieces of all puzzles, in order
  std::vector<SetUp> set_ups;  // one for each shape of the split
  KnownSaw saw;
};

// Reads the batch with its shop and designs, and plans as far as which block of which piece is of which wood: the plan
// has no set-ups, and knows nothing of the saw.
//   errors   those of plan_set_ups but the last
Result<BatchPlan> plan_puzzles(const std::string& batch_file);

// The same, up to the set-ups.
//   errors   those of load_batch and load_design (placed in their files); unknown_piece, unknown_block, wrong_count of
//            woods; does_not_work (a design that does not assemble or come apart); those of plan_set_up
Result<BatchPlan> plan_set_ups(const std::string& batch_file);

// How a set-up is called on the command line, in JSON and in the ledger: "center-block", "prism-block-left-handed".
std::string set_up_id(const BatchPlan& plan, const SetUp& set_up);

// The set-up that `text` names: its id, or its number on the cards, from 1.
//   returns  index into plan.set_ups
//   errors   unknown_set_up (says which there are)
Result<std::size_t> find_set_up(const BatchPlan& plan, const std::string& text);

}  // namespace stickwright
