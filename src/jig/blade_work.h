// blade_work.h - what a saw blade does at a feed: how much each tooth takes, how fast the rim runs, how long a cut
// lasts. Each formula with its source: docs/blade.md.
#pragma once
#include <string>
#include <vector>

#include "quantity/physical.h"
#include "quantity/quantity.h"

namespace stickwright {

struct RunningBlade {
  Mm diameter;
  int teeth = 0;
  double turns_per_minute = 0;
  MmPerSecond feed;
};

struct BladeWork {
  Mm feed_per_tooth;  // of blades whose teeth lean left and right by turns, each side is cut by every second tooth
  Mm feed_per_turn;
  double rim_speed = 0;        // m/s
  double tooth_frequency = 0;  // Hz
  Mm pitch;                    // from tooth to tooth along the rim
  Mm hump_per_tooth;           // height of the humps that the rim's curve leaves between two teeth's marks
  Mm hump_per_turn;            // the same when run-out lets only one tooth of a turn mark
};

//   assumes  all > 0; the teeth are of one length, the feed is even
//   exact    formulas, but for the humps: f^2 / (4 D), to first order in f / D
//   not for  how deep the marks on a sawn face are: they come from run-out and vibration, one a turn
BladeWork blade_work(const RunningBlade& blade);

// What the cut takes away. `run_out` is the rim's whole swing in a turn, twice what it leans to one side.
constexpr Mm kerf_of(Mm plate, Mm set, Mm run_out) {
  return plate + set + run_out;
}

// How far the sled goes from the first touch to the end of the cut, when a square stick, corner down, passes the blade
// at 45 degrees. `rim_above` is how far the blade stands out above the stick's upper corner.
//   returns  at least 2 sticks, the length of the cut; more, since the front of the rim leans
//   assumes  the diameter is more than the stick's height and `rim_above` together
Mm sawing_travel(Mm stick, Mm diameter, Mm rim_above);

// Cautions in words, none when the blade runs as is common. None of them says that a cut is safe.
//   source   feed per tooth: below 0.02 mm, from memory, common practice; rim speed: 30 to 56 m/s (6000 to 11 000
//            ft/min) in trade tables
std::vector<std::string> blade_cautions(const BladeWork& work);

inline constexpr Mm kThinChip{0.02};
inline constexpr double kFastRim = 56;  // m/s

}  // namespace stickwright
