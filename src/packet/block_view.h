// block_view.h - a block as it comes off the saw, with the number of the cut on every sawn face.
#pragma once
#include "block/catalogue.h"
#include "packet/canvas.h"
#include "saw/program.h"

namespace stickwright {

// Turned so that as many sawn faces as can be are seen. A number inside a face stands on it; one outside with a broken
// line belongs to a face at the back. 0 is the face that the cut before has left.
void draw_numbered_block(Canvas& canvas, Box box, const Block& block, const Program& program);

}  // namespace stickwright
