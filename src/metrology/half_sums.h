// half_sums.h - the sums of a few gauge blocks in order: the lower and the upper part of every possible stack.
// Inside this room only; stack.h is what others call.
#pragma once
#include <array>
#include <cstdint>
#include <functional>
#include <vector>

#include "metrology/stack.h"

namespace stickwright {

// Up to four blocks of a stack.
struct HalfSum {
  std::int64_t sum = 0;
  std::int32_t tolerance = 0;
  std::array<std::uint8_t, 4> block{};  // ascending; how many count is known from the list
};
using HalfList = std::vector<HalfSum>;  // ascending by sum

// Totals that a search wants, in nm, both ends included.
struct SumWindow {
  std::int64_t low = 0, high = 0;
};

// Counts the work down; once it is spent, it stays spent.
struct Steps {
  std::int64_t left = 0;
  bool spend(std::int64_t n) { return (left -= n) >= 0; }
  bool spent() const { return left < 0; }
};

enum class Keep {
  every,        // every choice of blocks
  best_of_sum,  // above the middle block: one choice a sum, the smallest tolerance, then the first in set order
};

// A stack of k blocks is a middle block, (k - 1) / 2 blocks before it in set order and k / 2 after it; each stack
// is met once.
constexpr int blocks_before(int k) {
  return (k - 1) / 2;
}
constexpr int blocks_after(int k) {
  return k / 2;
}

// Shows `join` the two lists for every middle block, from the last to the first.
//   window   parts that cannot end inside it are left out
//   returns  false when the steps ran out
using Join = std::function<void(const HalfList& before, std::size_t middle, const HalfList& after)>;
bool for_each_middle(const GaugeSet& set, int k, SumWindow window, Keep keep, Steps& steps, const Join& join);

}  // namespace stickwright
