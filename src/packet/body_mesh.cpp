#include "packet/body_mesh.h"

#include <algorithm>
#include <set>
#include <utility>

namespace stickwright {
namespace {

int number_of(std::vector<Point>& corners, Point p) {
  const auto it = std::find(corners.begin(), corners.end(), p);
  if (it != corners.end()) return static_cast<int>(it - corners.begin());
  corners.push_back(p);
  return static_cast<int>(corners.size()) - 1;
}

}  // namespace

BodyMesh mesh_of(const Body& body) {
  BodyMesh mesh;
  std::set<std::pair<int, int>> edges;
  for (const BodyFace& f : body.faces) {
    std::vector<int> loop;
    for (Point p : f.loop) loop.push_back(number_of(mesh.corners, p));
    for (std::size_t i = 1; i + 1 < loop.size(); ++i) mesh.triangles.push_back({loop[0], loop[i], loop[i + 1]});
    for (std::size_t i = 0; i < loop.size(); ++i) edges.insert(std::minmax(loop[i], loop[(i + 1) % loop.size()]));
  }
  for (const auto& [from, to] : edges) mesh.edges.push_back({from, to});
  return mesh;
}

Body box_body(Point low, Point high) {
  // Bit 0: at the high side along a, bit 1 along b, bit 2 along t.
  const auto corner = [&](int k) {
    return Point{k & 1 ? high.a : low.a, k & 2 ? high.b : low.b, k & 4 ? high.t : low.t};
  };
  const auto face = [&](Point n, double c, std::array<int, 4> loop) {
    BodyFace f{{n, c}, {}, 0};
    for (int k : loop) f.loop.push_back(corner(k));
    return f;
  };
  return {{face({-1, 0, 0}, -low.a, {0, 4, 6, 2}), face({1, 0, 0}, high.a, {1, 3, 7, 5}),
           face({0, -1, 0}, -low.b, {0, 1, 5, 4}), face({0, 1, 0}, high.b, {2, 6, 7, 3}),
           face({0, 0, -1}, -low.t, {0, 2, 3, 1}), face({0, 0, 1}, high.t, {4, 5, 7, 6})}};
}

}  // namespace stickwright
