// budget_view.h - an uncertainty budget as bars: what makes a result uncertain, the largest first.
#pragma once
#include <string>

#include "metrology/budget.h"
#include "packet/canvas.h"
#include "quantity/result.h"

namespace stickwright {

struct BudgetView {
  std::string title, subtitle;
  std::string date;  // ISO
  Budget budget;
};

// A bar for each line that tells, as long as its contribution; the rest together as a hatched one. A broken line stands
// at the combined u.   returns  the height it takes, at most `box.h` where that is room for three bars
double draw_budget_bars(Canvas& canvas, Box box, const Budget& budget);

// The whole picture as a file's bytes.   errors  cannot_write
Result<std::string> budget_drawing(const BudgetView& view, Drawing drawing);

}  // namespace stickwright
