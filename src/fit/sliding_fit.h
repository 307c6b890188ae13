// sliding_fit.h - whether the pieces slide past each other all the way out.
#pragma once
#include <vector>

#include "fit/dimensions.h"
#include "fit/play_tally.h"
#include "takeapart/takeapart.h"

namespace stickwright {

// One step of taking the puzzle apart.
struct SlidingStep {
  bool binds = false;  // somewhere on its way contacts press against each other; else there is nothing to bind
  double median_mm = 0, p05_mm = 0;  // of the least play on the way
  ShareFound slides;                 // share of the puzzles in which it stays above what hands force
  double tightest_at = 0;            // lattice units that the group has moved where the median puzzle is tightest
  int places = 0;                    // at which it was looked at
};

inline constexpr int kPlacesPerUnit = 4;

// At every quarter of a lattice unit on the way of every step, all pieces that are still together in that step stand
// free to move by small amounts: the greatest play with which all of them can stand there.
//   closes_from  mm
//   not for      what lies between two places: a contact that only comes and goes there is missed
//   source       docs/derivations/fit.md
std::vector<SlidingStep> sliding_fit(const ClosedPuzzle& puzzle, const PuzzleErrors& errors,
                                     const std::vector<Cells>& pieces, const std::vector<Step>& steps,
                                     std::uint64_t seed, const std::vector<Dimension>& dimensions,
                                     const std::vector<double>& added, const PlayWindow& window, std::int64_t samples);

}  // namespace stickwright
