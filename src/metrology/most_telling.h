// most_telling.h - which further reading would tell most.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "metrology/least_squares.h"

namespace stickwright {

// A reading that could be taken.
struct CandidateRow {
  std::string name;
  std::vector<double> coefficients;
  double u = 1;  // > 0
};

// What one candidate would do.
struct Telling {
  std::size_t candidate = 0;
  double hidden = 0;    // how much of the goal no reading determines afterwards: of one unknown 0..1, of all unknowns
                        // the number of hidden directions
  double variance = 0;  // of the determined part of the goal afterwards, in squared scales
};

// The candidates, the most telling first: least hidden, then least variance, then the first in order. A candidate that
// lets a hidden direction be seen is so better than any that only sharpens what is seen.
//   goal     one unknown; or none: the sum over all unknowns of the variance in squared scales
//   throws   logic_error as solve does; a goal that is not there
//   exact    each candidate is added to the rows and the whole decomposed again
std::vector<Telling> most_telling(const LinearSystem& system, const std::vector<CandidateRow>& candidates,
                                  std::optional<std::size_t> goal = std::nullopt);

}  // namespace stickwright
