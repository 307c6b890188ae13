#include "takeapart/cell_axes.h"

#include <algorithm>
#include <numeric>

namespace stickwright {
namespace {

std::set<Vec> differences(const Corners& corners) {
  std::set<Vec> out;
  for (std::size_t i = 0; i < corners.size(); ++i)
    for (std::size_t j = i + 1; j < corners.size(); ++j) {
      const Vec d = corners[j] - corners[i];
      out.insert(d > Vec{} ? d : -d);
    }
  return out;
}

Vec reduced(Vec v) {
  const std::int64_t g = std::gcd(std::gcd(v.x, v.y), v.z);
  return {v.x / g, v.y / g, v.z / g};
}

}  // namespace

Corners shifted_corners(const Family& family, Cell cell, Vec shift) {
  Corners out = family.corners(cell);
  for (Vec& p : out) p = p + shift;
  return out;
}

std::set<Vec> cell_axes(const Corners& a, const Corners& b) {
  std::set<Vec> edges = differences(a), axes;
  edges.merge(differences(b));
  for (Vec e : edges)
    for (Vec f : edges)
      if (const Vec n = cross(e, f); n != Vec{}) axes.insert(reduced(n));
  return axes;
}

std::int64_t gap(const Corners& a, const Corners& b, Vec n) {
  const auto along = [&](Vec p, Vec q) { return dot(n, p) < dot(n, q); };
  return dot(n, *std::min_element(b.begin(), b.end(), along)) - dot(n, *std::max_element(a.begin(), a.end(), along));
}

}  // namespace stickwright
