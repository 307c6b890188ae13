// patterns.h - all ways to fill one stick. Inside this room only.
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

// counts[i] parts of size i from a stick of stock length `stock`.
struct Pattern {
  std::size_t stock = 0;
  std::vector<int> counts;
};

// Appends the patterns to which no part can be added, counts no higher than the demand.
//   returns  false when there would be more than `most` in all
bool add_maximal_patterns(const std::vector<Size>& sizes, std::size_t stock, std::int64_t room, std::size_t most,
                          std::vector<Pattern>& out);

// First fit, longest part first, longest stick first: a plan to start from.   returns  empty when the rack runs out
struct Bin {
  std::size_t stock = 0;
  std::int64_t room = 0;
  std::vector<int> counts;
};
std::vector<Bin> first_fit(const std::vector<Size>& sizes, const std::vector<std::int64_t>& rooms,
                           const std::vector<int>& stock_counts);

// How many of each pattern, by integer program.
struct PatternAnswer {
  bool proven = false;  // optimal, or infeasible
  bool feasible = false;
  std::vector<int> times;
  double bound = 0;  // on the objective
};
// Fewest sticks; with `sticks`, that many sticks and the least cost instead.
PatternAnswer choose_patterns(const std::vector<Size>& sizes, const std::vector<Pattern>& patterns,
                              const std::vector<int>& stock_counts, const std::vector<double>& cost,
                              std::optional<int> sticks, int most_nodes);

}  // namespace stickwright
