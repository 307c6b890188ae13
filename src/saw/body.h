// body.h - a real convex body in millimeters, and the saw plane that cuts it.
//
// All of it is written for two kinds of number: double, and Dual (dual.h), which carries a derivative along.
#pragma once
#include <array>
#include <vector>

#include "saw/dual.h"

namespace stickwright {

template <class T>
struct BasicPoint {
  T a{}, b{}, t{};
  friend bool operator==(const BasicPoint&, const BasicPoint&) = default;
  friend BasicPoint operator+(BasicPoint p, BasicPoint q) { return {p.a + q.a, p.b + q.b, p.t + q.t}; }
  friend BasicPoint operator-(BasicPoint p, BasicPoint q) { return {p.a - q.a, p.b - q.b, p.t - q.t}; }
  friend BasicPoint operator*(T k, BasicPoint p) { return {k * p.a, k * p.b, k * p.t}; }
  friend T dot(BasicPoint p, BasicPoint q) { return p.a * q.a + p.b * q.b + p.t * q.t; }
  friend BasicPoint cross(BasicPoint p, BasicPoint q) {
    return {p.b * q.t - p.t * q.b, p.t * q.a - p.a * q.t, p.a * q.b - p.b * q.a};
  }
  friend T length(BasicPoint p) {
    using std::sqrt;
    return sqrt(dot(p, p));
  }
};
using Point = BasicPoint<double>;

// n.p <= c is kept; n has length 1.
template <class T>
struct BasicPlane {
  BasicPoint<T> n;
  T c{};
};
using Plane = BasicPlane<double>;

// The sides of the stick, across the faces towards (+a,+b), (-a,-b), (+a,-b), (-a,+b), as BodyFace::made_by.
constexpr int stick_side(int k) {
  return -1 - k;
}

// One face: its plane, its corners counter-clockwise seen from outside, and which cut made it (below 0: a side of the
// stick).
template <class T>
struct BasicFace {
  BasicPlane<T> plane;
  std::vector<BasicPoint<T>> loop;
  int made_by = -1;
};
using BodyFace = BasicFace<double>;

template <class T>
struct BasicBody {
  std::vector<BasicFace<T>> faces;
};
using Body = BasicBody<double>;

// The part of the body on the kept side of the plane; empty when nothing is left.
template <class T>
BasicBody<T> clip(const BasicBody<T>& body, const BasicPlane<T>& plane, int made_by);

// A rigid motion: rotation (rows) and shift.
template <class T>
struct BasicPlacement {
  std::array<BasicPoint<T>, 3> row = {BasicPoint<T>{1, 0, 0}, BasicPoint<T>{0, 1, 0}, BasicPoint<T>{0, 0, 1}};
  BasicPoint<T> shift{};
  BasicPoint<T> operator*(BasicPoint<T> p) const {
    return BasicPoint<T>{dot(row[0], p), dot(row[1], p), dot(row[2], p)} + shift;
  }
  BasicPlacement inverse() const {
    BasicPlacement m{{BasicPoint<T>{row[0].a, row[1].a, row[2].a}, BasicPoint<T>{row[0].b, row[1].b, row[2].b},
                      BasicPoint<T>{row[0].t, row[1].t, row[2].t}},
                     {}};
    m.shift = T(-1) * (m * shift);
    return m;
  }
  friend BasicPlacement operator*(const BasicPlacement& second, const BasicPlacement& first) {
    const BasicPlacement back = BasicPlacement{first.row, {}}.inverse();  // its rows are first's columns
    BasicPlacement m;
    for (int i = 0; i < 3; ++i)
      m.row[i] = {dot(second.row[i], back.row[0]), dot(second.row[i], back.row[1]), dot(second.row[i], back.row[2])};
    m.shift = second * first.shift;
    return m;
  }
};
using Placement = BasicPlacement<double>;

template <class T>
BasicBody<T> moved(const BasicPlacement<T>& by, const BasicBody<T>& body);

// Distinct ones. Of a body of dual numbers, two that part by their derivatives alone are two.
template <class T>
std::vector<BasicPoint<T>> corners_of(const BasicBody<T>& body);

double area(const BodyFace& face);
double volume(const Body& body);

template <class T>
BasicPoint<T> middle(const BasicFace<T>& face) {  // mean of its corners
  BasicPoint<T> sum;
  for (BasicPoint<T> p : face.loop) sum = sum + T(1.0 / static_cast<double>(face.loop.size())) * p;
  return sum;
}

// The face that a cut made, or that is a side of the stick; null when nothing of it is left.
template <class T>
const BasicFace<T>* face_made_by(const BasicBody<T>& body, int made_by) {
  for (const BasicFace<T>& f : body.faces)
    if (f.made_by == made_by) return &f;
  return nullptr;
}

}  // namespace stickwright
