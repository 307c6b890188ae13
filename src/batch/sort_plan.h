// sort_plan.h - measured blocks, sorted into pieces and puzzles so that the worst puzzle is as good as can be.
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "batch/plan.h"
#include "ledger/entries.h"
#include "sorting/sorting.h"

namespace stickwright {

// A block that was measured across flats, or any one that was not.
struct SortedBlock {
  int shape = 0;
  std::string wood;
  std::optional<EntryId> reading;  // the entry in the ledger; nothing: a block that was not measured
  double off_mm = 0;               // across flats, measured less wanted
};

// Where it goes.
struct SortedPlace {
  std::string piece;  // "arm 3"
  int block = 0;      // of the piece's glue-up
  SortedBlock content;
};

struct SortedPuzzle {
  std::string design;
  int copy = 0;                     // from 0
  double play_mm = 0;               // of the puzzle in which nothing is off but its measured blocks
  std::vector<SortedPlace> places;  // those that measured blocks fill
};

struct SortPlan {
  Verdict verdict = Verdict::stopped;  // found: proven best
  std::vector<SortedPuzzle> puzzles;   // those that bind; the others go together whatever block is where
  double worst_mm = 0, bound_mm = 0;   // play of the worst puzzle; no sorting has a better worst one
  double as_they_come_mm = 0;     // of the worst one, when blocks are taken in the order in which they were measured
  std::vector<SortedBlock> left;  // measured blocks that stay on the shelf
  std::vector<int> no_matter;     // shapes that were measured, but none of whose readings tell of the play
  int without_wood = 0;           // readings that cannot be sorted: nobody wrote down their wood
};

// Readings across flats of blocks that have two parallel sawn faces themselves; one reading, one block. Of a shape with
// several such stops, the readings of the one that does most to the gaps count.
//   errors   those of the ledger; nothing_to_sort (no reading of such a block)
//   assumes  what a block measures too much or too little lies where its stop puts it; a place for which too few blocks
//            were measured takes one that was not, as good as the mean of those that were
Result<SortPlan> plan_sorting(const BatchPlan& plan, const std::filesystem::path& ledger);

}  // namespace stickwright
