#include "packet/writing_boxes.h"

namespace stickwright {

double draw_writing_boxes(Canvas& canvas, At at, double width, const std::vector<std::string>& labels) {
  const double w = width / static_cast<double>(labels.size());
  double x = at.x;
  for (const std::string& label : labels) {
    canvas.box({x, at.y, w, kWritingHeight}, {}, {.width = 0.25, .gray = 0.3});
    canvas.text({x + 0.8, at.y + 0.4}, label, {.points = 6.5, .width = w - 1.6, .ellipsis = true, .gray = 0.2});
    x += w;
  }
  return kWritingHeight;
}

}  // namespace stickwright
