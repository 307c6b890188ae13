#include "takeapart/frames.h"

#include <algorithm>
#include <numeric>

namespace stickwright {
namespace {

struct Extent {
  Vec low, high;
};

Extent extent_of(const Family& family, const Cells& cells) {
  const Vec p = family.corners(cells.front()).front();
  Extent e{p, p};
  for (Cell c : cells)
    for (Vec q : family.corners(c)) {
      e.low = {std::min(e.low.x, q.x), std::min(e.low.y, q.y), std::min(e.low.z, q.z)};
      e.high = {std::max(e.high.x, q.x), std::max(e.high.y, q.y), std::max(e.high.z, q.z)};
    }
  return e;
}

class Player {
 public:
  Player(const Family& family, const std::vector<Cells>& pieces, std::int64_t unit) : unit_(unit), at_(pieces.size()) {
    for (const Cells& cells : pieces) extents_.push_back(extent_of(family, cells));
  }

  Frame play(const Step& step) {
    const std::vector<Glide> glides = step.gliding();
    const std::int64_t far = step.distance.free() ? unit_ * times_until_clear(step, glides)
                                                  : step.distance.top * (unit_ / step.distance.bottom);
    Frame frame{at_, {}};
    for (const Glide& g : glides)
      for (int i : g.pieces) at_[i] = at_[i] + far * g.direction;
    frame.after = at_;
    return frame;
  }

 private:
  // How often the directions have to be gone along until each group is beside the held ones.
  std::int64_t times_until_clear(const Step& step, const std::vector<Glide>& glides) const {
    std::int64_t times = 1;
    for (const Glide& g : glides) {
      const Extent a = reach_of(g.pieces), b = reach_of(step.from);
      std::int64_t least = INT64_MAX;
      for (int axis = 0; axis < 3; ++axis) {
        const std::int64_t speed = g.direction[axis] * unit_;
        if (speed > 0) least = std::min(least, up(b.high[axis] - a.low[axis], speed));
        if (speed < 0) least = std::min(least, up(a.high[axis] - b.low[axis], -speed));
      }
      times = std::max(times, least);
    }
    return times;
  }
  static std::int64_t up(std::int64_t length, std::int64_t speed) {
    return std::max<std::int64_t>(1, -floor_div(-length, speed));
  }

  // In lattice units / unit.
  Extent reach_of(const std::vector<int>& pieces) const {
    Extent e{unit_ * extents_[pieces[0]].low + at_[pieces[0]], unit_ * extents_[pieces[0]].high + at_[pieces[0]]};
    for (int i : pieces) {
      const Vec low = unit_ * extents_[i].low + at_[i], high = unit_ * extents_[i].high + at_[i];
      e.low = {std::min(e.low.x, low.x), std::min(e.low.y, low.y), std::min(e.low.z, low.z)};
      e.high = {std::max(e.high.x, high.x), std::max(e.high.y, high.y), std::max(e.high.z, high.z)};
    }
    return e;
  }

  std::int64_t unit_;
  std::vector<Vec> at_;
  std::vector<Extent> extents_;
};

}  // namespace

Frames frames_of(const Family& family, const std::vector<Cells>& pieces, const std::vector<Step>& steps) {
  Frames frames;
  for (const Step& s : steps)
    if (!s.distance.free()) frames.unit = std::lcm(frames.unit, s.distance.bottom);
  Player player(family, pieces, frames.unit);
  for (const Step& s : steps) frames.steps.push_back(player.play(s));
  return frames;
}

}  // namespace stickwright
