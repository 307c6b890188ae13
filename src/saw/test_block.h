// test_block.h - what to measure to prove a stop: two parallel faces whose distance depends on it.
#pragma once
#include <optional>
#include <vector>

#include "saw/forward.h"

namespace stickwright {

// The block itself, or a stand-in: the program's first `after_cut` cuts, then `extra`, at the stop in question after a
// roll. With after_cut = 0 the stand-in is a piece of its own, severed by the first of `extra`.
struct TestBlock {
  int stop = 0;
  int after_cut = 0;                // number of the program's cuts made first
  std::vector<Cut> extra;           // none: the block has the two faces itself
  int face_a = 0, face_b = 0;       // Body made_by numbers of the two faces
  Mm across_flats;                  // target
  double per_stop = 0;              // d(across flats) / d(stop error), mm per mm
  double per_miter_mm_per_rad = 0;  // d(across flats) / d(miter error)
  int cuts() const { return after_cut + static_cast<int>(extra.size()); }
};

// The test for one stop of a program with the fewest extra cuts, then the greatest effect of the stop.
//   returns  nothing when no block or stand-in with up to two extra cuts has two parallel faces that tell the stop
//   source   sensitivities by dual numbers through the forward model
std::optional<TestBlock> test_block(const Program& program, int stop, Mm stick);

// The program of the stand-in.
Program test_program(const Program& program, const TestBlock& test);

}  // namespace stickwright
