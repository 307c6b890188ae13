// sort_plan.h - measured blocks, sorted into pieces and puzzles so that the worst puzzle is as good as can be.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "batch/block_sizes.h"
#include "batch/plan.h"
#include "sorting/sorting.h"

namespace stickwright {

// Where a measured block goes.
struct SortedPlace {
  std::string piece;  // "arm 3"
  int block = 0;      // of the piece's glue-up
  SortedBlock content;
  // Blocks of the piece that are glued to the sides of width 1 and 2: they say how the block lies.
  std::array<std::vector<int>, 2> against{};
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
  double as_they_come_mm = 0;     // of the worst one, when blocks are taken by their numbers or as they were measured
  std::vector<SortedBlock> left;  // measured blocks that stay on the shelf
  std::vector<int> no_matter;     // shapes that were measured, but none of whose readings tell of the play
  int without_wood = 0;           // readings that cannot be sorted: nobody wrote down their wood,
  int without_number = 0;         // or which block they are of
};

// By the readings of single blocks: their widths across the sides of the stick, and across flats those that have two
// parallel sawn faces themselves.
//   errors   those of the ledger; nothing_to_sort (no reading of a size that changes the play)
//   assumes  what a block measures too much or too little across flats, beyond what its widths do to it, lies where its
//            stop puts it; a size that was not measured, and a block of which nothing was, is the mean of those that
//            were; blocks lie in their pieces as the plan has them (SortedPlace::against)
Result<SortPlan> plan_sorting(const BatchPlan& plan, const std::filesystem::path& ledger);

}  // namespace stickwright
