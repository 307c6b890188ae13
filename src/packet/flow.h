// flow.h - parts of a sheet below one another, on as many pages as they need.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "packet/page.h"

namespace stickwright {

// Draws with its upper left corner there, in this width.   returns  the height it takes
using SheetPart = std::function<double(Canvas&, At, double)>;

// Parts are not torn apart; one higher than a page has a page to itself.
void add_flowing_pages(std::vector<Page>& pages, Canvas& paper, Box area, const std::string& title,
                       const std::vector<SheetPart>& parts);

}  // namespace stickwright
