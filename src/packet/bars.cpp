#include "packet/bars.h"

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

constexpr double kRow = 4.2, kBar = 2.8;       // mm of paper for a bar with its room, and for the bar
constexpr double kTop = 4.4;                   // for the head
constexpr double kNames = 0.44, kValues = 11;  // share of the width for names; mm for values

void draw_bar(Canvas& canvas, Box row, double zero, double scale, const NamedBar& bar) {
  canvas.text({row.x, row.y + 0.2}, bar.name,
              {.points = 7, .align = Align::right, .width = zero - row.x - 1.2, .ellipsis = true});
  const Ink ink = bar.rest ? Ink{.gray = 1, .hatch = Hatch::right, .hatch_gap = 1.1} : Ink{.gray = 0.72};
  const double middle = row.y + kRow / 2 - 0.2;
  canvas.box({zero, middle - kBar / 2, bar.length * scale, kBar}, ink, {.width = 0.25});
  if (bar.reach > bar.length) {
    const double end = zero + bar.reach * scale;
    canvas.line({zero + bar.length * scale, middle}, {end, middle}, {.width = 0.25});
    canvas.line({end, middle - 0.8}, {end, middle + 0.8}, {.width = 0.25});
  }
  canvas.text({row.x + row.w, row.y + 0.2}, bar.says, {.points = 7, .align = Align::right});
}

}  // namespace

std::size_t bars_by_themselves(std::size_t count, std::size_t tells, std::size_t most) {
  std::size_t shown = std::min(tells, most);
  if (shown < count && shown == most) --shown;
  return shown + 1 == count ? count : shown;
}

std::size_t bars_within(double height) {
  return static_cast<std::size_t>(std::max(3.0, std::floor((height - kTop) / kRow)));
}

double draw_bars(Canvas& canvas, Box box, const BarChart& chart) {
  const double zero = box.x + kNames * box.w, longest = box.w - kNames * box.w - kValues - 2;
  double full = chart.mark.value_or(0);
  for (const NamedBar& b : chart.bars) full = std::max({full, b.length, b.reach});
  const double scale = full > 0 ? longest / full : 0;
  const double height = kTop + kRow * static_cast<double>(chart.bars.size());
  canvas.text({box.x + box.w, box.y}, chart.head, {.points = 7, .bold = true, .align = Align::right});
  canvas.line({zero, box.y + kTop - 0.6}, {zero, box.y + height}, {.width = 0.3});
  if (chart.mark) {
    const double at = zero + *chart.mark * scale;
    canvas.line({at, box.y + kTop - 0.8}, {at, box.y + height}, {.width = 0.35, .dash = 1.2});
  }
  double y = box.y + kTop;
  for (const NamedBar& b : chart.bars) {
    draw_bar(canvas, {box.x, y, box.w, kRow}, zero, scale, b);
    y += kRow;
  }
  return height;
}

}  // namespace stickwright
