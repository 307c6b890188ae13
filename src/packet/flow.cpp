#include "packet/flow.h"

#include <utility>

namespace stickwright {

void add_flowing_pages(std::vector<Page>& pages, Canvas& paper, Box area, const std::string& title,
                       const std::vector<SheetPart>& parts) {
  std::vector<SheetPart> here;
  bool continued = false;
  const auto close = [&] {
    const auto draw = [parts_here = std::exchange(here, {})](Canvas& canvas, Box box) {
      double y = box.y;
      for (const SheetPart& p : parts_here) y += p(canvas, {box.x, y}, box.w);
    };
    pages.push_back({continued ? title + ", continued" : title, draw, continued});
    continued = true;
  };
  double used = 0;
  for (const SheetPart& p : parts) {
    const double height = p(paper, {area.x, area.y}, area.w);
    if (!here.empty() && used + height > area.h) close(), used = 0;
    here.push_back(p);
    used += height;
  }
  if (!here.empty()) close();
}

}  // namespace stickwright
