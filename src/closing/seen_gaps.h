// seen_gaps.h - how wide the joints of the closed puzzle gape, seen from outside.
#pragma once
#include <memory>
#include <span>
#include <vector>

#include "closing/closed_fit.h"

namespace stickwright {

// The puzzle pushed together as well as it goes.
struct PushedTogether {
  double widest_mm = 0;      // of the gaps that are seen
  std::vector<Twist> moved;  // [bodies]
};

class SeenGaps {
 public:
  //   seen  by row of the program: that corner of a contact can be seen from outside; at least one
  SeenGaps(const FitProgram& program, const std::vector<bool>& seen);

  // Where the widest of the seen gaps is least, no contact being pressed harder than the best fit must press it.
  //   h     mm, [rows]: the gaps before any piece is moved
  //   play  mm, of these gaps; endless where the contacts cannot bind
  //   exact by the linear solver, all gaps checked to 1e-8 mm
  PushedTogether push(std::span<const double> h, double play) const;

 private:
  const FitProgram& program_;
  std::vector<int> seen_;
  struct Conditions;
  std::shared_ptr<const Conditions> conditions_;
};

}  // namespace stickwright
