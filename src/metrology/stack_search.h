// stack_search.h - what the searches for one and for several stacks have in common. Inside this room only.
#pragma once
#include <array>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>

#include "metrology/half_sums.h"
#include "metrology/stack.h"

namespace stickwright {

// What makes one choice of blocks better than another of as many blocks. Keys add up like the stacks they stand for.
struct StackKey {
  std::int64_t tolerance = 0;  // nm
  std::int64_t deviation = 0;  // nm, from the target, >= 0
  friend auto operator<=>(const StackKey&, const StackKey&) = default;
  friend StackKey operator+(StackKey a, StackKey b) { return {a.tolerance + b.tolerance, a.deviation + b.deviation}; }
};

struct Choice {
  StackKey key;
  std::array<std::uint8_t, kMostStackBlocks> block{};  // ascending; as many as the search is about
  friend auto operator<=>(const Choice&, const Choice&) = default;
};

// The choice of k blocks that the three parts make.
Choice joined(int k, StackKey key, const HalfSum& before, std::size_t middle, const HalfSum& after);

Stack to_stack(const Choice& choice, int k, const GaugeSet& set);

// bad_target, bad_within, bad_set, or nothing.
std::optional<Problem> input_problem(Nm target, Nm within, const GaugeSet& set);

SumWindow window_of(Nm target, Nm within);

// Whether the window holds a whole multiple of the set's finest step; if not, no stack of any height does.
bool holds_a_step(SumWindow window, const GaugeSet& set);

int most_blocks(const GaugeSet& set);

Problem stopped_problem(std::string where);

}  // namespace stickwright
