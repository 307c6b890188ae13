// cut_scene.h - the saw in space: the work in its V, the blade, the stop and what stands behind it, in millimeters.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "batch/set_up.h"
#include "packet/cut_at_saw.h"

namespace stickwright {

enum class AtTheSaw { kept, kerf, off_cut, stick_beyond, blade, cradle, stop, gauge_block, back_stop };
const char* to_string(AtTheSaw thing);  // "kept", "off-cut"

struct SceneBody {
  AtTheSaw what;
  Body body;
};
struct SceneLine {
  std::string what;
  Point from, to;
};
struct SceneLabel {
  Point at;
  std::string say;
};

// In the frame of the saw: t from the stop to the blade, a away from the operator, b up, the stick's axis at a = b = 0.
struct SawScene {
  std::vector<SceneBody> bodies;
  std::vector<SceneLine> lines;
  std::vector<SceneLabel> labels;
  std::vector<Point> contact;  // where the work touches the stop
  Point low, high;             // what to look at: the stop's face, the work and the blade
};

// A cut, after the blade has passed. What is kept, the dust and what falls off together are the work as it was. Stop,
// stack and back stop stand where the plan puts them; how wide they and the cradle are is drawn, not planned. A stick
// is drawn only a little way beyond the blade.
//   stop           of the set-up, as it is set for this cut
//   across_flats   of what this cut makes ready to be measured, or nothing
//   source         true positions: forward.h; stops: docs/derivations/true-cuts.md, 4
SawScene cut_scene(const SawView& view, const StopPlan& stop, Mm back_to_blade, std::optional<Mm> across_flats = {});

// Setting the stop, with the gauge blocks in: a mitered one while its blank is cut to length, a square one as it stays.
SawScene stop_scene(const StopPlan& stop, const Batch& batch);

}  // namespace stickwright
