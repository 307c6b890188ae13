#include "jig/blade_work.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace stickwright {
namespace {

Mm hump(Mm step, Mm diameter) {
  return Mm{step.v * step.v / (4 * diameter.v)};
}

// How far the front of the rim stands out at the height b; b = 0 is the stick's axis.
struct Rim {
  double radius = 0, center = 0;
  double front(double b) const {
    const double up = b - center;
    return std::sqrt(std::max(0.0, radius * radius - up * up));
  }
};

}  // namespace

BladeWork blade_work(const RunningBlade& blade) {
  const double turns_per_second = blade.turns_per_minute / 60, around = std::numbers::pi * blade.diameter.v;
  BladeWork work;
  work.feed_per_turn = Mm{blade.feed.v / turns_per_second};
  work.feed_per_tooth = Mm{work.feed_per_turn.v / blade.teeth};
  work.rim_speed = around * turns_per_second / 1000;
  work.tooth_frequency = blade.teeth * turns_per_second;
  work.pitch = Mm{around / blade.teeth};
  work.hump_per_tooth = hump(work.feed_per_tooth, blade.diameter);
  work.hump_per_turn = hump(work.feed_per_turn, blade.diameter);
  return work;
}

// A point of the cut at the height b and x along the way is reached after x - front(b), counted from some start.
// The cut is the rhombus |x| <= s - sqrt 2 |b|. Last is one of its corners, since front() is concave; first the corner
// in front, or a point below it where the rim leans further back than the rhombus.
Mm sawing_travel(Mm stick, Mm diameter, Mm rim_above) {
  const double s = stick.v, half = s / std::sqrt(2.0);
  const Rim rim{diameter.v / 2, half + rim_above.v - diameter.v / 2};
  const double steep = std::clamp(rim.center + rim.radius * std::sqrt(2.0 / 3), -half, 0.0);
  const double last = std::max({s - rim.front(0), -rim.front(half), -rim.front(-half)});
  const auto reached = [&](double b) { return -(s - std::sqrt(2.0) * std::abs(b)) - rim.front(b); };
  const double first = std::min({reached(0), reached(steep), reached(-half)});
  return Mm{last - first};
}

std::vector<std::string> blade_cautions(const BladeWork& work) {
  std::vector<std::string> cautions;
  if (work.feed_per_tooth < kThinChip)
    cautions.push_back(
        fmt::format("Each tooth takes only {:.3f} mm. Below some {} mm teeth rub more than they cut, and close-grained "
                    "woods scorch (common practice, no source). A blade with fewer teeth takes more at the same feed.",
                    work.feed_per_tooth.v, kThinChip.v));
  if (work.rim_speed > kFastRim)
    cautions.push_back(fmt::format(
        "The rim runs at {:.0f} m/s ({:.0f} ft/min); trade tables give 30 to {:.0f} m/s. Stay below the speed that is "
        "printed on the blade.",
        work.rim_speed, work.rim_speed / 0.3048 * 60, kFastRim));
  return cautions;
}

}  // namespace stickwright
