// first_order.h - the forward model taken to first order once for a program: slightly wrong blocks by the hundred
// thousand, kinks included.
#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "saw/forward.h"

namespace stickwright {

// How far the work is slid at a cut changes by the value of a small matrix game over rows of FirstOrderBlock: one row
// for each pair of an end of the contact and a basis (planes that hold all of the contact and share the stop's push).
// One basis: the largest over the ends, of which one touches first when an edge or a face is turned. One end: the
// least over the bases, the triples of planes into which a corner made by more than three falls apart.
struct FirstOrderSlide {
  std::size_t first_row = 0, ends = 1, bases = 1;  // rows [ends][bases]
};

// A face that the nominal block has; four rows: FaceChange::offset and turn.
struct FirstOrderFace {
  int made_by = -1;
  Plane plane;  // about which it changes
  std::size_t first_row = 0;
};

// What comes on top of one thing that the work sees (BasicSeen) when several numbers are off that act as a product.
struct FirstOrderProduct {
  std::size_t number = 0, other = 0;  // indices of numbers
  double coefficient = 0;
};

// A program expanded about a state. All that changes is made of rows, linear functions of the changes x of the state's
// numbers and s of the slides. They are stored by columns: one for each number that moves anything; one for each thing
// that the work sees through products; one for each slide, which stands only in rows of later slides and of its own
// cut's face.
struct FirstOrderBlock {
  std::vector<Parameter> numbers;       // of the state, parameters_of
  std::vector<FirstOrderSlide> slides;  // by cut
  std::vector<FirstOrderFace> faces;    // as in nominal
  Body nominal;                         // saw::cut of the state expanded about
  std::size_t rows = 0;
  std::vector<std::size_t> moving_number;                // index into numbers, ascending
  std::vector<std::vector<FirstOrderProduct>> products;  // by thing seen, where there are any
  std::vector<double> columns;                           // [moving_number + products + slides][rows]
};

//   about    geometric errors 0; lengths, temperatures, expansions may be anything
//   returns  the one-sided derivatives in all directions at once: linear where nothing touches twice
//   exact    derivatives, no step size; tested against dual numbers in random directions for every block of the
//            catalogue, and about saws that are off
//   not for  an `about` that is itself off a little, by less than the changes asked for: where the true saw has a kink
//            it then lies beside `about` and is not seen. Expand about the true saw and put what it is off into x
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

// The block that a saw gives whose numbers are off by x, to first order.
//   x        by FirstOrderBlock::numbers, each in its unit
//   assumes  small changes; what is left out is of second order. That of angles and lengths is 1 um at the errors of a
//            shop, but that of products of two numbers neither of which is known (movement times moisture, expansion
//            times warming, yaw times clamp) was up to 60 um: see change_with_products
//   exact    positively homogeneous: k x gives k times the change, k >= 0
void change(const FirstOrderBlock& block, std::span<const double> x, BlockChange& out);

// The same with the products of two numbers in full. Not homogeneous.
//   assumes  small changes; what is left out was 1.5 um at most, 0.06 um in the mean, at the errors of a shop
//   source   docs/derivations/first-order-cuts.md, step 7
void change_with_products(const FirstOrderBlock& block, std::span<const double> x, BlockChange& out);

}  // namespace stickwright
