// wording.h - the plan in words that a person can follow at the saw; the same on the terminal and on paper.
#pragma once
#include <string>
#include <vector>

#include "batch/set_up.h"

namespace stickwright {

// "pencil line up; near end at stop 1 (face contact); severs the block"
std::string cut_in_words(const Program& program, std::size_t cut);

// How the stick is laid for each block: "the point of its end near you, ..."
std::string start_in_words(const Program& program);

// "5 + 10 + 1.005 mm between stop blank and back stop = 16.005 mm, 0.4 um over, +- 0.9 um"
std::string stack_in_words(const Batch& batch, const StopPlan& stop);

// What to make and to measure: "measure the block itself across the faces of cuts 0 and 3"
std::string test_in_words(const Program& program, const TestBlock& test);

// Which pairs of the stick's sides the finished block still has both of, so that a caliper can be put across: 1, 2, as
// WidthNumber::side.
std::vector<int> widths_of(const Program& program);

// How to tell the two apart, and where to write the block's number:
// "lay the block as for cut 1, pencil line up: width 1 is across the upper side that faces you and the one opposite
// ..."
std::string widths_in_words(const Program& program);

// What to do about a reading: "Within 0.01 mm: leave it. Over by d: a leaf of 1.414 d between stop and back stop. ..."
std::string correction_in_words(const TestPlan& test);

}  // namespace stickwright
