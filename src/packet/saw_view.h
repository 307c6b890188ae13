// saw_view.h - the stick in its cradle, seen from above and from the blade's end, as it lies for one cut.
#pragma once
#include "packet/canvas.h"
#include "packet/cut_at_saw.h"

namespace stickwright {

// From above: t to the right (from the stop to the blade), away from the operator upwards. Kept wood is gray, the
// blade's kerf is black, the contact is marked, the stop distance is dimensioned along the axis.
void draw_from_above(Canvas& canvas, Box box, const SawView& view);

// From the blade towards the stop: the section in its V, the pencil line's corner marked, the operator's side named.
void draw_from_the_blade(Canvas& canvas, Box box, const SawView& view);

// The piece just cut, from above, with the anvils on the two faces to measure: the one that this cut makes, and the one
// parallel to it.
void draw_where_to_measure(Canvas& canvas, Box box, const SawView& view, Mm across_flats);

}  // namespace stickwright
