// body.h - a real convex body in millimeters, and the saw plane that cuts it.
#pragma once
#include <array>
#include <vector>

namespace stickwright {

struct Point {
  double a = 0, b = 0, t = 0;
  friend Point operator+(Point p, Point q) { return {p.a + q.a, p.b + q.b, p.t + q.t}; }
  friend Point operator-(Point p, Point q) { return {p.a - q.a, p.b - q.b, p.t - q.t}; }
  friend Point operator*(double k, Point p) { return {k * p.a, k * p.b, k * p.t}; }
};
double dot(Point p, Point q);
Point cross(Point p, Point q);
double length(Point p);

// n.p <= c is kept; n has length 1.
struct Plane {
  Point n;
  double c = 0;
};

// One face: its plane, its corners counter-clockwise seen from outside, and which cut made it (-1: a side of the
// stick).
struct BodyFace {
  Plane plane;
  std::vector<Point> loop;
  int made_by = -1;
};
struct Body {
  std::vector<BodyFace> faces;
};

// Points nearer than this are one corner: far above rounding (1e-13 mm), far below anything that a saw or gauge can
// tell.
inline constexpr double kSameCornerMm = 1e-9;

// The part of the body on the kept side of the plane; empty when nothing is left.
Body clip(const Body& body, const Plane& plane, int made_by);

// A rigid motion: rotation (rows) and shift.
struct Placement {
  std::array<Point, 3> row = {Point{1, 0, 0}, Point{0, 1, 0}, Point{0, 0, 1}};
  Point shift;
  Point operator*(Point p) const { return Point{dot(row[0], p), dot(row[1], p), dot(row[2], p)} + shift; }
  Placement inverse() const;
};
Placement operator*(const Placement& second, const Placement& first);
Body moved(const Placement& by, const Body& body);

std::vector<Point> corners_of(const Body& body);  // distinct ones
double area(const BodyFace& face);
Point middle(const BodyFace& face);  // mean of its corners
double volume(const Body& body);

}  // namespace stickwright
