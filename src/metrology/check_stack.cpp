#include <cmath>
#include <set>

#include "metrology/stack.h"

namespace stickwright {

bool check_stack(const Stack& stack, Nm target, Nm within, const GaugeSet& set) {
  if (stack.blocks.empty()) return false;
  std::int64_t total = 0, tolerance = 0;
  double squares = 0;
  for (std::size_t i = 0; i < stack.blocks.size(); ++i) {
    if (stack.blocks[i] >= set.blocks.size()) return false;
    if (i > 0 && stack.blocks[i] <= stack.blocks[i - 1]) return false;
    const GaugeBlock& block = set.blocks[stack.blocks[i]];
    total += block.size.v;
    tolerance += block.tolerance.v;
    squares += static_cast<double>(block.tolerance.v) * static_cast<double>(block.tolerance.v) / 3;
  }
  if (total != stack.total.v || tolerance != stack.tolerance.v) return false;
  // Half a nanometer over 128 blocks would be a real mistake; the last bits of a root are not.
  if (!(std::abs(std::sqrt(squares) - stack.u_nm) < 1e-6)) return false;
  return total >= target.v - within.v && total <= target.v + within.v;
}

bool check_stacks(std::span<const Stack> stacks, std::span<const Nm> targets, Nm within, const GaugeSet& set) {
  if (stacks.size() != targets.size()) return false;
  std::set<std::size_t> used;
  for (std::size_t i = 0; i < stacks.size(); ++i) {
    if (!check_stack(stacks[i], targets[i], within, set)) return false;
    for (const std::size_t block : stacks[i].blocks)
      if (!used.insert(block).second) return false;
  }
  return true;
}

}  // namespace stickwright
