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

// A stick of the rack is rough, or milled to the batch's section.
bool fits_batch(const RackStick& stick, const Batch& batch);

// Sticks that the rack lacks of a wood.
struct MissingSticks {
  std::string wood;
  Mm length;     // of the longest that the rack has of it; of none of it, of the longest of any wood
  int more = 0;  // besides those on the rack
};

// What would have to be bought for the batch: as many of the longest sticks as make it possible, with the fewest in
// all. Woods of which enough are there are left out, as are those that no stick is long enough for.
std::vector<MissingSticks> missing_sticks(const BatchPlan& plan);

//   errors   no_sticks (the rack has none of this wood and size), stick_too_short, not_enough_sticks, each at its place
Result<StickPlan> plan_batch_sticks(const BatchPlan& plan);

}  // namespace stickwright
