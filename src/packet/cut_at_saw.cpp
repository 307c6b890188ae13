#include "packet/cut_at_saw.h"

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

constexpr double kClampBeyond = 2.3;  // halves of the diagonal from the blade to a clamp beyond it

Plane shifted(const Plane& p, double by) {
  return {p.n, p.c + by};
}
Plane turned_over(const Plane& p) {
  return {-1.0 * p.n, -p.c};
}

Point middle_of_corners(const Body& body) {
  Point middle;
  const auto corners = corners_of(body);
  for (Point p : corners) middle = middle + (1.0 / static_cast<double>(corners.size())) * p;
  return middle;
}

// Every corner on the stop's face.
std::vector<Point> touching(const AtTheStop& at) {
  std::vector<Point> out;
  for (Point p : corners_of(at.work))
    if (std::abs(dot(at.stop_face.n, p) - at.stop_face.c) < 1e-6) out.push_back(p);
  return out;
}

std::optional<std::pair<Point, Point>> pencil_line_on(const Body& body, Pencil p, double half) {
  const double a = p == Pencil::away ? half : p == Pencil::near ? -half : 0;
  const double b = p == Pencil::up ? half : p == Pencil::down ? -half : 0;
  double low = 1e9, high = -1e9;
  for (Point q : corners_of(body))
    if (std::hypot(q.a - a, q.b - b) < 1e-6) low = std::min(low, q.t), high = std::max(high, q.t);
  if (low >= high) return {};
  return std::pair{Point{a, b, low}, Point{a, b, high}};
}

}  // namespace

CutAtSaw cut_at_saw(const SawView& view) {
  CutAtSaw c;
  c.at = at_the_stop(view.program, view.cut, nominal_saw(view.stick));
  const Plane far_side = shifted(c.at.blade, view.kerf.v);  // the kerf is taken from what is not kept
  c.kept = clip(c.at.work, c.at.blade, 99);
  c.kerf = clip(clip(c.at.work, turned_over(c.at.blade), 99), far_side, 98);
  c.rest = clip(c.at.work, turned_over(far_side), 98);
  c.half = unit_mm(view.stick);
  c.blade_at = c.at.blade.c / c.at.blade.n.t;
  c.contact = touching(c.at);
  c.clamped_beyond = view.cut_drawn().on_stick && view.clamp_side == Side::right;
  c.middle = middle_of_corners(c.kept);
  c.clamp = c.clamped_beyond ? Point{0, 0, c.blade_at + kClampBeyond * c.half} : c.middle;
  c.pencil_line = pencil_line_on(c.kept, view.cut_drawn().pencil, c.half);
  return c;
}

std::pair<Point, Point> where_to_measure(const CutAtSaw& cut, Mm across_flats) {
  const Point n = cut.at.blade.n;
  const Point on_the_cut = cut.middle + (cut.at.blade.c - dot(n, cut.middle)) * n;
  return {on_the_cut, on_the_cut + (-across_flats.v) * n};
}

}  // namespace stickwright
