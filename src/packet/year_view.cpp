#include <fmt/core.h>

#include <algorithm>

#include "batch/fit_wording.h"
#include "packet/fit_view.h"
#include "packet/plot_axis.h"

namespace stickwright {
namespace {

constexpr double kLeft = 17, kRight = 33;  // mm of paper for the numbers; for the names of the lines
constexpr double kRow = 3.5;               // of numbers below the months
constexpr int kRows = 4;
const Font kSmall = {.points = 6.5};

struct YearPlot {
  Canvas& canvas;
  Box area;
  PlotAxis y;
  const YearView& view;
  double x_of(std::size_t month) const { return area.x + area.w * (static_cast<double>(month) + 0.5) / 12; }
  double right() const { return area.x + area.w; }
  double bottom() const { return area.y + area.h; }
  double within(double mm) const { return y.at(std::clamp(mm, y.low, y.high)); }
};

PlotAxis axis_of(const YearView& v, double from, double to) {
  double low = v.window.closes_from, high = v.window.closes_from;
  for (const MonthFit& m : v.year.months) low = std::min({low, m.p05, m.median}), high = std::max(high, m.median);
  const double span = high - low;
  for (const double x : {v.window.least, v.window.most})
    if (x > low - span && x < high + span) low = std::min(low, x), high = std::max(high, x);
  return axis_for(low, high, from, to);
}

void draw_ground(const YearPlot& p) {
  const double top = p.within(p.view.window.most), bottom = p.within(p.view.window.least);
  if (bottom > top) p.canvas.box({p.area.x, top, p.area.w, bottom - top}, {.gray = 0.9}, {.width = 0});
  const double jams = p.within(p.view.window.closes_from);
  if (p.bottom() > jams + 0.01)
    p.canvas.box({p.area.x, jams, p.area.w, p.bottom() - jams}, {.hatch = Hatch::right, .hatch_gap = 1.6},
                 {.width = 0});
}

void draw_scale(const YearPlot& p) {
  p.canvas.box(p.area, {}, {.width = 0.25, .gray = 0.4});
  for (const double v : p.y.steps()) {
    const double y = p.y.at(v);
    p.canvas.line({p.area.x - 1, y}, {p.area.x, y}, {.width = 0.25, .gray = 0.4});
    p.canvas.text({p.area.x - 1.6, y - 1.3}, fmt::format("{:.{}f}", v, p.y.places()),
                  {.points = 6.5, .align = Align::right});
  }
  p.canvas.text({p.area.x - kLeft, p.area.y - 5}, "play, mm", {.points = 7, .bold = true});
}

enum class Which { middle, tight };

std::vector<At> points_of(const YearPlot& p, Which which) {
  std::vector<At> points;
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthFit& f = p.view.year.months[m];
    points.push_back({p.x_of(m), p.y.at(which == Which::middle ? f.median : f.p05)});
  }
  return points;
}

void draw_curves(const YearPlot& p) {
  const auto middle = points_of(p, Which::middle), tight = points_of(p, Which::tight);
  p.canvas.polyline(tight, {.width = 0.3, .dash = 1.4});
  p.canvas.polyline(middle, {.width = 0.5});
  for (const At a : tight) p.canvas.box({a.x - 0.8, a.y - 0.8, 1.6, 1.6}, {.gray = 1}, {.width = 0.3});
  for (const At a : middle) p.canvas.disc(a, 0.9, {.gray = 0});
}

void draw_names(const YearPlot& p) {
  const PlayWindow& w = p.view.window;
  std::vector<SideName> names;
  const MonthFit& last = p.view.year.months.back();
  names.push_back({p.y.at(last.median), "middle puzzle"});
  names.push_back({p.y.at(last.p05), "1 in 20 is below"});
  const auto line = [&](double mm, const char* what, const Pen& pen) {
    if (mm < p.y.low || mm > p.y.high) return;
    if (pen.width > 0) p.canvas.line({p.area.x, p.y.at(mm)}, {p.right(), p.y.at(mm)}, pen);
    names.push_back({p.y.at(mm), fmt::format("{} {:.3f}", what, mm + 0.0)});
  };
  line(w.closes_from, "jams below", {.width = 0.7});
  line(w.least, "asked, least", {.width = 0});
  line(w.most, "asked, most", {.width = 0});
  draw_side_names(p.canvas, p.right(), p.bottom(), names);
}

void draw_months(const YearPlot& p) {
  const YearFit& year = p.view.year;
  const char* const heads[kRows] = {"end of", "wood, %", "close, %", ""};
  const double top = p.bottom() + 1.2;
  for (int row = 0; row < kRows; ++row) p.canvas.text({p.area.x - kLeft, top + kRow * row}, heads[row], kSmall);
  for (std::size_t m = 0; m < 12; ++m) {
    const MonthFit& f = year.months[m];
    const bool tightest = m == year.tightest;
    const Font font = {.points = 6.5, .bold = tightest, .align = Align::center};
    const double x = p.x_of(m);
    p.canvas.line({x, p.bottom()}, {x, p.bottom() + 1}, {.width = 0.25, .gray = 0.4});
    p.canvas.text({x, top}, month_name(m).substr(0, 3), font);
    p.canvas.text({x, top + kRow}, fmt::format("{:.1f}", f.moisture.wood), font);
    p.canvas.text({x, top + 2 * kRow}, fmt::format("{:.0f}", 100 * f.closes.share), font);
    if (!tightest) continue;
    p.canvas.text({x, top + 3 * kRow + 0.7}, "tightest", font);
    p.canvas.box({x - 0.5 * p.area.w / 12 + 0.4, top - 0.1, p.area.w / 12 - 0.8, 3 * kRow + 0.3}, {}, {.width = 0.45});
  }
}

}  // namespace

void draw_year(Canvas& canvas, Box box, const YearView& v) {
  const Box area = {box.x + kLeft, box.y + 5, box.w - kLeft - kRight, box.h - 5 - 2 - kRows * kRow};
  const YearPlot p{canvas, area, axis_of(v, area.y + area.h, area.y), v};
  draw_ground(p);
  draw_scale(p);
  draw_names(p);
  draw_curves(p);
  draw_months(p);
}

}  // namespace stickwright
