// brute_force.h - every subset of a small gauge-block set, tried one by one: what the searches are held against.
#pragma once
#include <optional>
#include <random>
#include <tuple>
#include <vector>

#include "metrology/stack.h"

namespace stickwright::brute {

// Ordered as build_stack orders stacks: count, tolerance, deviation, indices.
using Rank = std::tuple<std::size_t, std::int64_t, std::int64_t, std::vector<std::size_t>>;

struct Subset {
  unsigned bits = 0;
  Rank rank;
};

// Every subset of up to eight blocks that meets the target.
inline std::vector<Subset> all_stacks(Nm target, Nm within, const GaugeSet& set) {
  std::vector<Subset> out;
  for (unsigned bits = 1; bits < 1u << set.blocks.size(); ++bits) {
    std::int64_t sum = 0, tolerance = 0;
    std::vector<std::size_t> blocks;
    for (std::size_t i = 0; i < set.blocks.size(); ++i)
      if (bits >> i & 1) {
        sum += set.blocks[i].size.v;
        tolerance += set.blocks[i].tolerance.v;
        blocks.push_back(i);
      }
    const std::int64_t deviation = sum > target.v ? sum - target.v : target.v - sum;
    if (blocks.size() <= 8 && deviation <= within.v)
      out.push_back({bits, {blocks.size(), tolerance, deviation, blocks}});
  }
  return out;
}

inline std::optional<Rank> best_stack(Nm target, Nm within, const GaugeSet& set) {
  std::optional<Rank> best;
  for (const Subset& s : all_stacks(target, within, set))
    if (!best || s.rank < *best) best = s.rank;
  return best;
}

// Count, tolerance and deviation in all, then the stacks one after the other.
using JointRank = std::tuple<std::size_t, std::int64_t, std::int64_t, std::vector<Rank>>;

inline void add_stacks(const std::vector<std::vector<Subset>>& choices, std::size_t i, unsigned used, JointRank so_far,
                       std::optional<JointRank>& best) {
  if (i == choices.size()) {
    if (!best || so_far < *best) best = so_far;
    return;
  }
  for (const Subset& s : choices[i]) {
    if (s.bits & used) continue;
    JointRank next = so_far;
    std::get<0>(next) += std::get<0>(s.rank);
    std::get<1>(next) += std::get<1>(s.rank);
    std::get<2>(next) += std::get<2>(s.rank);
    std::get<3>(next).push_back(s.rank);
    add_stacks(choices, i + 1, used | s.bits, next, best);
  }
}

inline std::optional<JointRank> best_stacks(const std::vector<Nm>& targets, Nm within, const GaugeSet& set) {
  std::vector<std::vector<Subset>> choices;
  for (const Nm t : targets) choices.push_back(all_stacks(t, within, set));
  std::optional<JointRank> best;
  add_stacks(choices, 0, 0, {}, best);
  return best;
}

// A set of n blocks, whole multiples of 0.5 mm so that ties abound. Above 10 mm the tolerance differs.
inline GaugeSet random_set(std::mt19937& random, std::size_t n, unsigned longest_mm) {
  std::vector<Nm> sizes;
  for (std::size_t i = 0; i < n; ++i)
    sizes.push_back(Nm{500'000 * static_cast<std::int64_t>(1 + random() % (2 * longest_mm))});
  return custom_gauge_set(sizes, "1").take();
}

}  // namespace stickwright::brute
