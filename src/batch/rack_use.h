// rack_use.h - what the rack holds of the batch's woods, and what the batch takes of it.
#pragma once
#include <string>
#include <vector>

#include "batch/stick_plan.h"

namespace stickwright {

// Sticks of one wood and length, milled or rough.
struct RackUse {
  std::string wood;
  Mm length;
  bool milled = false;
  int on_hand = 0, used = 0;
  int left() const { return on_hand - used; }
};

// By wood, then length, milled before rough: milled ones are taken first. Only woods of the plan, and sticks that are
// rough or of the batch's section.
std::vector<RackUse> rack_use(const BatchPlan& plan, const StickPlan& sticks);

}  // namespace stickwright
