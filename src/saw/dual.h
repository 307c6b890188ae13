// dual.h - a number together with how fast it changes when one parameter of the saw does: exact derivatives of the
// forward model, no step size to choose.
//
// Forty lines of ours instead of a library: the libraries at hand carry a whole gradient of fixed or heap-allocated
// length and compare by value alone. This one carries one derivative (the program is run once a parameter, which is
// cheap) and is compared by value first, then by derivative: it runs the model an infinitely small step beside the
// nominal point. That matters where several corners touch a stop at once, or four planes meet in a corner: there the
// model has a kink, and each side of it has its own derivative.
//   source   forward accumulation with dual numbers: W. K. Clifford 1873; A. Griewank and A. Walther, "Evaluating
//            Derivatives" (2nd ed. 2008), chapter 3 (from memory)
#pragma once
#include <cmath>

namespace stickwright {

struct Dual {
  double v = 0;  // value
  double d = 0;  // derivative
  constexpr Dual() = default;
  constexpr Dual(double value, double derivative = 0) : v(value), d(derivative) {}

  friend bool operator==(const Dual&, const Dual&) = default;
  friend constexpr Dual operator+(Dual x, Dual y) { return {x.v + y.v, x.d + y.d}; }
  friend constexpr Dual operator-(Dual x, Dual y) { return {x.v - y.v, x.d - y.d}; }
  friend constexpr Dual operator-(Dual x) { return {-x.v, -x.d}; }
  friend constexpr Dual operator*(Dual x, Dual y) { return {x.v * y.v, x.d * y.v + x.v * y.d}; }
  friend constexpr Dual operator/(Dual x, Dual y) { return {x.v / y.v, (x.d * y.v - x.v * y.d) / (y.v * y.v)}; }
};

inline Dual sin(Dual x) {
  return {std::sin(x.v), x.d * std::cos(x.v)};
}
inline Dual cos(Dual x) {
  return {std::cos(x.v), -x.d * std::sin(x.v)};
}
inline Dual sqrt(Dual x) {
  const double r = std::sqrt(x.v);
  return {r, x.d / (2 * r)};
}
inline Dual acos(Dual x) {
  return {std::acos(x.v), -x.d / std::sqrt(1 - x.v * x.v)};
}

// Lengths, in mm, nearer to 0 than this are 0: far above rounding (1e-13 mm), far below anything that a saw or gauge
// can tell.
inline constexpr double kSameCornerMm = 1e-9;
// The same for derivatives, in mm per scale of the parameter (state.h): rounding is 1e-12, a true one 1e-3 and more.
inline constexpr double kSameSlope = 1e-8;

// -1, 0 or 1. A dual number that is 0 in value is taken by its derivative.
inline int sign_of(double x) {
  return x > kSameCornerMm ? 1 : x < -kSameCornerMm ? -1 : 0;
}
inline int sign_of(Dual x) {
  if (const int s = sign_of(x.v)) return s;
  return x.d > kSameSlope ? 1 : x.d < -kSameSlope ? -1 : 0;
}

// x / (x - y) for heights of different sign: how far from x to y the height is 0. Two heights that are 0 in value part
// by their derivatives; how that place moves in turn along the line is not known to first order, and not asked for.
inline double share_of_way(double x, double y) {
  return x / (x - y);
}
inline Dual share_of_way(Dual x, Dual y) {
  if (sign_of(x.v) == 0 && sign_of(y.v) == 0) return {x.d / (x.d - y.d), 0};
  return x / (x - y);
}

}  // namespace stickwright
