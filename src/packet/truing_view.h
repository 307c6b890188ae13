// truing_view.h - how the saw is looked at to true it: one small picture a check.
#pragma once
#include "packet/canvas.h"
#include "quantity/quantity.h"

namespace stickwright {

// A square standing on the sled, its arm against a blade that leans, from the side: light at the blade's top.
void draw_square_at_blade(Canvas& canvas, Box box, Mm arm);

// The cradle from the blade's end, an indicator on either flank.
void draw_indicator_on_flanks(Canvas& canvas, Box box, Mm places);

// The cradle from the side with a straight bar in its V, and where its rise towards the blade is read.
void draw_bar_in_cradle(Canvas& canvas, Box box, Mm bar);

// Two opposite miters cut to a point, from above, under a square: too wide (light at the tip), too sharp (light at the
// ends of the arms).
void draw_point_and_square(Canvas& canvas, Box box);

// The truing block from above and from its end, its corner lines named and measured along.
//   near, away  lengths along those corner lines on a true saw
void draw_truing_block(Canvas& canvas, Box box, Mm near, Mm away);

}  // namespace stickwright
