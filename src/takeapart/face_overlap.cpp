#include "takeapart/face_overlap.h"

#include <algorithm>
#include <cassert>
#include <cstdlib>
#include <numeric>

namespace stickwright {
namespace {

__extension__ using Wide = __int128;

Spot spot(Vec top, std::int64_t bottom) {
  const std::int64_t g = std::gcd(std::gcd(top.x, top.y), std::gcd(top.z, bottom));
  return {{top.x / g, top.y / g, top.z / g}, bottom / g};
}

bool boxes_meet(const FacePolygon& a, const FacePolygon& b) {
  for (int axis = 0; axis < 3; ++axis)
    if (a.high[axis] < b.low[axis] || b.high[axis] < a.low[axis]) return false;
  return true;
}

// How far p lies on the inner side of edge k, in units of the edge's normal.
std::int64_t depth(const FacePolygon& polygon, std::size_t k, Vec p) {
  return dot(polygon.inward[k], p - polygon.corners[k]);
}

// Two convex polygons in a plane share no area exactly when an edge of one of them has the other on its outer side.
bool some_edge_parts(const FacePolygon& a, const FacePolygon& b) {
  for (std::size_t k = 0; k < a.corners.size(); ++k)
    if (std::all_of(b.corners.begin(), b.corners.end(), [&](Vec p) { return depth(a, k, p) <= 0; })) return true;
  return false;
}

bool inside(const FacePolygon& polygon, const Spot& p) {
  for (std::size_t k = 0; k < polygon.corners.size(); ++k)
    if (dot(polygon.inward[k], p.top - p.bottom * polygon.corners[k]) < 0) return false;
  return true;
}

// Corners of a within b, and the points where edges of a cross edges of b.
void add_corners(const FacePolygon& a, const FacePolygon& b, std::vector<Spot>& out) {
  for (std::size_t i = 0; i < a.corners.size(); ++i) {
    const Vec p = a.corners[i], q = a.corners[(i + 1) % a.corners.size()];
    if (inside(b, {p, 1})) out.push_back({p, 1});
    for (std::size_t k = 0; k < b.corners.size(); ++k) {
      const std::int64_t at_p = depth(b, k, p), at_q = depth(b, k, q);
      if (at_p * at_q >= 0) continue;
      const std::int64_t sign = at_p > 0 ? 1 : -1;
      const Spot crossing = spot(sign * (at_p * q - at_q * p), sign * (at_p - at_q));
      if (inside(b, crossing)) out.push_back(crossing);
    }
  }
}

// The plane seen along the axis in which its normal is longest.
struct View {
  int right, up;
  explicit View(Vec n) {
    int along = 0;
    for (int axis : {1, 2})
      if (std::abs(n[axis]) > std::abs(n[along])) along = axis;
    right = (along + 1) % 3, up = (along + 2) % 3;
  }
  bool before(const Spot& a, const Spot& b) const {
    for (int axis : {right, up}) {
      const Wide d = Wide{a.top[axis]} * b.bottom - Wide{b.top[axis]} * a.bottom;
      if (d != 0) return d < 0;
    }
    return false;
  }
  bool turns_left(const Spot& a, const Spot& b, const Spot& c) const {
    const auto minor = [&](const Spot& p, const Spot& q) {
      return Wide{p.top[right]} * q.top[up] - Wide{p.top[up]} * q.top[right];
    };
    return minor(a, b) * c.bottom + minor(b, c) * a.bottom + minor(c, a) * b.bottom > 0;
  }
};

// One side of the hull of sorted points, without its last point.
template <class Points>
void add_chain(const Points& points, const View& view, std::vector<Spot>& out) {
  const std::size_t start = out.size();
  for (const Spot& p : points) {
    while (out.size() >= start + 2 && !view.turns_left(out[out.size() - 2], out.back(), p)) out.pop_back();
    out.push_back(p);
  }
  out.pop_back();
}

}  // namespace

FacePolygon face_polygon(std::span<const Vec> cell_corners, const HalfSpace& plane, Vec shift) {
  FacePolygon face;
  for (Vec p : cell_corners)
    if (dot(plane.n, p) == plane.c) face.corners.push_back(p + shift);
  assert(face.corners.size() >= 3);
  // The least corner is extreme, so that all others lie within half a turn of each other.
  std::iter_swap(face.corners.begin(), std::min_element(face.corners.begin(), face.corners.end()));
  const Vec start = face.low = face.high = face.corners[0];
  std::sort(face.corners.begin() + 1, face.corners.end(),
            [&](Vec p, Vec q) { return dot(plane.n, cross(p - start, q - start)) > 0; });
  for (std::size_t i = 0; i < face.corners.size(); ++i) {
    const Vec p = face.corners[i], edge = face.corners[(i + 1) % face.corners.size()] - p;
    face.inward.push_back(cross(plane.n, edge));
    face.low = {std::min(face.low.x, p.x), std::min(face.low.y, p.y), std::min(face.low.z, p.z)};
    face.high = {std::max(face.high.x, p.x), std::max(face.high.y, p.y), std::max(face.high.z, p.z)};
  }
  return face;
}

std::vector<Spot> overlap(const FacePolygon& a, const FacePolygon& b) {
  if (!boxes_meet(a, b) || some_edge_parts(a, b) || some_edge_parts(b, a)) return {};
  std::vector<Spot> corners;
  add_corners(a, b, corners);
  add_corners(b, a, corners);
  std::sort(corners.begin(), corners.end());
  corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
  return corners;
}

Spot middle(std::span<const Spot> spots) {
  std::int64_t bottom = 1;
  for (const Spot& s : spots) bottom = std::lcm(bottom, s.bottom);
  Vec sum;
  for (const Spot& s : spots) sum = sum + (bottom / s.bottom) * s.top;
  return spot(sum, bottom * static_cast<std::int64_t>(spots.size()));
}

std::vector<Spot> hull(std::vector<Spot> spots, Vec normal) {
  if (spots.size() < 3) return spots;
  const View view(normal);
  std::sort(spots.begin(), spots.end(), [&](const Spot& a, const Spot& b) { return view.before(a, b); });
  std::vector<Spot> out;
  add_chain(spots, view, out);
  std::reverse(spots.begin(), spots.end());
  add_chain(spots, view, out);
  return out;
}

}  // namespace stickwright
