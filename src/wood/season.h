// season.h - how damp the wood of a finished puzzle gets over the year in its owner's home.
#pragma once
#include "quantity/physical.h"

namespace stickwright {

// The air that the puzzle stands in, the mean of a month.
struct MonthAir {
  Celsius temperature;
  double humidity = 0;  // relative, a share
};

}  // namespace stickwright
