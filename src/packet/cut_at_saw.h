// cut_at_saw.h - how things lie for one cut: what every picture of it, from above or in space, has in common.
#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "quantity/quantity.h"
#include "saw/forward.h"
#include "shop/shop.h"

namespace stickwright {

struct SawView {
  const Program& program;
  std::size_t cut;
  Mm stick;
  Mm kerf;
  Side clamp_side;
  bool stack_behind;  // the gauge blocks stand behind the stop while it is in use
  const Cut& cut_drawn() const { return program.cuts[cut]; }
  const Stop& stop() const { return program.stops[static_cast<std::size_t>(cut_drawn().stop)]; }
};

// In the frame of the saw (AtTheStop), in mm, on a saw that is true.
struct CutAtSaw {
  AtTheStop at;
  Body kept, kerf, rest;        // between stop and blade; turned into dust; beyond the blade. A part may be empty
  double half = 0;              // half the diagonal of the section
  double blade_at = 0;          // where the blade plane crosses the stick's axis: the stop's distance
  std::vector<Point> contact;   // corners of the work on the stop's face
  bool clamped_beyond = false;  // the clamp holds what lies beyond the blade, else what is kept
  Point middle;                 // of what is kept
  Point clamp;                  // a place over which it presses, on the axis or in the middle of what is kept
  std::optional<std::pair<Point, Point>> pencil_line;  // on what is kept; nothing when its corner is sawn away
};

//   assumes  the clamp presses from above on what is kept; of a stick that is severed, on the side that the shop says
CutAtSaw cut_at_saw(const SawView& view);

// Where a caliper touches what is kept to measure `across_flats`: on the face that this cut makes, square to it from
// the middle, and on the face across.
std::pair<Point, Point> where_to_measure(const CutAtSaw& cut, Mm across_flats);

// How large a stop, its stack and the way beyond the blade are drawn, in halves of the section's diagonal.
inline constexpr double kStopHalf = 1.08;   // the face is wider than the stick: no point of a miter may miss it
inline constexpr double kStackShare = 0.5;  // of the stop's width
inline constexpr double kBackHalf = 1.2, kBackThick = 0.2;
inline constexpr double kBladeReach = 1.35;   // to either side of the axis
inline constexpr double kBeyond = 3.6;        // of the stick beyond the blade
inline constexpr double kDimensionAt = 1.62;  // where the stop's distance is written, on the operator's side

}  // namespace stickwright
