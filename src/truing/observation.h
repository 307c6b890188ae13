// observation.h - what the maker looks at or measures to find how the saw is off, and what the forward model says that
// it should read.
#pragma once
#include <array>
#include <string>

#include "quantity/quantity.h"
#include "saw/forward.h"

namespace stickwright {

enum class Look {
  point,  // two opposite miters cut to a point, a square held over it: the light gap
  blade,  // a square standing on the sled on the side of the stop, its arm against the blade plate: the light gap
  corner_length,  // of the truing block, along one of its four corner lines
  width,          // of the stick, across one pair of its sides
  bar,            // a straight bar in the V: how much its end towards the blade is higher
  flanks,         // an indicator on both flanks: how much the flank away from the operator is higher
};
inline constexpr int kLooks = 6;
const char* to_string(Look look);

// One reading. A gap or a height is signed. Above zero: light at the tip (the point is wider than 90 degrees), light at
// the foot of the blade (its top leans over to the stop), the end towards the blade higher, the flank away higher.
struct Observation {
  Look look = Look::point;
  int which = 0;  // corner_length: 0 away, 1 up, 2 near, 3 down, as the block lay for its cut; width: 0 or 1
  Mm measured;
  Mm over;  // point, blade: arm at which the gap is; bar: length; flanks: distance between the two places
  Mm u;     // standard uncertainty of the reading itself; the square's own error is not in it
};

// A piece of stick with two opposite miters, made with the far one by a stop at which its tip stands. Measured along
// its corner lines it shows four times what one miter is off.
Program truing_block();

// What the truing block shows on this saw.
template <class T>
struct BlockShape {
  T past_square{};               // rad: the angle at its point less 90 degrees
  std::array<T, 4> corner_mm{};  // lengths along the corner lines: away, up, near, down
};

//   state    with one stop
template <class T>
BlockShape<T> block_shape(const StateOf<T>& state);

// What the observation should read on this saw.
//   block    the truing block that this saw cuts
//   source   docs/derivations/truing.md
template <class T>
T expected_reading(const Observation& o, const StateOf<T>& state, const BlockShape<T>& block);

// "truing block, up corner", "square over the point"
std::string name_of(const Observation& o);

// How the square's own error, by how much it is wider than a right angle, enters a gap: gap += sign * error * over.
// Over the point a wide square takes light away from the tip; between sled and blade plate it brings light to the foot.
// 0: the reading is taken without the square.
//   assumes  inner and outer edges of the square are parallel: over the point it lies with the inner ones, against the
//            plate with the outer ones
int sign_of_square(Look look);

}  // namespace stickwright
