// synthetic_fit.h - small made-up fits whose play is a formula.
#pragma once
#include <string>
#include <vector>

#include "fit/puzzle_errors.h"

namespace stickwright::synthetic {

inline Estimate known(double value, double u, Spread spread = Spread::normal) {
  Estimate e;
  e.value = value, e.u = u, e.spread = spread;
  return e;
}

// A body between two walls of another one, along x only: play = (gap on the left + gap on the right) / 2.
//   left, right  forms of the numbers
struct Between {
  PuzzleErrors errors;
  GapForms gaps;
};
inline Between between(std::vector<FitNumber> numbers, Form left, Form right) {
  Between b;
  b.errors.numbers = std::move(numbers);
  b.gaps.rows.bodies = 2;
  b.gaps.rows.center = {{0, 0, 0}, {0, 0, 0}};
  // Three corners on each side, so that nothing can turn.
  for (const auto& [x, way, form] : {std::tuple(-10.0, 1.0, left), std::tuple(10.0, -1.0, right)})
    for (const auto& [y, z] : {std::pair(-5.0, -5.0), std::pair(5.0, -5.0), std::pair(0.0, 5.0)}) {
      b.gaps.rows.rows.push_back({0, 1, {way, 0, 0}, {x, y, z}});
      b.gaps.gap.push_back(form);
      b.gaps.contact.push_back(way > 0 ? 0 : 1);
    }
  return b;
}

}  // namespace stickwright::synthetic
