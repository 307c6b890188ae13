// amount.h - reads a number and the unit behind it, exactly. Private to this room.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "quantity/result.h"

namespace stickwright {

// A number as an exact fraction of two whole numbers: "0.05" is 5/100, "1 1/2" is 3/2.
struct Ratio {
  std::int64_t top = 0, bottom = 1;
  double value() const { return static_cast<double>(top) / static_cast<double>(bottom); }
};

struct NumberWithUnit {
  Ratio number;
  std::string_view unit;
};

// "1 1/2 in" is 3/2 and "in". Up to six decimals, parts up to 10^12, no exponents.
//   returns  nothing when there is no such number; the unit may be empty or unknown
std::optional<NumberWithUnit> number_with_unit(std::string_view text);

Problem bad_amount(std::string code, std::string_view what, std::string_view example, std::string_view text);

}  // namespace stickwright
