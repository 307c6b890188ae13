// allowances.h - how much longer or shorter than nominal to set which stop, so that the puzzle has the play it should.
#pragma once
#include <string>
#include <vector>

#include "fit/dimensions.h"

namespace stickwright {

enum class AllowanceVerdict {
  found,
  sticks_needed,  // found, but stops alone do not reach it: the sticks have to be planed to another width, too
  out_of_reach,   // not even so, within the most that may be added
  stopped,        // the search did not settle: neither yes nor no
  never_binds     // the pieces never bind: there is no play to set
};

struct Allowances {
  AllowanceVerdict verdict = AllowanceVerdict::never_binds;
  std::vector<double> mm;  // by dimension, to be added; 0 where none is needed
  double median_mm = 0;    // of the play, with them
  bool reached() const { return verdict == AllowanceVerdict::found || verdict == AllowanceVerdict::sticks_needed; }
};

// The least allowances, summed over the stops, that give the wanted median play, be it more or less than there is.
//   dimensions  dimensions_of; the sticks count ten times, so that they are taken only where stops do not do; glue
//               lines are left alone
//   returns  within kMostAllowance and Dimension::most_short; for more play by cutting planes over the balanced forces
//   of the puzzle whose numbers are at their best
//            values, for less by changing each size of that puzzle alone; then the play that is asked of it is shifted
//            until the median of the drawn ones is the wanted
//   source   docs/derivations/fit.md
Allowances allowances_for(const PuzzleErrors& errors, const GapForms& gaps, const PuzzlePlays& plays,
                          const std::vector<Dimension>& dimensions, double wanted_mm, std::int64_t samples);

}  // namespace stickwright
