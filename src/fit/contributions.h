// contributions.h - which source makes how much of the play's spread.
#pragma once
#include <string>
#include <vector>

#include "fit/puzzle_plays.h"

namespace stickwright {

struct Contribution {
  std::string source;
  double share = 0;        // of the play's variance: what would go if the source were known, on the average
  double with_others = 0;  // the same and all that it does together with other sources
};

struct Contributions {
  std::vector<Contribution> of;  // by share, largest first
  double together = 0;           // share of the variance that no source makes by itself
  double u = 0;                  // standard uncertainty of a share, from the number of puzzles drawn
  std::int64_t samples = 0;
};

// Shares of variance by source; all numbers of one source are drawn anew together, so that common causes stay together.
//   samples  puzzles per source and twice more
//   source   first-order index: M. J. W. Jansen, Computer Physics Communications 117 (1999) 35; total index the same;
//            A. Saltelli et al., Computer Physics Communications 181 (2010) 259, table 2 (both from memory)
Contributions contributions(const PuzzleErrors& errors, const PuzzlePlays& plays, std::int64_t samples);

}  // namespace stickwright
