// fit.h - whether the pieces can fill the goal, as far as counting tells. Private to this room.
#pragma once
#include "design/design.h"
#include "text/toml_reader.h"

namespace stickwright {

// Notes the first of: too_large, wrong_count, wrong_volume, piece_in_parts.
//   at   the [goal], or what stands in its place
void check_fit(const Design& d, const Table& at);

}  // namespace stickwright
