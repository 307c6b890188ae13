// stick_plan.h - which blocks are sawn from which stick of the rack.
#pragma once
#include <string>
#include <vector>

#include "batch/plan.h"
#include "lumber/cutting.h"

namespace stickwright {

// Blocks, or test pieces, of one set-up.
struct WantedPart {
  int set_up = 0;
  bool is_test = false;  // a stand-in that proves a stop
  Part part;
};

struct WoodPlan {
  std::string wood;
  std::vector<WantedPart> parts;
  CutPlan plan;     // its parts are indices into the above
  int to_mill = 0;  // of the sticks used, those that are still rough
};

struct StickPlan {
  CuttingRules rules;
  std::vector<WoodPlan> woods;  // by name
  int used() const;
  int bound() const;
};

// What is lost at the head of a stick, and the end that stays: the first cut must be a full miter, and the tail is
// measured along its shorter side.
CuttingRules cutting_rules(const Batch& batch);

//   errors   no_sticks (the rack has none of this wood and size), stick_too_short, not_enough_sticks, each at its place
Result<StickPlan> plan_batch_sticks(const BatchPlan& plan);

}  // namespace stickwright
