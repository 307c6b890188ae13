// best_puzzle.h - the play of the one puzzle whose numbers are all at their best values, but for what is added to some.
#pragma once
#include <vector>

#include "fit/dimensions.h"

namespace stickwright {

// A bound of the play from above, and the play itself where it was made: constant + slope . mm.
struct PlayBound {
  double constant = 0;
  std::vector<double> slope;  // by dimension
  double at(const std::vector<double>& mm) const;
};

// The gaps are linear in what is added to stops, sticks, seatings and glue lines: these move planes and turn none.
class BestPuzzle {
 public:
  //   program     of the rows of `gaps`
  //   dimensions  what is added to
  //   assumes     the contacts can bind
  BestPuzzle(const FitProgram& program, const PuzzleErrors& errors, const GapForms& gaps,
             const std::vector<Dimension>& dimensions);

  // From the balanced forces of the puzzle with so much added to each dimension.
  PlayBound bound_at(const std::vector<double>& mm);

  // By how much a millimeter of the dimension changes the play, at most; 0 where pieces that shift a little make up for
  // it. The play p of gaps h is concave and p(k h) = k p(h), so p(g) + p(h) <= p(g + h) <= p(g) - p(-h).
  //   exact  to 1e-9 mm
  double most_effect(std::size_t dimension);

 private:
  VertexWalk walk_;
  std::vector<double> base_;                 // gaps with nothing added
  std::vector<std::vector<double>> per_mm_;  // [dimension][row]
};

}  // namespace stickwright
