// stick_places.h - where on its stick each block is sawn, and how the miters nest, for a drawing to scale.
//
// The stick is seen from the side, corner up, as it lies in its cradle: a corner line above, one towards the eye, one
// below. From block to block it is rolled in the cradle; the drawing keeps it as it lay for the first one, and shows
// where each plane passes the three corner lines.
#pragma once
#include <vector>

#include "batch/stick_plan.h"

namespace stickwright {

// Along the stick, from its fresh end; `axis` in its middle.
struct MiterAlong {
  Mm axis, upper, eye, lower;
};

struct PartOnStick {
  int part = 0;  // index into WoodPlan::parts
  MiterAlong near, far;
};

//   stick    of wood.plan
//   returns  its parts in the order of cutting; between two of them the kerf is lost, along the axis sqrt 2 of it
//   exact    every severing plane is parallel to the near miter of the part that follows
std::vector<PartOnStick> parts_on_stick(const BatchPlan& plan, const StickPlan& sticks, const WoodPlan& wood,
                                        const CutStick& stick);

}  // namespace stickwright
