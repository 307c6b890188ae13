// The checker of take-apart steps. It shares no code with the search: axes come from the cells' own corners.
#include <algorithm>
#include <map>
#include <numeric>
#include <set>

#include "takeapart/cell_axes.h"
#include "takeapart/takeapart.h"

namespace stickwright {
namespace {

std::pair<std::int64_t, std::int64_t> extent(const Corners& corners, Vec n) {
  std::int64_t low = dot(n, corners[0]), high = low;
  for (Vec p : corners) low = std::min(low, dot(n, p)), high = std::max(high, dot(n, p));
  return {low, high};
}

// s lies strictly between lo and hi; both as fractions with positive bottoms.
struct Span {
  std::int64_t lo_top = 0, lo_bottom = 1;
  std::int64_t hi_top = 0, hi_bottom = 0;  // bottom 0: no upper end
  bool empty = false;

  void raise(std::int64_t top, std::int64_t bottom) {
    if (top * lo_bottom > lo_top * bottom) lo_top = top, lo_bottom = bottom;
  }
  void lower(std::int64_t top, std::int64_t bottom) {
    if (hi_bottom == 0 || top * hi_bottom < hi_top * bottom) hi_top = top, hi_bottom = bottom;
  }
  // top > bottom-scaled limit: side + s * speed > 0
  void require_positive(std::int64_t side, std::int64_t speed) {
    if (speed == 0) empty |= side <= 0;
    if (speed > 0) raise(-side, speed);
    if (speed < 0) lower(side, -speed);
  }
  bool has_room() const { return !empty && (hi_bottom == 0 || lo_top * hi_bottom < hi_top * lo_bottom); }
};

// Corners k times as far from the origin.
Corners scaled(Corners corners, std::int64_t k) {
  for (Vec& p : corners) p = k * p;
  return corners;
}

using Axes = std::vector<Vec>;

bool cells_collide(const Corners& a, const Corners& b, const Axes& axes, Vec offset, Vec d, Reach distance) {
  Span s;
  if (!distance.free()) s.lower(distance.top, distance.bottom);
  for (Vec n : axes) {
    if (!s.has_room()) return false;
    const auto [a_low, a_high] = extent(a, n);
    const auto [b_low, b_high] = extent(b, n);
    const std::int64_t shift = dot(n, offset), speed = dot(n, d);
    s.require_positive(b_high - a_low - shift, -speed);
    s.require_positive(a_high + shift - b_low, speed);
  }
  return s.has_room();
}

class Bench {
 public:
  Bench(const Family& family, const std::vector<Cells>& pieces) : at_(pieces.size()) {
    std::vector<int> all;
    for (const Cells& cells : pieces) {
      all.push_back(static_cast<int>(all.size()));
      corners_.emplace_back();
      for (Cell c : cells) corners_.back().push_back(family.corners(c));
    }
    parts_.insert(all);
  }

  bool follow(const Step& step) {
    std::vector<Glide> groups = {{step.from, {}}, {step.moves, step.direction}};
    groups.insert(groups.end(), step.also.begin(), step.also.end());
    std::vector<int> part;
    for (const Glide& g : groups) part.insert(part.end(), g.pieces.begin(), g.pieces.end());
    std::sort(part.begin(), part.end());
    if (!parts_.contains(part) || (!step.distance.free() && (step.distance.top < 1 || step.distance.bottom < 1)))
      return false;
    for (std::size_t a = 0; a < groups.size(); ++a)
      for (std::size_t b = 0; b < a; ++b)
        if (groups[a].pieces.empty() || groups[b].pieces.empty() || !clear(groups[a], groups[b], step.distance))
          return false;
    if (step.distance.free()) {
      parts_.erase(part);
      for (const Glide& g : groups) parts_.insert(g.pieces);
      return true;
    }
    refine(step.distance.bottom);
    for (const Glide& g : groups)
      for (int i : g.pieces) at_[i] = at_[i] + unit_ / step.distance.bottom * step.distance.top * g.direction;
    return true;
  }

  bool all_apart() const {
    return std::all_of(parts_.begin(), parts_.end(), [](const auto& part) { return part.size() == 1; });
  }

 private:
  // Makes places countable in fractions of this bottom.
  void refine(std::int64_t bottom) {
    const std::int64_t finer = std::lcm(unit_, bottom) / unit_;
    unit_ *= finer;
    for (Vec& v : at_) v = finer * v;
  }

  // The axes depend on the two cells' forms only, and there are few of these.
  const Axes& axes_of(const Corners& a, const Corners& b) const {
    const auto form = [](Corners corners) {
      for (std::size_t k = corners.size(); k-- > 0;) corners[k] = corners[k] - corners[0];
      return corners;
    };
    const auto [at, added] = axes_.try_emplace({form(a), form(b)});
    if (added) {
      const auto all = cell_axes(a, b);
      at->second.assign(all.begin(), all.end());
    }
    return at->second;
  }

  // Two groups that move differently do not meet.
  bool clear(const Glide& a, const Glide& b, Reach distance) const {
    const Vec d = a.direction - b.direction;
    if (d == Vec{}) return false;
    for (int i : a.pieces)
      for (int j : b.pieces)
        for (const Corners& p : corners_[i])
          for (const Corners& q : corners_[j])
            if (cells_collide(scaled(p, unit_), scaled(q, unit_), axes_of(p, q), at_[i] - at_[j], unit_ * d, distance))
              return false;
    return true;
  }

  std::vector<std::vector<Corners>> corners_;  // [piece][cell]
  std::vector<Vec> at_;                        // in fractions 1 / unit_ of a lattice unit
  std::int64_t unit_ = 1;
  std::set<std::vector<int>> parts_;
  mutable std::map<std::pair<Corners, Corners>, Axes> axes_;
};

}  // namespace

bool check_take_apart(const Family& family, const std::vector<Cells>& pieces, const std::vector<Step>& steps) {
  Bench bench(family, pieces);
  return std::all_of(steps.begin(), steps.end(), [&](const Step& s) { return bench.follow(s); }) && bench.all_apart();
}

}  // namespace stickwright
