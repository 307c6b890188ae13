#include "jig/movement.h"

#include <cmath>

namespace stickwright {
namespace {

// length * a * b of independent a and b; exact variance of a product.
Estimate product(double length, const Estimate& a, const Estimate& b) {
  Estimate result;
  result.value = length * a.value * b.value;
  result.u = std::abs(length) *
             std::sqrt(a.value * a.value * b.u * b.u + b.value * b.value * a.u * a.u + a.u * a.u * b.u * b.u);
  result.source = a.source + "; " + b.source;
  return result;
}

}  // namespace

Estimate thermal_growth(Mm length, const Estimate& expansion, const Estimate& warming) {
  return product(length.v, expansion, warming);
}

Estimate moisture_growth(Mm length, const Material& material, const Estimate& rise) {
  return product(100 * length.v, material.moisture, rise);  // the figure is for one percent
}

}  // namespace stickwright
