// measure.h - what can be measured on a real block, written for plain and for dual numbers alike.
#pragma once
#include <optional>

#include "saw/body.h"

namespace stickwright {

// The distance between two faces, middle to middle, along the mean of their normals: what a caliper reads whose jaws
// find the middle of both.   returns  nothing when the body has lost one of the faces
template <class T>
std::optional<T> across_flats(const BasicBody<T>& body, int face_a, int face_b) {
  const BasicFace<T>*a = face_made_by(body, face_a), *b = face_made_by(body, face_b);
  if (!a || !b) return {};
  BasicPoint<T> n = a->plane.n - b->plane.n;
  n = (T(1) / length(n)) * n;
  return dot(n, middle(*a)) - dot(n, middle(*b));
}

// The angle between two faces, measured through the wood: 90 degrees at the point of two true opposite miters.
template <class T>
std::optional<T> angle_between(const BasicBody<T>& body, int face_a, int face_b) {
  using std::acos;
  const BasicFace<T>*a = face_made_by(body, face_a), *b = face_made_by(body, face_b);
  if (!a || !b) return {};
  return acos(T(-1) * dot(a->plane.n, b->plane.n));
}

// Where three planes meet. A corner in which four or more meet has as many answers as triples: to first order each
// moves in its own way.
template <class T>
BasicPoint<T> meeting_point(const BasicPlane<T>& p, const BasicPlane<T>& q, const BasicPlane<T>& r) {
  const BasicPoint<T> x = cross(q.n, r.n), y = cross(r.n, p.n), z = cross(p.n, q.n);
  return (T(1) / dot(p.n, x)) * (p.c * x + q.c * y + r.c * z);
}

}  // namespace stickwright
