#include "quantity/estimate.h"

#include <cmath>

namespace stickwright {
namespace {

// u = half-width / divisor.
double divisor(Spread spread) {
  switch (spread) {
    case Spread::rectangular:
      return std::sqrt(3.0);
    case Spread::triangular:
      return std::sqrt(6.0);
    case Spread::u_shaped:
      return std::sqrt(2.0);
    case Spread::normal:
      break;
  }
  return 1;
}

}  // namespace

const char* to_string(Spread spread) {
  constexpr const char* kNames[] = {"normal", "rectangular", "triangular", "U-shaped"};
  return kNames[static_cast<int>(spread)];
}

Estimate within(double value, double half_width, Spread spread, std::string source) {
  Estimate e;
  e.value = value;
  e.u = half_width / divisor(spread);
  e.spread = spread;
  e.source = std::move(source);
  return e;
}

double half_width(const Estimate& e) {
  return e.u * divisor(e.spread);
}

}  // namespace stickwright
