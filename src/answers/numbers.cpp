#include "answers/numbers.h"

#include <cmath>

namespace stickwright {

double short_of(double v) {
  return std::round(v * 1e6) / 1e6 + 0.0;
}

}  // namespace stickwright
