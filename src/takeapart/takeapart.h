// takeapart.h - how an assembled puzzle comes apart: groups of pieces sliding in straight lines, swept exactly.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "family/family.h"
#include "quantity/result.h"

namespace stickwright {

// One group of pieces slides by distance * direction (lattice units), or away for good.
struct Step {
  std::vector<int> moves;  // pieces that slide, ascending
  std::vector<int> from;   // pieces that they slide away from: the rest of the same part, held still
  Vec direction;
  std::optional<std::int64_t> distance;  // nothing: free, the group leaves
  friend auto operator<=>(const Step&, const Step&) = default;
};

struct TakeApart {
  Verdict verdict = Verdict::stopped;
  std::vector<Step> steps;  // when found: until every piece is alone
  std::int64_t states = 0;  // positions looked at
};

struct TakeApartLimits {
  std::int64_t states = 20'000;
};

// Takes the pieces apart, group by group.
//   pieces   where they stand in the assembly; no two overlap
//   returns  found; none_exists when every position that slides in the family's directions with whole-number stops can
//            reach has been looked at; stopped at the limit
//   exact    every slide is swept with integers, breadth first over positions
TakeApart take_apart(const Family& family, const std::vector<Cells>& pieces, const TakeApartLimits& limits = {});

// True when the steps take all pieces apart without one entering another. Knows only the rules: it tests moving pairs
// of convex cells with separating axes made from their own faces and edges.
bool check_take_apart(const Family& family, const std::vector<Cells>& pieces, const std::vector<Step>& steps);

}  // namespace stickwright
