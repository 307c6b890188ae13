// estimate.h - a quantity as far as it is known: a value, its standard uncertainty, and where both come from.
#pragma once
#include <limits>
#include <string>
#include <utility>

namespace stickwright {

// How the possible values are spread about the best one.
//   source   JCGM 100:2008, 4.3 (rectangular: half-width a, u = a / sqrt 3; triangular: a / sqrt 6) and, for the
//            U-shaped one of a cyclic quantity (a / sqrt 2), its example H.1
enum class Spread { normal, rectangular, triangular, u_shaped };
const char* to_string(Spread spread);

// value and u have one unit, which the place that holds the estimate says.
struct Estimate {
  double value = 0;
  double u = 0;  // standard uncertainty, 1 sigma
  Spread spread = Spread::normal;
  double freedom = std::numeric_limits<double>::infinity();  // degrees of freedom of u
  std::string source;                                        // "certificate", "ten readings on one block", "assumed"
};

// Known to lie within `half_width` of the value, and no more.
Estimate within(double value, double half_width, Spread spread, std::string source);

// The half-width of a spread that has one; of a normal spread, u itself.
double half_width(const Estimate& e);

}  // namespace stickwright
