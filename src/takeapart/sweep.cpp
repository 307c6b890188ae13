#include "takeapart/sweep.h"

#include <algorithm>

namespace stickwright {
namespace {

// Room between two convex parts along each separator normal n: how much n.(movement of the first) may grow until they
// are clear of each other again on the far side. Multiplied by the unit of the offset.
using Room = std::vector<std::int64_t>;

void room_between(std::span<const Vec> normals, const std::vector<std::int64_t>& a_low,
                  const std::vector<std::int64_t>& b_high, FineShift offset, Room& room) {
  for (std::size_t k = 0; k < normals.size(); ++k)
    room[k] = offset.unit * (b_high[k] - a_low[k]) - dot(normals[k], offset.shift);
}

// Shortens `least` to where a part with this room, moving along the direction, first enters the other.
//   speeds  n.direction times the unit of the offset, for each normal
void shorten(const Room& room, const std::int64_t* speeds, Reach& least) {
  Reach from{0, 1}, to{1, 0};
  for (std::size_t k = 0; k < room.size(); ++k) {
    if (speeds[k] == 0) {
      if (room[k] <= 0) return;
    } else if (speeds[k] > 0) {
      if (const Reach r{room[k], speeds[k]}; r < to) to = r;
      if (to.top <= 0) return;
    } else if (const Reach r{-room[k], -speeds[k]}; from < r) {
      from = r;
      if (!(from < least)) return;
    }
  }
  if (from < to) least = std::min(least, from);
}

// Speeds of all directions, one row each.
std::vector<std::int64_t> speeds_of(std::span<const Vec> normals, std::span<const Vec> directions, std::int64_t unit) {
  std::vector<std::int64_t> out;
  for (Vec d : directions)
    for (Vec n : normals) out.push_back(unit * dot(n, d));
  return out;
}

std::vector<Reach> sweep(const Family& family, const SweepBody& a, const SweepBody& b, FineShift offset,
                         std::span<const Vec> directions) {
  const auto normals = family.separators();
  const auto speeds = speeds_of(normals, directions, offset.unit);
  std::vector<Reach> least(directions.size());
  Room room(normals.size());
  for (const auto& a_low : a.low)
    for (const auto& b_high : b.high) {
      room_between(normals, a_low, b_high, offset, room);
      for (std::size_t d = 0; d < directions.size(); ++d) shorten(room, &speeds[d * normals.size()], least[d]);
    }
  return least;
}

}  // namespace

SweepBody sweep_body(const Family& family, const Cells& cells) {
  SweepBody body;
  for (const Cells& part : family.convex_parts(cells)) {
    std::vector<Vec> corners;
    for (Cell c : part)
      for (Vec p : family.corners(c)) corners.push_back(p);
    std::vector<std::int64_t> high, low;
    for (Vec n : family.separators()) {
      const auto [least, most] =
          std::minmax_element(corners.begin(), corners.end(), [&](Vec p, Vec q) { return dot(n, p) < dot(n, q); });
      high.push_back(dot(n, *most));
      low.push_back(dot(n, *least));
    }
    body.high.push_back(std::move(high));
    body.low.push_back(std::move(low));
  }
  return body;
}

Reach reach(const Family& family, const SweepBody& a, const SweepBody& b, FineShift offset, Vec direction) {
  return sweep(family, a, b, offset, {&direction, 1}).front();
}

std::vector<Reach> reaches(const Family& family, const SweepBody& a, const SweepBody& b, FineShift offset) {
  return sweep(family, a, b, offset, family.edge_directions());
}

}  // namespace stickwright
