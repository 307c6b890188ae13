#include "metrology/draws.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace stickwright {
namespace {

// One round of the finalizer of 64-bit MurmurHash3 (public domain; constants from memory): neighboring numbers come out
// far apart.
std::uint64_t scrambled(std::uint64_t x) {
  x = (x ^ (x >> 33)) * 0xff51afd7ed558ccdULL;
  x = (x ^ (x >> 33)) * 0xc4ceb9fe1a85ec53ULL;
  return x ^ (x >> 33);
}

}  // namespace

Draws::Draws(std::uint64_t seed, std::uint64_t block) : engine_(scrambled(scrambled(seed + 1) + block)) {}

double Draws::uniform() {
  return (static_cast<double>(engine_() >> 11) + 0.5) * 0x1p-53;
}

Draws::InDisk Draws::in_disk() {
  for (;;) {
    const double x = 2 * uniform() - 1, y = 2 * uniform() - 1, square = x * x + y * y;
    if (square > 0 && square <= 1) return {x, square};
  }
}

// The polar method of Marsaglia; only one of the pair is used, so that nothing is left over between two calls.
double Draws::normal() {
  const InDisk p = in_disk();
  return p.x * std::sqrt(-2 * std::log(p.square) / p.square);
}

// The polar method carried over to Student's t (Bailey, Mathematics of Computation 62, 1994; from memory). As the
// freedom grows, freedom (w^(-2/freedom) - 1) turns into -2 log w, and this into the one above.
double Draws::student(double freedom) {
  const InDisk p = in_disk();
  return p.x * std::sqrt(freedom * std::expm1(-2 / freedom * std::log(p.square)) / p.square);
}

double Draws::half_width_of(const Estimate& e) {
  const double a = half_width(e);
  if (std::isinf(e.freedom)) return a;
  const double doubt = std::min(1.0, 1 / std::sqrt(2 * e.freedom));
  return a * (1 + doubt * (2 * uniform() - 1));
}

double Draws::of(const Estimate& e) {
  switch (e.spread) {
    case Spread::rectangular:
      return e.value + half_width_of(e) * (2 * uniform() - 1);
    case Spread::triangular:
      return e.value + half_width_of(e) * (uniform() - uniform());
    case Spread::u_shaped:
      return e.value + half_width_of(e) * std::sin(2 * std::numbers::pi * uniform());
    case Spread::normal:
      break;
  }
  return e.value + e.u * (std::isinf(e.freedom) ? normal() : student(e.freedom));
}

}  // namespace stickwright
