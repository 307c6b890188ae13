#include "metrology/stack_search.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace stickwright {
namespace {

constexpr std::int64_t kLongest = 1'000'000'000'000;  // 1 km in nm: far beyond any stack, and sums stay exact
constexpr std::int64_t kWidestTolerance = 1'000'000;  // 1 mm

bool is_usable(const GaugeBlock& b) {
  return b.size.v > 0 && b.size.v <= kLongest && b.tolerance.v >= 0 && b.tolerance.v <= kWidestTolerance;
}

Problem bad_length(std::string code, std::string_view what, Nm found) {
  return {std::move(code), "", fmt::format("{}, up to 1 km; found {}.", what, show_nominal(found)), ""};
}

}  // namespace

Choice joined(int k, StackKey key, const HalfSum& before, std::size_t middle, const HalfSum& after) {
  Choice c{key, {}};
  auto out = std::copy_n(before.block.begin(), blocks_before(k), c.block.begin());
  *out++ = static_cast<std::uint8_t>(middle);
  std::copy_n(after.block.begin(), blocks_after(k), out);
  return c;
}

Stack to_stack(const Choice& choice, int k, const GaugeSet& set) {
  Stack s;
  double squares = 0;
  for (int i = 0; i < k; ++i) {
    const GaugeBlock& b = set.blocks[choice.block[std::size_t(i)]];
    s.blocks.push_back(choice.block[std::size_t(i)]);
    s.total = s.total + b.size;
    s.tolerance = s.tolerance + b.tolerance;
    const double u = static_cast<double>(b.tolerance.v) / std::sqrt(3.0);
    squares += u * u;
  }
  s.u_nm = std::sqrt(squares);
  return s;
}

std::optional<Problem> input_problem(Nm target, Nm within, const GaugeSet& set) {
  if (target.v <= 0 || target.v > kLongest) return bad_length("bad_target", "A stack needs a length above 0", target);
  if (within.v < 0 || within.v > kLongest)
    return bad_length("bad_within", "The permitted deviation must be 0 or more", within);
  if (set.blocks.empty() || set.blocks.size() > kMostGaugeBlocks)
    return Problem{"bad_set", set.name,
                   fmt::format("A stack is built from a set of 1 to {} blocks; this one has {}.", kMostGaugeBlocks,
                               set.blocks.size()),
                   ""};
  if (!std::all_of(set.blocks.begin(), set.blocks.end(), is_usable))
    return Problem{"bad_set", set.name,
                   "The set has a block that is not above 0 in size, or whose tolerance is below 0 "
                   "or above 1 mm. Correct its sizes.",
                   ""};
  return {};
}

SumWindow window_of(Nm target, Nm within) {
  return {target.v - within.v, target.v + within.v};
}

bool holds_a_step(SumWindow window, const GaugeSet& set) {
  const std::int64_t step = finest_step(set).v;
  return window.high > 0 && window.high / step * step >= window.low;
}

int most_blocks(const GaugeSet& set) {
  return std::min(kMostStackBlocks, static_cast<int>(set.blocks.size()));
}

Problem stopped_problem(std::string where) {
  return {"stopped", std::move(where),
          "The search reached its limit: such a stack is neither found nor excluded. Permit a larger deviation, or "
          "use a set with fewer blocks.",
          ""};
}

Nm finest_step(const GaugeSet& set) {
  std::int64_t step = 0;
  for (const GaugeBlock& b : set.blocks) step = std::gcd(step, b.size.v);
  return Nm{step};
}

}  // namespace stickwright
