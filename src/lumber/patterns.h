// patterns.h - ways to fill one stick, and how often to use each. Inside this room only.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

namespace stickwright {

// Parts of equal length are one size; sizes descend.
struct Size {
  std::int64_t length = 0;
  int demand = 0;
  std::vector<int> parts;  // the parts of this length, each as often as it is wanted
};

// Sticks of one length: the room between head and tail, and how many there are.
struct Sticks {
  std::int64_t room = 0;
  int count = 0;
  double length_mm = 0;
};

// counts[i] parts of size i from a stick of stock length `stock`.
struct Pattern {
  std::size_t stock = 0;
  std::vector<int> counts;
};

// Appends the patterns to which no part can be added, counts no higher than the demand.
//   returns  false when there would be more than `most` in all, or the walk grows out of proportion to that
bool add_maximal_patterns(const std::vector<Size>& sizes, const std::vector<Sticks>& rack, std::size_t most,
                          std::vector<Pattern>& out);

// Longest part first into the first stick that takes it (or the fullest); a fresh stick is the roomiest on the rack.
//   returns  one pattern a stick; empty when the rack runs out
enum class Fit { first, tightest };
std::vector<Pattern> fit_one_by_one(const std::vector<Size>& sizes, const std::vector<Sticks>& rack, Fit fit);

// The fullest use of one stick when a part of size i is worth worth[i].
//   returns  a filling; `most` = no filling is worth more, equal to the worth of this one unless the walk was cut short
struct Filling {
  std::vector<int> counts;
  std::int64_t worth = 0, most = 0;
};
Filling best_filling(const std::vector<Size>& sizes, const std::vector<std::int64_t>& worth, std::int64_t room);

// Patterns worth using, found by pricing: `start` and those that the linear relaxation asks for.
//   exact    the bound holds whatever the linear solver answers: its prices are rounded to integers, and every pattern
//   is
//            weighed against them in integers
struct PricedPatterns {
  std::vector<Pattern> patterns;
  int bound = 0;  // no plan uses fewer sticks
};
PricedPatterns price_patterns(const std::vector<Size>& sizes, const std::vector<Sticks>& rack,
                              std::vector<Pattern> start);

struct SolverLimits {
  int nodes = 0;
  double seconds = 0;  // 0: none, so that runs repeat
};

// How many of each pattern, by integer program. Patterns may cut more than is wanted.
struct PatternAnswer {
  bool proven = false;     // with these patterns: optimal, or infeasible
  bool feasible = false;   // demands and counts re-checked in integers
  std::vector<int> times;  // by pattern
};
// Fewest sticks; with `most_sticks`, no more than that many and the least length instead.
PatternAnswer choose_patterns(const std::vector<Size>& sizes, const std::vector<Sticks>& rack,
                              const std::vector<Pattern>& patterns, std::optional<int> most_sticks,
                              const SolverLimits& limits);

}  // namespace stickwright
