#include "takeapart/sweep.h"

#include <algorithm>

namespace stickwright {
namespace {

// Beyond every extent, and small enough for what is computed with the extents of a body without parts.
constexpr std::int64_t kFar = std::int64_t{1} << 40;

}  // namespace

// The extent of the cell at home, looked up or added.
const BodyMaker::Extent& BodyMaker::at_home(Cell home) {
  for (const Extent& e : known_)
    if (e.home == home) return e;
  const auto normals = family_.separators();
  Extent& e = known_.emplace_back(Extent{home, {}, {}});
  e.low.assign(normals.size(), kFar), e.high.assign(normals.size(), -kFar);
  for (Vec p : family_.corners(home))
    for (std::size_t k = 0; k < normals.size(); ++k) {
      const std::int64_t at = dot(normals[k], p);
      e.low[k] = std::min(e.low[k], at), e.high[k] = std::max(e.high[k], at);
    }
  return e;
}

SweepBody BodyMaker::operator()(const Cells& cells) {
  const auto normals = family_.separators();
  const std::vector<Cells> parts = family_.convex_parts(cells);
  SweepBody body{parts.size(), {}, {}};
  body.high.assign((parts.size() + 1) * normals.size(), -kFar);
  body.low.assign(body.high.size(), kFar);
  const auto widen = [&](std::size_t at, std::int64_t low, std::int64_t high) {
    body.low[at] = std::min(body.low[at], low), body.high[at] = std::max(body.high[at], high);
  };
  for (std::size_t p = 0; p < parts.size(); ++p) {
    for (Cell c : parts[p]) {
      const Vec shift = family_.shift_home(c);
      const Extent& e = at_home(family_.moved({Turn{}, shift}, c));
      for (std::size_t k = 0; k < normals.size(); ++k) {
        const std::int64_t back = dot(normals[k], shift);
        widen(p * normals.size() + k, e.low[k] - back, e.high[k] - back);
      }
    }
    for (std::size_t k = 0, at = p * normals.size(); k < normals.size(); ++k, ++at)
      widen(parts.size() * normals.size() + k, body.low[at], body.high[at]);
  }
  return body;
}

SweepBody sweep_body(const Family& family, const Cells& cells) {
  return BodyMaker(family)(cells);
}

Sweeper::Sweeper(const Family& family, std::span<const Vec> directions, std::int64_t unit)
    : normals_(family.separators()), unit_(unit), room_(normals_.size()), shift_(normals_.size()) {
  for (Vec d : directions) {
    Course& course = courses_.emplace_back();
    for (std::size_t k = 0; k < normals_.size(); ++k) {
      const std::int64_t speed = unit * dot(normals_[k], d);
      if (speed == 0) course.across.push_back(k);
      if (speed < 0) course.nearing.push_back({k, -speed});
      if (speed > 0) course.leaving.push_back({k, speed});
    }
  }
}

void Sweeper::take_room(const SweepBody& a, std::size_t a_part, const SweepBody& b, std::size_t b_part) {
  const std::int64_t* const low = &a.low[a_part * normals_.size()];
  const std::int64_t* const high = &b.high[b_part * normals_.size()];
  for (std::size_t k = 0; k < room_.size(); ++k) room_[k] = unit_ * (high[k] - low[k]) - shift_[k];
}

// Where two convex parts with this room, one moving on this course, first meet, if that is sooner than `least`; else
// `least`.
Reach Sweeper::meeting(const Course& course, const Reach& least) const {
  for (std::size_t k : course.across)
    if (room_[k] <= 0) return least;
  Reach from{0, 1}, to;
  for (const Speed& s : course.leaving) {
    if (room_[s.separator] <= 0) return least;
    to = std::min(to, Reach{room_[s.separator], s.speed});
  }
  for (const Speed& s : course.nearing) from = std::max(from, Reach{-room_[s.separator], s.speed});
  return from < to ? std::min(from, least) : least;
}

const std::vector<Reach>& Sweeper::reaches(const SweepBody& a, const SweepBody& b, Vec shift) {
  for (std::size_t k = 0; k < normals_.size(); ++k) shift_[k] = dot(normals_[k], shift);
  least_.assign(courses_.size(), Reach{});
  open_.clear();
  take_room(a, a.parts, b, b.parts);
  for (std::size_t d = 0; d < courses_.size(); ++d)
    if (!meeting(courses_[d], Reach{}).free()) open_.push_back(d);
  for (std::size_t i = 0; i < a.parts && !open_.empty(); ++i)
    for (std::size_t j = 0; j < b.parts; ++j) {
      take_room(a, i, b, j);
      std::erase_if(open_, [&](std::size_t d) {
        least_[d] = meeting(courses_[d], least_[d]);
        return least_[d].top == 0;  // no sooner than at once
      });
    }
  return least_;
}

Reach reach(const Family& family, const SweepBody& a, const SweepBody& b, FineShift offset, Vec direction) {
  return Sweeper(family, {&direction, 1}, offset.unit).reaches(a, b, offset.shift).front();
}

}  // namespace stickwright
