// stack.h - which gauge blocks, wrung together, make a stop length.
#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "metrology/gauge_set.h"
#include "quantity/quantity.h"
#include "quantity/result.h"

namespace stickwright {

struct Stack {
  std::vector<std::size_t> blocks;  // indices into the set, ascending
  Nm total;                         // of the nominal sizes
  Nm tolerance;                     // sum of the blocks' tolerances: the worst case
  double u_nm = 0;                  // standard uncertainty: each block rectangular, root of the sum of squares
  friend bool operator==(const Stack&, const Stack&) = default;
};

inline constexpr int kMostStackBlocks = 8;  // in one stack

// How much work a search may do before it answers "stopped". A step takes a few nanoseconds.
struct StackLimits {
  std::int64_t steps = 1'000'000'000;
};

// The step of the set: the largest length of which every block, hence every stack, is a whole multiple.
//   returns  nm; 0 for a set without blocks
//   exact    no two stacks of different totals are closer together than this
//   not for  promising that every multiple can be built: a sparse set has gaps
Nm finest_step(const GaugeSet& set);

// Picks the fewest blocks whose nominal sizes come within `within` of `target`; of those the smallest combined
// tolerance; of those the smallest deviation from the target; of those the first in set order.
//   target   nm, > 0
//   within   nm, >= 0; the permitted deviation to either side
//   set      1..128 blocks, sizes > 0, each used at most once
//   returns  1..8 blocks; the same answer on every run
//   errors   bad_target, bad_within, bad_set; no_stack (proven; says the nearest sizes below and above,
//            and what to do);
//            stopped (the limit was reached: neither found nor excluded)
//   exact    integer sums; a smaller number of blocks is excluded by exhausting it
//   not for  wear blocks: take their thickness off the target first
Result<Stack> build_stack(Nm target, Nm within, const GaugeSet& set, const StackLimits& limits = {});

// Picks several stacks that stand at the same time, no block used twice: fewest blocks in all, then the smallest
// combined tolerance in all, then the smallest sum of deviations; of those the first stack as early as build_stack
// would have it (fewer blocks, tolerance, deviation, set order), then the second, and so on.
//   targets  1..8, in the order of the answer
//   errors   as build_stack, with `where` "targets[i]"; bad_targets (none, or more than 8);
//            no_stacks (proven: each alone can be built, not all together; says which block they fight over where it
//            is one block); stopped
//   exact    every answer is the best there is, proven; a request that can hardly be met may take seconds and
//            some hundred megabytes, and may end in "stopped"
Result<std::vector<Stack>> build_stacks(std::span<const Nm> targets, Nm within, const GaugeSet& set,
                                        const StackLimits& limits = {});

// True when the stack names blocks of the set, each once and ascending, states their sums rightly, and comes within
// `within` of the target. Knows only these rules; shares no code with the builders.
bool check_stack(const Stack& stack, Nm target, Nm within, const GaugeSet& set);

// True when there is one legal stack for each target, in order, and no block stands in two of them.
bool check_stacks(std::span<const Stack> stacks, std::span<const Nm> targets, Nm within, const GaugeSet& set);

}  // namespace stickwright
