// whole_numbers.h - from floating-point answers to whole numbers that can be checked exactly.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace stickwright {

// Whole numbers in the same proportion as the values: each is rounded to the simplest fraction near it (continued
// fractions), and all are brought to one bottom.
//   returns  top [n] and the common bottom, > 0; nothing when some value is near no simple fraction
//   not for  deciding anything: check the result against the rules
struct WholeNumbers {
  std::vector<std::int64_t> top;
  std::int64_t bottom = 1;
};
std::optional<WholeNumbers> whole_numbers(std::span<const double> values);

}  // namespace stickwright
