// tolerances.h - how exactly each set-up has to be made, so that as many puzzles close as should.
#pragma once
#include <vector>

#include "fit/dimensions.h"
#include "fit/play_tally.h"

namespace stickwright {

// Every stop of a set-up has to stand to within this of where it should, to either side: two standard uncertainties.
struct NeededTolerance {
  int shape = 0;
  double tolerance_mm = 0;
};

struct Tolerances {
  // False: not even with all stops exact would as many close; the tolerances are then 0.
  bool reachable = false;
  std::vector<NeededTolerance> needed;  // by shape
  ShareFound closes;                    // with stops to these tolerances; when unreachable, with exact stops
};

inline constexpr double kLooseTolerance = 0.5;  // mm: no stop needs to be looser

// The least effort: the effort of a stop is taken as one over its tolerance (the reciprocal cost of tolerance
// allocation), and the variance that the stops may bring to the play is handed out so that the sum of the efforts is
// least. How much in all is then found by drawing puzzles.
//   around   mm, by dimension: the allowances that are put on
//   chance   share of the puzzles that should close
//   samples  puzzles for every trial
//   source   reciprocal cost model: K. W. Chase, W. H. Greenwood, B. G. Loosli, L. F. Hauglund, "Least cost tolerance
//            allocation for mechanical assemblies with automated process selection", Manufacturing Review 3 (1990) 49
//            (from memory); docs/derivations/fit.md
Tolerances tolerances_for(const PuzzleErrors& errors, const PuzzlePlays& plays,
                          const std::vector<Dimension>& dimensions, const std::vector<double>& around,
                          const PlayWindow& window, double chance, std::int64_t samples);

}  // namespace stickwright
