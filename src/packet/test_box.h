// test_box.h - the box on a set-up card that says what proves a stop, and how well that is known.
#pragma once
#include <string>

#include "batch/full_plan.h"
#include "packet/canvas.h"

namespace stickwright {

// "16.002 mm": what the saw as it is known best gives, in a sentence.
std::string expected_in_words(const TestPlan& test);

// Where the model bends: what the straight budget says, what drawing whole saws says, and whether they agree.
//   returns  empty where it does not bend
std::string bend_in_words(const Prediction& prediction);

// returns  the height it takes
double draw_test_box(Canvas& canvas, At at, double width, const FullPlan& plan, const SetUp& set_up, std::size_t stop);

}  // namespace stickwright
