// first_order.h - the forward model taken to first order once for a program: slightly wrong blocks by the hundred
// thousand, kinks included.
#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "saw/forward.h"

namespace stickwright {

// How far the work is slid at a cut changes by the value of a small matrix game over rows of FirstOrderBlock: one row
// for each pair of an end of the contact and a basis (planes that hold all of the contact, pressed on by the stop).
// One basis: the largest over the ends, one of which touches first when an edge or a face is turned. One end: the
// least over the bases, one of which the corner becomes when it was made by more than three planes.
struct FirstOrderSlide {
  std::size_t first_row = 0, ends = 1, bases = 1;  // rows [ends][bases]
};

// A face that the nominal block has; four rows: FaceChange::offset and turn.
struct FirstOrderFace {
  int made_by = -1;
  Plane plane;  // about which it changes
  std::size_t first_row = 0;
};

// A program expanded about a state. All that changes is made of rows, linear functions of the changes x of the state's
// numbers and s of the slides. They are stored by columns, one for each number that moves anything, then one for each
// slide; a slide stands only in rows of later slides and of its own cut's face.
struct FirstOrderBlock {
  std::vector<Parameter> numbers;       // of the state, parameters_of
  std::vector<FirstOrderSlide> slides;  // by cut
  std::vector<FirstOrderFace> faces;    // as in nominal
  Body nominal;                         // saw::cut of the state expanded about
  std::size_t rows = 0;
  std::vector<std::size_t> moving_number;  // index into numbers, ascending: of the columns before those of the slides
  std::vector<double> columns;             // [moving_number + slides][rows]
};

//   about    geometric errors 0; lengths, temperatures, expansions may be anything
//   returns  the one-sided derivative in every direction at once: of one piece where nothing touches twice, else of as
//            many as the kinks there are
//   exact    derivatives, no step size; tested against dual numbers in random directions for every block of the
//            catalogue
//   not for  an `about` off by less than the changes asked for where the nominal saw has a kink (0.01 mm, say): the
//            kink is then beside it and is not seen. Expand about the nominal saw and put what it is off into x
//   source   docs/derivations/first-order-cuts.md
FirstOrderBlock first_order(const Program& program, const SawState& about, Workplace place = {});

// How a face's plane n.p <= c changes: c by offset, n by turn.
struct FaceChange {
  double offset = 0;  // mm
  Point turn;
  double outward(Point p) const { return offset - dot(turn, p); }  // mm at a point p of the nominal face
};

// What becomes of a block. Kept by the caller from one block to the next, so that nothing is allocated.
struct BlockChange {
  std::vector<double> slides;  // mm, by cut
  std::vector<double> rows;
  FaceChange face(const FirstOrderFace& f) const {
    const double* r = rows.data() + f.first_row;
    return {r[0], {r[1], r[2], r[3]}};
  }
};

// The block that a saw gives whose numbers are off by x.
//   x        by FirstOrderBlock::numbers, each in its unit
//   assumes  small changes; what is left out is of second order (first-order-cuts.md: a few micrometers at the errors
//            of a shop)
//   exact    positively homogeneous: k x gives k times the change, k >= 0
void change(const FirstOrderBlock& block, std::span<const double> x, BlockChange& out);

}  // namespace stickwright
