// The checker of cut plans. It shares no code with the planner.
#include <algorithm>
#include <map>
#include <set>

#include "lumber/cutting.h"

namespace stickwright {
namespace {

bool equal_ones_together(const std::vector<int>& parts) {
  std::set<int> seen;
  for (std::size_t i = 0; i < parts.size(); ++i)
    if ((i == 0 || parts[i] != parts[i - 1]) && !seen.insert(parts[i]).second) return false;
  return true;
}

bool rack_holds(const CutPlan& plan, std::span<const StickStock> stock) {
  std::map<Nm, std::int64_t> used;
  for (const CutStick& stick : plan.sticks) ++used[stick.length];
  return std::all_of(used.begin(), used.end(), [&](const auto& use) {
    std::int64_t held = 0;
    bool endless = false;
    for (const StickStock& s : stock)
      if (s.length == use.first) endless |= !s.count, held += s.count.value_or(0);
    return endless || use.second <= held;
  });
}

}  // namespace

bool check_cut_plan(const CutPlan& plan, std::span<const Part> parts, std::span<const StickStock> stock,
                    const CuttingRules& rules) {
  std::vector<int> sawn(parts.size());
  for (const CutStick& stick : plan.sticks) {
    if (stick.parts.empty() || !equal_ones_together(stick.parts)) return false;
    std::int64_t left = stick.length.v - rules.head.v;
    for (int p : stick.parts) {
      if (p < 0 || p >= static_cast<int>(parts.size())) return false;
      const std::int64_t length = parts[static_cast<std::size_t>(p)].length.v, over = length % 1000;
      left -= over == 0 ? length : length - over + 1000;
      ++sawn[static_cast<std::size_t>(p)];
    }
    if (left != stick.left.v || left < rules.tail.v) return false;
  }
  for (std::size_t i = 0; i < parts.size(); ++i)
    if (sawn[i] != parts[i].count) return false;
  return rack_holds(plan, stock) && plan.bound <= plan.used();
}

}  // namespace stickwright
