#include "batch/rack_use.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace stickwright {

std::vector<RackUse> rack_use(const BatchPlan& plan, const StickPlan& sticks) {
  std::vector<RackUse> out;
  for (const WoodPlan& w : sticks.woods) {
    std::map<std::pair<Nm, bool>, int> on_hand;  // by length; false: milled
    for (const RackStick& r : plan.batch.shop.rack)
      if (r.wood == w.wood && fits_batch(r, plan.batch)) on_hand[{to_nm(r.length), !r.section}] += r.count;
    std::map<Nm, int> wanted;
    for (const CutStick& s : w.plan.sticks) ++wanted[s.length];
    for (const auto& [kind, count] : on_hand) {
      const int used = std::min(count, wanted[kind.first]);
      wanted[kind.first] -= used;
      out.push_back({w.wood, to_mm(kind.first), !kind.second, count, used});
    }
  }
  return out;
}

}  // namespace stickwright
