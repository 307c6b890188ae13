// The checker of cut plans. It shares no code with the planner.
#include <map>

#include "lumber/cutting.h"

namespace stickwright {

bool check_cut_plan(const CutPlan& plan, std::span<const Part> parts, std::span<const StickStock> stock,
                    const CuttingRules& rules) {
  std::map<Nm, int> rack;
  for (const StickStock& s : stock) rack[s.length] += s.count;
  std::vector<int> sawn(parts.size());
  for (const CutStick& stick : plan.sticks) {
    if (--rack[stick.length] < 0 || stick.parts.empty()) return false;
    Nm left = stick.length - rules.head;
    for (int p : stick.parts) {
      if (p < 0 || p >= static_cast<int>(parts.size())) return false;
      left = left - parts[static_cast<std::size_t>(p)].length;
      ++sawn[static_cast<std::size_t>(p)];
    }
    if (left != stick.left || left < rules.tail) return false;
  }
  for (std::size_t i = 0; i < parts.size(); ++i)
    if (sawn[i] != parts[i].count) return false;
  return plan.bound <= plan.used();
}

}  // namespace stickwright
