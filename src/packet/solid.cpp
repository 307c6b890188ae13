#include "packet/solid.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace stickwright {
namespace {

// Screen axes for an eye at kEye with z up.
struct Screen {
  std::array<double, 3> right, up;
};

Screen screen() {
  const double x = static_cast<double>(kEye.x), y = static_cast<double>(kEye.y), z = static_cast<double>(kEye.z);
  const double flat = std::hypot(x, y), all = std::sqrt(x * x + y * y + z * z);
  const std::array<double, 3> right = {-y / flat, x / flat, 0};
  const std::array<double, 3> d = {x / all, y / all, z / all};
  return {right,
          {d[1] * right[2] - d[2] * right[1], d[2] * right[0] - d[0] * right[2], d[0] * right[1] - d[1] * right[0]}};
}

using Edge = std::pair<Vec, Vec>;
Edge edge(Vec a, Vec b) {
  return a < b ? Edge{a, b} : Edge{b, a};
}

// One triangle of the surface of a body.
struct Facet {
  std::int64_t order;
  HalfSpace plane;
  std::array<Vec, 3> corners;
  std::array<bool, 3> drawn;  // the edge from corner i to the next is a real edge of the body
  const DrawnBody* body;
};

struct Surface {
  std::vector<Facet> facets;
  std::map<std::pair<Edge, HalfSpace>, int>
      sides;  // how many facets of one plane meet at an edge: two make it invisible
};

Surface surface_of(const Family& family, const DrawnBody& body) {
  Surface s;
  const Cells cells = moved(family, {Turn{}, body.shift}, body.cells);
  for (Cell c : cells) {
    const auto planes = family.planes(c);
    const auto across = family.neighbors(c);
    const auto corners = family.corners(c);
    for (std::size_t f = 0; f < planes.size(); ++f) {
      if (std::binary_search(cells.begin(), cells.end(), across[f])) continue;
      std::vector<Vec> on;
      for (Vec p : corners)
        if (dot(planes[f].n, p) == planes[f].c) on.push_back(p);
      Facet facet{paint_order(family, c), planes[f], {on[0], on[1], on[2]}, {}, &body};
      for (int i = 0; i < 3; ++i) ++s.sides[{edge(on[i], on[(i + 1) % 3]), planes[f]}];
      s.facets.push_back(facet);
    }
  }
  return s;
}

void add_visible(const Family& family, const DrawnBody& body, std::vector<Facet>& out) {
  Surface s = surface_of(family, body);
  for (Facet& f : s.facets) {
    if (dot(f.plane.n, kEye) <= 0) continue;
    for (int i = 0; i < 3; ++i) f.drawn[i] = s.sides[{edge(f.corners[i], f.corners[(i + 1) % 3]), f.plane}] < 2;
    out.push_back(f);
  }
}

// Light falls from above and from the left of the eye.
double brightness(Vec n) {
  const double light = static_cast<double>(2 * n.x - n.y + 5 * n.z) / std::sqrt(2.0 * 30);
  return 0.78 + 0.22 * light;
}

void draw_facet(Canvas& canvas, const Facet& f, const Projection& projection) {
  std::vector<At> p;
  for (Vec v : f.corners) p.push_back(projection(v));
  const double gray = std::clamp(brightness(f.plane.n) * (0.35 + 0.65 * f.body->light), 0.0, 1.0);
  // A hair of its own gray closes the seam to the neighboring triangle of the same face.
  canvas.polygon(p, {.gray = gray, .hatch = f.body->hatch}, {.width = 0.12, .gray = gray});
  for (std::size_t i = 0; i < 3; ++i)
    if (f.drawn[i]) canvas.line(p[i], p[(i + 1) % 3], {.width = 0.3});
}

std::vector<Facet> back_to_front(const Family& family, const std::vector<DrawnBody>& bodies) {
  std::vector<Facet> facets;
  for (const DrawnBody& b : bodies) add_visible(family, b, facets);
  std::stable_sort(facets.begin(), facets.end(), [](const Facet& a, const Facet& b) { return a.order < b.order; });
  return facets;
}

using Triangle = std::array<At, 3>;

Triangle on_paper(const Facet& f, const Projection& projection) {
  return {projection(f.corners[0]), projection(f.corners[1]), projection(f.corners[2])};
}

bool covers(const Triangle& t, At p) {
  bool left = false, right = false;
  for (std::size_t i = 0; i < 3; ++i) {
    const At e = t[(i + 1) % 3] - t[i], d = p - t[i];
    (e.x * d.y - e.y * d.x > 0 ? left : right) = true;
  }
  return !(left && right);
}

// Its middle, and half way from there to each corner.
std::vector<At> samples(const Triangle& t) {
  const At m = (1.0 / 3) * (t[0] + t[1] + t[2]);
  return {m, 0.5 * (m + t[0]), 0.5 * (m + t[1]), 0.5 * (m + t[2])};
}

std::optional<At> nearest_to_middle(const std::vector<At>& points) {
  if (points.empty()) return {};
  At middle;
  for (At p : points) middle = middle + (1.0 / static_cast<double>(points.size())) * p;
  return *std::min_element(points.begin(), points.end(), [&](At a, At b) {
    return std::hypot(a.x - middle.x, a.y - middle.y) < std::hypot(b.x - middle.x, b.y - middle.y) - 1e-9;
  });
}

}  // namespace

// Between p and q on a ray towards the eye, n.x changes in one direction only, for each family of planes; so does the
// number of the slab floor(n.x / step), and the two cells differ in at least one slab. The sum therefore grows.
std::int64_t paint_order(const Family& family, Cell cell) {
  std::int64_t order = 0;
  const auto corners = family.corners(cell);
  for (const auto& p : family.cut_planes()) {
    // No plane crosses a cell: the least corner tells the slab.
    std::int64_t low = dot(p.n, corners[0]);
    for (Vec v : corners) low = std::min(low, dot(p.n, v));
    const std::int64_t slab = floor_div(low, p.step);
    order += dot(p.n, kEye) > 0 ? slab : -slab;
  }
  return order;
}

At Projection::operator()(double x, double y, double z) const {
  static const Screen s = screen();
  return {origin.x + scale * (x * s.right[0] + y * s.right[1] + z * s.right[2]),
          origin.y - scale * (x * s.up[0] + y * s.up[1] + z * s.up[2])};
}

Projection fit(const Family& family, const std::vector<DrawnBody>& bodies, Box box, double most_scale) {
  const Projection unit{{0, 0}, 1};
  double x1 = 1e300, y1 = 1e300, x2 = -1e300, y2 = -1e300;
  for (const DrawnBody& b : bodies)
    for (Cell c : b.cells)
      for (Vec v : family.corners(c)) {
        const At p = unit(v + b.shift);
        x1 = std::min(x1, p.x), x2 = std::max(x2, p.x), y1 = std::min(y1, p.y), y2 = std::max(y2, p.y);
      }
  const double scale = std::min({box.w / std::max(x2 - x1, 1e-9), box.h / std::max(y2 - y1, 1e-9), most_scale});
  return {{box.x + box.w / 2 - scale * (x1 + x2) / 2, box.y + box.h / 2 - scale * (y1 + y2) / 2}, scale};
}

std::vector<std::optional<At>> label_spots(const Family& family, const std::vector<DrawnBody>& bodies,
                                           const Projection& projection) {
  const std::vector<Facet> facets = back_to_front(family, bodies);
  std::vector<Triangle> seen;
  for (const Facet& f : facets) seen.push_back(on_paper(f, projection));
  std::vector<std::optional<At>> spots(bodies.size());
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    std::vector<At> open;  // points of this body that nothing later covers
    for (std::size_t i = 0; i < facets.size(); ++i)
      if (facets[i].body == &bodies[b])
        for (At p : samples(seen[i]))
          if (std::none_of(seen.begin() + static_cast<std::ptrdiff_t>(i) + 1, seen.end(),
                           [&](const Triangle& t) { return covers(t, p); }))
            open.push_back(p);
    spots[b] = nearest_to_middle(open);
  }
  return spots;
}

void draw_solids(Canvas& canvas, const Family& family, const std::vector<DrawnBody>& bodies,
                 const Projection& projection) {
  for (const Facet& f : back_to_front(family, bodies)) draw_facet(canvas, f, projection);
}

std::array<double, 3> middle_of(const Family& family, const DrawnBody& body) {
  std::array<double, 3> sum{};
  double n = 0;
  for (Cell c : body.cells)
    for (Vec v : family.corners(c)) {
      const Vec p = v + body.shift;
      sum[0] += static_cast<double>(p.x), sum[1] += static_cast<double>(p.y), sum[2] += static_cast<double>(p.z);
      ++n;
    }
  return {sum[0] / n, sum[1] / n, sum[2] / n};
}

}  // namespace stickwright
