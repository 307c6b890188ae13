#include "exact/polytope.h"

#include <algorithm>
#include <set>

namespace stickwright {
namespace {

struct Meeting {
  enum { none, off_lattice, point } kind;
  Vec at;
};

// Cramer's rule for the point common to three planes.
Meeting meet(const HalfSpace& a, const HalfSpace& b, const HalfSpace& c) {
  const std::int64_t det = dot(a.n, cross(b.n, c.n));
  if (det == 0) return {Meeting::none, {}};
  const Vec top = a.c * cross(b.n, c.n) + b.c * cross(c.n, a.n) + c.c * cross(a.n, b.n);
  if (top.x % det || top.y % det || top.z % det) return {Meeting::off_lattice, {}};
  return {Meeting::point, {top.x / det, top.y / det, top.z / det}};
}

// Is top/det inside all half-spaces? Needed for corners off the lattice, which must be refused only when they count.
bool rational_corner_counts(const HalfSpace& a, const HalfSpace& b, const HalfSpace& c,
                            std::span<const HalfSpace> all) {
  std::int64_t det = dot(a.n, cross(b.n, c.n));
  Vec top = a.c * cross(b.n, c.n) + b.c * cross(c.n, a.n) + c.c * cross(a.n, b.n);
  if (det < 0) det = -det, top = -top;
  return std::all_of(all.begin(), all.end(), [&](const HalfSpace& h) { return dot(h.n, top) <= h.c * det; });
}

bool inside(Vec p, std::span<const HalfSpace> all) {
  return std::all_of(all.begin(), all.end(), [&](const HalfSpace& h) { return dot(h.n, p) <= h.c; });
}

bool all_corners(std::span<const HalfSpace> halves, std::set<Vec>& corners) {
  for (std::size_t i = 0; i < halves.size(); ++i)
    for (std::size_t j = i + 1; j < halves.size(); ++j)
      for (std::size_t k = j + 1; k < halves.size(); ++k) {
        const Meeting m = meet(halves[i], halves[j], halves[k]);
        if (m.kind == Meeting::point && inside(m.at, halves)) corners.insert(m.at);
        if (m.kind == Meeting::off_lattice && rational_corner_counts(halves[i], halves[j], halves[k], halves))
          return false;
      }
  return true;
}

// Corners of one plane, counter-clockwise about n: sorted by angle around the first of them, in integers.
std::vector<int> loop_of(const std::vector<Vec>& corners, const HalfSpace& plane) {
  std::vector<int> on;
  for (std::size_t i = 0; i < corners.size(); ++i)
    if (dot(plane.n, corners[i]) == plane.c) on.push_back(static_cast<int>(i));
  if (on.size() < 3) return {};
  const Vec start = corners[on[0]];  // the least corner is extreme, so all others lie within half a turn of each other
  std::sort(on.begin() + 1, on.end(),
            [&](int p, int q) { return dot(plane.n, cross(corners[p] - start, corners[q] - start)) > 0; });
  return on;
}

}  // namespace

std::optional<Polytope> intersect(std::span<const HalfSpace> halves) {
  std::set<Vec> corners;
  if (!all_corners(halves, corners) || corners.size() < 4) return {};
  Polytope p{{corners.begin(), corners.end()}, {}};
  std::set<HalfSpace> done;
  for (const HalfSpace& h : halves) {
    if (!done.insert(h).second) continue;
    std::vector<int> loop = loop_of(p.corners, h);
    if (loop.size() == p.corners.size()) return {};  // flat
    if (!loop.empty()) p.faces.push_back({h, std::move(loop)});
  }
  return p;
}

std::int64_t volume_times_6(const Polytope& p) {
  std::int64_t sum = 0;
  for (const ExactFace& f : p.faces)
    for (std::size_t i = 1; i + 1 < f.loop.size(); ++i)
      sum += dot(p.corner(f, 0), cross(p.corner(f, static_cast<int>(i)), p.corner(f, static_cast<int>(i + 1))));
  return sum;
}

Vec area_vector_times_2(const Polytope& p, const ExactFace& face) {
  Vec sum;
  for (std::size_t i = 1; i + 1 < face.loop.size(); ++i)
    sum = sum + cross(p.corner(face, static_cast<int>(i)) - p.corner(face, 0),
                      p.corner(face, static_cast<int>(i + 1)) - p.corner(face, 0));
  return sum;
}

}  // namespace stickwright
