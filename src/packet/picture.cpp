#include "packet/picture.h"

namespace stickwright {
namespace {

constexpr double kMargin = 8, kFoot = 6, kMostHeight = 400;  // mm

// returns  the height of the whole picture
double draw_all(Canvas& canvas, double width, const PictureCaption& caption, const SheetPart& part) {
  const double inner = width - 2 * kMargin;
  canvas.text({kMargin, 6}, caption.title, {.points = 11, .bold = true, .width = inner, .ellipsis = true});
  const double top = 15 + canvas.text({kMargin, 12}, caption.subtitle, {.points = 7.5, .width = inner});
  return top + part(canvas, {kMargin, top}, inner) + kFoot;
}

}  // namespace

Result<std::string> picture_file(const PictureCaption& caption, double width, const SheetPart& part, Drawing drawing) {
  Canvas paper(width, kMostHeight, caption.title, caption.date);
  const double height = draw_all(paper, width, caption, part);
  Canvas canvas(width, height, caption.title, caption.date, drawing);
  canvas.box({0, 0, width, height}, {.gray = 1}, {.width = 0});
  draw_all(canvas, width, caption, part);
  canvas.end_page();
  std::string wrong, bytes = canvas.finish(wrong);
  if (!wrong.empty()) return Problem{"cannot_write", "", "The picture could not be drawn: " + wrong + ".", ""};
  return bytes;
}

}  // namespace stickwright
