#include "packet/control_chart_view.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "packet/plot_axis.h"

namespace stickwright {
namespace {

constexpr double kWidth = 210, kHeight = 148;  // A5 across
constexpr double kLeft = 17, kRight = 36;      // mm of paper for the numbers and for the names of the lines
constexpr std::size_t kMostDrawn = 200;
const Font kSmall = {.points = 6.5};

// A line across the chart, with its name and value on the right.
struct Level {
  double value;
  std::string name;
  Pen pen;
};

struct Panel {
  Canvas& canvas;
  Box plot;
  PlotAxis y;
  double x_of(std::size_t k, std::size_t count) const {
    return plot.x + plot.w * (static_cast<double>(k) + 0.5) / static_cast<double>(count);
  }
};

void draw_axis(const Panel& p, const std::string& name) {
  p.canvas.box(p.plot, {}, {.width = 0.25, .gray = 0.4});
  for (const double v : p.y.steps()) {
    const double y = p.y.at(v);
    p.canvas.line({p.plot.x - 1, y}, {p.plot.x, y}, {.width = 0.25, .gray = 0.4});
    p.canvas.text({p.plot.x - 1.6, y - 1.3}, fmt::format("{:.{}f}", v, p.y.places()),
                  {.points = 6.5, .align = Align::right});
  }
  p.canvas.text({p.plot.x - kLeft, p.plot.y - 5}, name, {.points = 7, .bold = true});
}

// The highest is named first where two lie on one another.
void draw_levels(const Panel& p, const std::vector<Level>& levels) {
  const double right = p.plot.x + p.plot.w;
  std::vector<SideName> names;
  for (const Level& l : levels) {
    const double y = p.y.at(l.value);
    p.canvas.line({p.plot.x, y}, {right, y}, l.pen);
    names.push_back({y, l.name});
  }
  draw_side_names(p.canvas, right, p.plot.y + p.plot.h, names);
}

enum class Mark { plain, signal, outside };

void draw_mark(Canvas& canvas, At at, Mark mark, double size) {
  if (mark == Mark::plain) canvas.disc(at, 0.55 * size, {.gray = 0});
  if (mark == Mark::signal) canvas.box({at.x - size, at.y - size, 2 * size, 2 * size}, {.gray = 1}, {.width = 0.35});
  if (mark == Mark::outside) {
    canvas.line({at.x - size, at.y - size}, {at.x + size, at.y + size}, {.width = 0.5});
    canvas.line({at.x - size, at.y + size}, {at.x + size, at.y - size}, {.width = 0.5});
  }
}

void draw_series(const Panel& p, std::span<const double> values, std::size_t shift, std::size_t count,
                 const std::vector<Mark>& marks) {
  std::vector<At> points;
  for (std::size_t k = 0; k < values.size(); ++k) points.push_back({p.x_of(k + shift, count), p.y.at(values[k])});
  p.canvas.polyline(points, {.width = 0.2, .gray = 0.35});
  const double size = count > 80 ? 0.7 : 1.1;
  for (std::size_t k = 0; k < points.size(); ++k) draw_mark(p.canvas, points[k], marks[k], size);
}

// The part that is drawn: `first` is the number of its first reading, from 0.
struct DrawnPart {
  std::vector<double> readings, ranges;
  std::vector<Mark> marks;
  std::size_t first = 0;
};

DrawnPart part_of(const ControlChartView& v) {
  std::vector<Mark> marks(v.readings.size(), Mark::plain);
  for (const Signal& s : v.report.signals) std::fill(marks.begin() + s.first, marks.begin() + s.last + 1, Mark::signal);
  const ToleranceLimits t = v.wanted.limits();
  for (std::size_t k = 0; k < v.readings.size(); ++k)
    if (v.readings[k] > t.upper || v.readings[k] < t.lower) marks[k] = Mark::outside;
  DrawnPart part;
  part.first = v.readings.size() > kMostDrawn ? v.readings.size() - kMostDrawn : 0;
  part.readings.assign(v.readings.begin() + part.first, v.readings.end());
  part.marks.assign(marks.begin() + part.first, marks.end());
  part.ranges = moving_ranges(part.readings);
  return part;
}

void draw_readings(Canvas& canvas, Box plot, const ControlChartView& v, const DrawnPart& part) {
  const ToleranceLimits t = v.wanted.limits();
  const ControlChart& chart = *v.report.chart;
  const auto [least, most] = std::minmax_element(part.readings.begin(), part.readings.end());
  const PlotAxis y = axis_for(std::min({t.lower, chart.lower, *least}), std::max({t.upper, chart.upper, *most}),
                              plot.y + plot.h, plot.y);
  const Panel p{canvas, plot, y};
  draw_axis(p, "reading, mm");
  draw_levels(p, {{t.upper, fmt::format("tolerance {:.3f}", t.upper), {.width = 0.5}},
                  {t.lower, fmt::format("tolerance {:.3f}", t.lower), {.width = 0.5}},
                  {chart.upper, fmt::format("upper limit {:.4f}", chart.upper), {.width = 0.3, .dash = 1.6}},
                  {chart.lower, fmt::format("lower limit {:.4f}", chart.lower), {.width = 0.3, .dash = 1.6}},
                  {chart.center, fmt::format("center {:.4f}", chart.center), {.width = 0.25, .gray = 0.3}}});
  draw_series(p, part.readings, 0, part.readings.size(), part.marks);
}

void draw_ranges(Canvas& canvas, Box plot, const ControlChartView& v, const DrawnPart& part) {
  const ControlChart& chart = *v.report.chart;
  const double most = *std::max_element(part.ranges.begin(), part.ranges.end());
  const Panel p{canvas, plot, axis_for(0, std::max(most, chart.moving_range_upper), plot.y + plot.h, plot.y)};
  draw_axis(p, "moving range, mm");
  draw_levels(
      p,
      {{chart.moving_range_upper, fmt::format("limit {:.4f}", chart.moving_range_upper), {.width = 0.3, .dash = 1.6}},
       {chart.mean_moving_range, fmt::format("mean {:.4f}", chart.mean_moving_range), {.width = 0.25, .gray = 0.3}}});
  std::vector<Mark> marks;
  for (const double r : part.ranges) marks.push_back(r > chart.moving_range_upper ? Mark::signal : Mark::plain);
  draw_series(p, part.ranges, 1, part.readings.size(), marks);
}

void draw_numbers_below(Canvas& canvas, Box plot, const DrawnPart& part) {
  const std::size_t count = part.readings.size();
  const auto every =
      std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(round_step(static_cast<double>(count), 12))));
  const Panel p{canvas, plot, {}};
  for (std::size_t k = 0; k < count; ++k) {
    const std::size_t number = part.first + k + 1;
    if (number % every != 0 && !(k == 0 && every > 1 && number % every < every / 2 + 1)) continue;
    const double x = p.x_of(k, count), y = plot.y + plot.h;
    canvas.line({x, y}, {x, y + 1}, {.width = 0.25, .gray = 0.4});
    canvas.text({x, y + 1.2}, std::to_string(number), {.points = 6.5, .align = Align::center});
  }
  canvas.text({plot.x + plot.w / 2, plot.y + plot.h + 4.2}, "reading, in the order of entry",
              {.points = 7, .align = Align::center});
}

void draw_key(Canvas& canvas, At at) {
  const std::pair<Mark, const char*> marks[] = {
      {Mark::plain, "reading"}, {Mark::signal, "part of a signal"}, {Mark::outside, "outside the tolerance"}};
  for (const auto& [mark, name] : marks) {
    draw_mark(canvas, {at.x + 1.2, at.y + 1.3}, mark, 1.1);
    canvas.text({at.x + 3.6, at.y}, name, kSmall);
    at.x += 8 + canvas.text_width(name, kSmall);
  }
}

}  // namespace

void draw_control_chart(Canvas& canvas, Box box, const ControlChartView& view) {
  const DrawnPart part = part_of(view);
  const double top = 6, between = 10, below = 12, height = box.h - top - between - below;
  const Box upper = {box.x + kLeft, box.y + top, box.w - kLeft - kRight, 0.68 * height};
  const Box lower = {upper.x, upper.y + upper.h + between, upper.w, 0.32 * height};
  draw_readings(canvas, upper, view, part);
  draw_ranges(canvas, lower, view, part);
  draw_numbers_below(canvas, lower, part);
  draw_key(canvas, {box.x + kLeft, box.y + box.h - 3.5});
}

Result<std::string> control_chart_drawing(const ControlChartView& v, Drawing drawing) {
  Canvas canvas(kWidth, kHeight, v.title, v.date, drawing);
  canvas.box({0, 0, kWidth, kHeight}, {.gray = 1}, {.width = 0});
  canvas.text({10, 8}, v.title, {.points = 12, .bold = true, .width = kWidth - 20, .ellipsis = true});
  const double height = canvas.text({10, 14.5}, v.subtitle, {.points = 7.5, .width = kWidth - 20});
  const double top = 17 + height;
  draw_control_chart(canvas, {10, top, kWidth - 20, kHeight - top - 7}, v);
  canvas.end_page();
  std::string wrong, bytes = canvas.finish(wrong);
  if (!wrong.empty()) return Problem{"cannot_write", "", "The chart could not be drawn: " + wrong + ".", ""};
  return bytes;
}

}  // namespace stickwright
