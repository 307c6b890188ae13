// shapes_cut.h - splitting pieces into blocks, with the grain as the saw leaves it.
#pragma once
#include "glueup/glueup.h"

namespace stickwright {

// Splits the pieces and runs the grain of every block along the stick's axis of its cut program. All answers have
// passed the independent checker.
Split split_with_grain(const std::vector<MadePiece>& made);

}  // namespace stickwright
