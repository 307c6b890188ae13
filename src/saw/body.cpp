#include "saw/body.h"

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

bool same(Point p, Point q) {
  return length(p - q) < kSameCornerMm;
}

void add_distinct(std::vector<Point>& points, Point p) {
  if (std::none_of(points.begin(), points.end(), [&](Point q) { return same(p, q); })) points.push_back(p);
}

double height(const Plane& plane, Point p) {
  const double h = dot(plane.n, p) - plane.c;
  return std::abs(h) < kSameCornerMm ? 0 : h;
}

// The part of one face on the kept side. Corners that lie on the plane are also added to `on_plane`.
std::vector<Point> clip_loop(const std::vector<Point>& loop, const Plane& plane, std::vector<Point>& on_plane) {
  std::vector<Point> kept;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Point p = loop[i], q = loop[(i + 1) % loop.size()];
    const double hp = height(plane, p), hq = height(plane, q);
    if (hp <= 0) add_distinct(kept, p);
    if (hp == 0) add_distinct(on_plane, p);
    if ((hp < 0 && hq > 0) || (hp > 0 && hq < 0)) {
      const Point cut = p + (hp / (hp - hq)) * (q - p);
      add_distinct(kept, cut);
      add_distinct(on_plane, cut);
    }
  }
  return kept;
}

// Corners of the new face in order, counter-clockwise about the plane's normal.
void sort_around(std::vector<Point>& loop, Point n) {
  Point center;
  for (Point p : loop) center = center + (1.0 / static_cast<double>(loop.size())) * p;
  const Point e = loop[0] - center, f = cross(n, e);
  std::sort(loop.begin(), loop.end(), [&](Point p, Point q) {
    return std::atan2(dot(p - center, f), dot(p - center, e)) < std::atan2(dot(q - center, f), dot(q - center, e));
  });
}

}  // namespace

double dot(Point p, Point q) {
  return p.a * q.a + p.b * q.b + p.t * q.t;
}
Point cross(Point p, Point q) {
  return {p.b * q.t - p.t * q.b, p.t * q.a - p.a * q.t, p.a * q.b - p.b * q.a};
}
double length(Point p) {
  return std::sqrt(dot(p, p));
}

Body clip(const Body& body, const Plane& plane, int made_by) {
  Body out;
  std::vector<Point> on_plane;
  bool cuts = false, lies_in_face = false;
  for (const BodyFace& f : body.faces) {
    std::vector<Point> loop = clip_loop(f.loop, plane, on_plane);
    for (Point p : f.loop) cuts |= height(plane, p) > 0;
    lies_in_face |= std::all_of(f.loop.begin(), f.loop.end(), [&](Point p) { return height(plane, p) == 0; });
    if (loop.size() >= 3) out.faces.push_back({f.plane, std::move(loop), f.made_by});
  }
  if (!cuts) return body;
  if (lies_in_face || on_plane.size() < 3) return {};  // the plane only grazes the body: all of it is on the lost side
  sort_around(on_plane, plane.n);
  out.faces.push_back({plane, std::move(on_plane), made_by});
  return out;
}

Placement Placement::inverse() const {
  Placement m{
      {Point{row[0].a, row[1].a, row[2].a}, Point{row[0].b, row[1].b, row[2].b}, Point{row[0].t, row[1].t, row[2].t}},
      {}};
  m.shift = -1.0 * (m * shift);
  return m;
}

Placement operator*(const Placement& second, const Placement& first) {
  const Placement back = Placement{first.row, {}}.inverse();  // its rows are first's columns
  Placement m;
  for (int i = 0; i < 3; ++i)
    m.row[i] = {dot(second.row[i], back.row[0]), dot(second.row[i], back.row[1]), dot(second.row[i], back.row[2])};
  m.shift = second * first.shift;
  return m;
}

Body moved(const Placement& by, const Body& body) {
  const Placement turn{by.row, {}};
  Body out = body;
  for (BodyFace& f : out.faces) {
    for (Point& p : f.loop) p = by * p;
    f.plane.n = turn * f.plane.n;
    f.plane.c = dot(f.plane.n, f.loop[0]);
  }
  return out;
}

std::vector<Point> corners_of(const Body& body) {
  std::vector<Point> out;
  for (const BodyFace& f : body.faces)
    for (Point p : f.loop) add_distinct(out, p);
  return out;
}

double area(const BodyFace& face) {
  Point sum;
  for (std::size_t i = 1; i + 1 < face.loop.size(); ++i)
    sum = sum + cross(face.loop[i] - face.loop[0], face.loop[i + 1] - face.loop[0]);
  return length(sum) / 2;
}

Point middle(const BodyFace& face) {
  Point sum;
  for (Point p : face.loop) sum = sum + (1.0 / static_cast<double>(face.loop.size())) * p;
  return sum;
}

double volume(const Body& body) {
  double six = 0;
  for (const BodyFace& f : body.faces)
    for (std::size_t i = 1; i + 1 < f.loop.size(); ++i) six += dot(f.loop[0], cross(f.loop[i], f.loop[i + 1]));
  return six / 6;
}

}  // namespace stickwright
