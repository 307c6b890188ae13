// fit.h - whether the pieces can fill the goal, as far as counting tells. Private to this room.
#pragma once
#include "design/design.h"
#include "text/toml_reader.h"

namespace stickwright {

// Notes too_large, wrong_volume or piece_in_parts.   at  where the goal stands, or what is in its place
void check_fit(const Design& d, const Table& at);

}  // namespace stickwright
