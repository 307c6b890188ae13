// control_chart_view.h - the control chart of a stop: its readings in order above, their moving ranges below.
#pragma once
#include <string>
#include <vector>

#include "metrology/run_advice.h"
#include "packet/canvas.h"
#include "quantity/result.h"

namespace stickwright {

struct ControlChartView {
  std::string title, subtitle;
  std::string date;              // ISO, of the last reading
  std::vector<double> readings;  // mm, in order; two or more
  Wanted wanted;
  RunReport report;  // of these readings
};

// Both charts inside the box, without the titles. Told apart without color: a reading is a disc, one that is part of a
// signal a square, one outside the tolerance a cross. Of very many readings the newest are drawn.
void draw_control_chart(Canvas& canvas, Box box, const ControlChartView& view);

// The whole picture, half a sheet wide, as a file's bytes.   errors  cannot_write
Result<std::string> control_chart_drawing(const ControlChartView& view, Drawing drawing);

}  // namespace stickwright
