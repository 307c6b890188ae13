// wood_tone.h - how light each wood is drawn. Private to this room.
#pragma once
#include <string_view>

namespace stickwright {

// 0 black to 1 white, for pictures that tell woods apart; 0.6 for a wood that is not known.
//   source   none: by eye and from memory, heartwood freshly planed; no board is quite like another
double drawn_lightness(std::string_view wood);

}  // namespace stickwright
