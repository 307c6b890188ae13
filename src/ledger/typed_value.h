// typed_value.h - a reading as hands or a caliper that types like a keyboard give it.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "quantity/quantity.h"
#include "quantity/result.h"

namespace stickwright {

enum class Unit { mm, inch };

// "16.02", "+16.020", "16,02" (decimal comma), "16.02 mm", "0.6307in", with blanks and line ends around it.
//   unit     of a number without one
//   errors   bad_value (says what stands there): no number, another unit, a minus sign, or a length
//            that is not between 0 and 10 m. Finer digits than nanometers are rounded
Result<Nm> parse_typed(std::string_view text, Unit unit);

// The values that one line holds, each with the unit that follows it: blanks, tabs and semicolons part them.
//   returns  pieces of text for parse_typed; none for an empty line
std::vector<std::string> split_typed(std::string_view line);

}  // namespace stickwright
