#include "saw/body.h"

#include <algorithm>
#include <optional>
#include <utility>

namespace stickwright {
namespace {

template <class T>
bool same(BasicPoint<T> p, BasicPoint<T> q) {
  return sign_of(p.a - q.a) == 0 && sign_of(p.b - q.b) == 0 && sign_of(p.t - q.t) == 0;
}

template <class T>
void add_distinct(std::vector<BasicPoint<T>>& points, BasicPoint<T> p) {
  if (std::none_of(points.begin(), points.end(), [&](BasicPoint<T> q) { return same(p, q); })) points.push_back(p);
}

// The body's corners, each once, and which side of the plane they lie on. Faces that share a corner hold the very same
// numbers for it: clip makes each new corner once.
template <class T>
struct Sides {
  std::vector<BasicPoint<T>> corners;
  std::vector<T> height;
  std::vector<int> side;                                       // -1 kept, 0 on the plane, 1 lost
  std::vector<std::pair<std::pair<int, int>, int>> crossings;  // corner on the edge between two others

  int index(BasicPoint<T> p) const {
    const auto it = std::find(corners.begin(), corners.end(), p);
    return it == corners.end() ? -1 : static_cast<int>(it - corners.begin());
  }
};

template <class T>
int add_corner(Sides<T>& sides, BasicPoint<T> p, T height) {
  sides.corners.push_back(p);
  sides.height.push_back(height);
  sides.side.push_back(sign_of(height));
  return static_cast<int>(sides.corners.size()) - 1;
}

// The corner at which the edge from i to j crosses the plane, made once for the two faces that meet in the edge.
template <class T>
int crossing(Sides<T>& sides, int i, int j) {
  const auto edge = std::minmax(i, j);
  for (const auto& [known, corner] : sides.crossings)
    if (known == std::pair<int, int>(edge)) return corner;
  const BasicPoint<T> p = sides.corners[edge.first], q = sides.corners[edge.second];
  const T share = share_of_way(sides.height[edge.first], sides.height[edge.second]);
  const int corner = add_corner(sides, p + share * (q - p), T(0));
  sides.crossings.push_back({edge, corner});
  return corner;
}

struct Edge {
  int from, to;
};

// What is left of one face, as corners.
//   edge     where the work is cut: the edge that the new face has along this one. It lies on the other side, so it
//   runs
//            the other way round: from where the loop comes back to the kept side to where it leaves it.
template <class T>
std::vector<int> clip_loop(Sides<T>& sides, const std::vector<int>& loop, std::optional<Edge>& edge) {
  std::vector<int> kept;
  int leaves = -1, comes_back = -1;
  for (std::size_t k = 0; k < loop.size(); ++k) {
    const int i = loop[k], j = loop[(k + 1) % loop.size()];
    const int here = sides.side[i], next = sides.side[j];
    if (here <= 0) kept.push_back(i);
    if (here <= 0 && next > 0) leaves = here == 0 ? i : crossing(sides, i, j);
    if (here > 0 && next <= 0) comes_back = next == 0 ? j : crossing(sides, i, j);
    if (here * next < 0) kept.push_back(crossing(sides, i, j));
  }
  if (leaves >= 0 && comes_back >= 0 && leaves != comes_back) edge = Edge{comes_back, leaves};
  return kept;
}

// The loop that the edges make, each beginning where another ends.   returns  nothing when they do not close
std::vector<int> chained(std::vector<Edge> edges) {
  std::vector<int> loop;
  if (edges.empty()) return loop;
  int end = edges.back().from;
  while (!edges.empty()) {
    const auto next = std::find_if(edges.begin(), edges.end(), [&](Edge e) { return e.from == end; });
    if (next == edges.end()) return {};
    loop.push_back(next->from);
    end = next->to;
    edges.erase(next);
  }
  return loop;
}

template <class T>
std::vector<BasicPoint<T>> points_of(const Sides<T>& sides, const std::vector<int>& loop) {
  std::vector<BasicPoint<T>> points;
  for (int i : loop) points.push_back(sides.corners[i]);
  return points;
}

}  // namespace

template <class T>
BasicBody<T> clip(const BasicBody<T>& body, const BasicPlane<T>& plane, int made_by) {
  Sides<T> sides;
  std::vector<std::vector<int>> loops;
  for (const BasicFace<T>& f : body.faces) {
    loops.emplace_back();
    for (BasicPoint<T> p : f.loop) {
      const int known = sides.index(p);
      loops.back().push_back(known >= 0 ? known : add_corner(sides, p, dot(plane.n, p) - plane.c));
    }
  }
  if (std::none_of(sides.side.begin(), sides.side.end(), [](int s) { return s > 0; })) return body;
  BasicBody<T> out;
  std::vector<Edge> edges;
  for (std::size_t k = 0; k < loops.size(); ++k) {
    std::optional<Edge> edge;
    const std::vector<int> kept = clip_loop(sides, loops[k], edge);
    if (edge) edges.push_back(*edge);
    if (kept.size() >= 3) out.faces.push_back({body.faces[k].plane, points_of(sides, kept), body.faces[k].made_by});
  }
  const std::vector<int> loop = chained(std::move(edges));
  if (loop.size() < 3) return {};  // the plane only grazes the body: all of it is on the lost side
  out.faces.push_back({plane, points_of(sides, loop), made_by});
  return out;
}

template <class T>
BasicBody<T> moved(const BasicPlacement<T>& by, const BasicBody<T>& body) {
  const BasicPlacement<T> turn{by.row, {}};
  BasicBody<T> out = body;
  for (BasicFace<T>& f : out.faces) {
    for (BasicPoint<T>& p : f.loop) p = by * p;
    f.plane.n = turn * f.plane.n;
    f.plane.c = f.plane.c + dot(f.plane.n, by.shift);
  }
  return out;
}

template <class T>
std::vector<BasicPoint<T>> corners_of(const BasicBody<T>& body) {
  std::vector<BasicPoint<T>> out;
  for (const BasicFace<T>& f : body.faces)
    for (BasicPoint<T> p : f.loop) add_distinct(out, p);
  return out;
}

double area(const BodyFace& face) {
  Point sum;
  for (std::size_t i = 1; i + 1 < face.loop.size(); ++i)
    sum = sum + cross(face.loop[i] - face.loop[0], face.loop[i + 1] - face.loop[0]);
  return length(sum) / 2;
}

double volume(const Body& body) {
  double six = 0;
  for (const BodyFace& f : body.faces)
    for (std::size_t i = 1; i + 1 < f.loop.size(); ++i) six += dot(f.loop[0], cross(f.loop[i], f.loop[i + 1]));
  return six / 6;
}

template Body clip(const Body&, const Plane&, int);
template BasicBody<Dual> clip(const BasicBody<Dual>&, const BasicPlane<Dual>&, int);
template Body moved(const Placement&, const Body&);
template BasicBody<Dual> moved(const BasicPlacement<Dual>&, const BasicBody<Dual>&);
template std::vector<Point> corners_of(const Body&);
template std::vector<BasicPoint<Dual>> corners_of(const BasicBody<Dual>&);

}  // namespace stickwright
