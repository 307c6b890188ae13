// frames.h - where every piece stands before and after each step: key frames for pictures and animations.
#pragma once
#include <cstdint>
#include <vector>

#include "takeapart/takeapart.h"

namespace stickwright {

// One step in pictures: each piece moves along a straight line from `before` to `after`; pieces that are in neither
// group of the step, having left earlier, keep still.
struct Frame {
  std::vector<Vec> before, after;  // by piece: shifts from the assembled place, in lattice units / Frames::unit
};

struct Frames {
  std::int64_t unit = 1;
  std::vector<Frame> steps;
};

//   pieces   where they stand in the assembly
//   returns  one frame a step; groups that leave for good go just far enough to be clear of the rest's surrounding box
Frames frames_of(const Family& family, const std::vector<Cells>& pieces, const std::vector<Step>& steps);

}  // namespace stickwright
