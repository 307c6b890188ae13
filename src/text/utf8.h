// utf8.h - is it text at all?
#pragma once
#include <optional>
#include <string_view>

#include "text/source.h"

namespace stickwright {

// Where the first character stands that is not UTF-8; nothing when all are.
//   source   The Unicode Standard, table 3-7, "Well-Formed UTF-8 Byte Sequences"
std::optional<Place> first_not_utf8(std::string_view text);

// UTF-8 without control characters, line ends among them.
bool is_one_line(std::string_view text);

}  // namespace stickwright
