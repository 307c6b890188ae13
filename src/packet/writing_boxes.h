// writing_boxes.h - boxes to write a number into with a carpenter's pencil.
#pragma once
#include <string>
#include <vector>

#include "packet/canvas.h"

namespace stickwright {

inline constexpr double kWritingHeight = 10;  // mm of a box; room for figures of 7 mm

// One box for each label side by side, the label small in its upper left corner.   returns  the height they take
double draw_writing_boxes(Canvas& canvas, At at, double width, const std::vector<std::string>& labels);

}  // namespace stickwright
