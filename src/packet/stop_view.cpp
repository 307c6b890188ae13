#include "packet/stop_view.h"

#include <fmt/core.h>

#include <algorithm>

namespace stickwright {
namespace {

constexpr double kBar = 1.8;     // mm of paper: thickness of the back stop
constexpr double kLongest = 14;  // mm of paper that a stack or a distance takes at most
constexpr double kLabel = 22;    // mm of paper for the distance, right of the blade
const Font kSmall = {.points = 6.5};

struct Lane {
  double x, y, w, h;  // the axis runs at y
};

void draw_back_stop(Canvas& canvas, const Lane& l) {
  canvas.box({l.x, l.y - 0.8 * l.h, kBar, 1.6 * l.h}, {.gray = 0.3}, {.width = 0.3});
}

// The blocks of the stack side by side, to one scale.
void draw_stack(Canvas& canvas, const Lane& l, double from, double scale, const std::vector<Nm>& sizes) {
  for (Nm n : sizes) {
    const double w = to_mm(n).v * scale;
    canvas.box({from, l.y - 0.5 * l.h, w, l.h}, {.gray = 1, .hatch = Hatch::level, .hatch_gap = 0.9}, {.width = 0.3});
    from += w;
  }
}

// From `from` to `to` on the axis, with a broken middle: it is far longer than the paper shows.
void draw_stop_block(Canvas& canvas, const Lane& l, double from, double to, bool mitered) {
  const double h = l.h / 2, lean = mitered ? h : 0, cut = from + 0.4 * (to - from), gap = 0.9;
  const Ink ink = {.gray = 1, .hatch = Hatch::right, .hatch_gap = 1.3};
  canvas.polygon({{from, l.y - h}, {cut, l.y - h}, {cut - 1.2, l.y}, {cut, l.y + h}, {from, l.y + h}}, ink,
                 {.width = 0.35});
  canvas.polygon(
      {{cut + gap, l.y - h}, {to - lean, l.y - h}, {to + lean, l.y + h}, {cut + gap, l.y + h}, {cut + gap - 1.2, l.y}},
      ink, {.width = 0.35});
}

void draw_blade_line(Canvas& canvas, const Lane& l, double axis, bool sawing) {
  const double r = 0.85 * l.h;
  canvas.line({axis - r, l.y - r}, {axis + r, l.y + r}, {.width = sawing ? 0.9 : 0.3, .dash = sawing ? 0.0 : 1.2});
}

void draw_distance(Canvas& canvas, const Lane& l, double from, double to, Mm distance) {
  const double y = l.y + 0.95 * l.h;
  for (double x : {from, to}) canvas.line({x, l.y}, {x, y + 1}, {.width = 0.12, .gray = 0.3});
  canvas.dimension({from, y}, {to, y}, "");
  canvas.text({to + 4, y - 1.5}, fmt::format("{:.3f} mm", distance.v), {.points = 7, .bold = true});
}

double scale_for(double longest_mm) {
  return std::min(0.6, kLongest / std::max(longest_mm, 1e-6));
}

void draw_mitered(Canvas& canvas, const Lane& left, const Lane& right, const StopPlan& stop) {
  const double stack = to_mm(stop.stack.total).v, scale = scale_for(stack), x = left.x + kBar;
  const double blade = left.x + left.w - kLabel;
  draw_back_stop(canvas, left);
  draw_stack(canvas, left, x, scale, stop.sizes);
  draw_stop_block(canvas, left, x + stack * scale, blade, true);
  draw_blade_line(canvas, left, blade, true);
  canvas.text({left.x, left.y + 0.95 * left.h}, "stack in: miter the blank", kSmall);
  const double stands = blade - left.x + right.x, face = stands - stack * scale;
  draw_back_stop(canvas, right);
  draw_stop_block(canvas, right, right.x + kBar, face, true);
  draw_blade_line(canvas, right, stands, false);
  canvas.text({right.x, right.y + 0.95 * right.h}, "stack out", kSmall);
  draw_distance(canvas, right, face, stands, stop.distance);
}

void draw_square(Canvas& canvas, const Lane& l, const StopPlan& stop, Mm back_to_blade) {
  const double stack = to_mm(stop.stack.total).v, scale = scale_for(std::max(stack, stop.distance.v));
  const double x = l.x + kBar, from = x + stack * scale, blade = l.x + l.w - kLabel,
               face = blade - stop.distance.v * scale;
  draw_back_stop(canvas, l);
  draw_stack(canvas, l, x, scale, stop.sizes);
  draw_stop_block(canvas, l, from, face, false);
  canvas.text({0.5 * (from + face), l.y - 0.5 * l.h - 3.2}, fmt::format("stop {:.2f}", stop.square_stop->v),
              {.points = 6.5, .align = Align::center});
  draw_blade_line(canvas, l, blade, false);
  canvas.text({l.x, l.y + 0.95 * l.h}, fmt::format("back stop to blade {:.2f}", back_to_blade.v), kSmall);
  draw_distance(canvas, l, face, blade, stop.distance);
}

}  // namespace

void draw_setting_the_stop(Canvas& canvas, Box box, const StopPlan& stop, const Batch& batch) {
  const double h = box.h * 0.42, y = box.y + 0.42 * box.h, w = box.w / 2 - 2;
  const Lane left = {box.x, y, w - 4, h}, right = {box.x + w + 2, y, w - 4, h};
  if (stop.square_stop)
    draw_square(canvas, {box.x, y, box.w - 4, h}, stop, batch.shop.sled.back_to_blade);
  else
    draw_mitered(canvas, left, right, stop);
}

std::string setting_in_words(const StopPlan& stop) {
  if (stop.square_stop)
    return fmt::format(
        "Set the stop: gauge blocks against the back stop, the {:.2f} mm stop against them. Leave the "
        "blocks in.",
        stop.square_stop->v);
  return "Set the stop: gauge blocks between back stop and blank, miter the blank, blade at rest, blocks out, blank "
         "home.";
}

}  // namespace stickwright
