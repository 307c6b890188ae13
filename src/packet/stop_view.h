// stop_view.h - how a stop is set: the gauge blocks in their place, and where the stop stands afterwards.
#pragma once
#include "batch/set_up.h"
#include "packet/canvas.h"

namespace stickwright {

// Two pictures side by side for a mitered stop (made with the stack, used without it), one for a square stop.
void draw_setting_the_stop(Canvas& canvas, Box box, const StopPlan& stop, const Batch& batch);

// The same in words.
std::string setting_in_words(const StopPlan& stop);

}  // namespace stickwright
