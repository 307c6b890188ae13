#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "packet/fit_view.h"
#include "packet/plot_axis.h"

namespace stickwright {
namespace {

constexpr double kMmPerInch = 25.4;
constexpr double kEdge = 4, kUnits = 10;      // mm of paper left and right of the scales, the units are there
constexpr double kScales = 9.4, kKey = 5.2;   // mm of paper for both scales; for the key
constexpr double kGround = 0.9, kBar = 0.72;  // grays: of what is asked for; of a bar
const Ink kJammed = {.gray = 1, .hatch = Hatch::right, .hatch_gap = 1.1};
const Pen kThin = {.width = 0.12, .gray = 0.45};
const Font kFlagFont = {.points = 6.8};

struct MarkedPlay {
  double mm;
  std::string name;
  Pen pen;
};

std::vector<MarkedPlay> marks_of(const PlayView& v) {
  const PlaySpread& s = v.planned;
  std::vector<MarkedPlay> marks = {
      {s.p05, fmt::format("1 in 20 below {:.3f}", s.p05 + 0.0), {.width = 0.3, .dash = 1.4}},
      {s.median, fmt::format("middle {:.3f}", s.median + 0.0), {.width = 0.45}},
      {s.p95, fmt::format("1 in 20 above {:.3f}", s.p95 + 0.0), {.width = 0.3, .dash = 1.4}},
      {v.asked, fmt::format("asked {:.3f}", v.asked), {.width = 0.9}}};
  std::stable_sort(marks.begin(), marks.end(), [](const MarkedPlay& a, const MarkedPlay& b) { return a.mm < b.mm; });
  return marks;
}

double end_of(const PlayTally::Bars& b) {
  return b.from + b.width * static_cast<double>(b.count.size());
}

// All bars, all marks, and of what is asked for as much as does not squeeze the bars to nothing.
PlotAxis axis_of(const PlayView& v, double from, double to) {
  double low = v.planned.bars.from, high = end_of(v.planned.bars);
  if (v.advised) low = std::min(low, v.advised->bars.from), high = std::max(high, end_of(v.advised->bars));
  const double span = high - low;
  for (const double x : {v.window.closes_from, v.window.least, v.window.most})
    if (x > low - span && x < high + span) low = std::min(low, x), high = std::max(high, x);
  return axis_for(std::min(low, v.asked), std::max(high, v.asked), from, to, 10);
}

// Share of the puzzles per mm, so that bars of different widths compare.
std::vector<double> densities(const PlayTally::Bars& b) {
  const auto all = static_cast<double>(std::accumulate(b.count.begin(), b.count.end(), std::int64_t{0}));
  std::vector<double> out;
  for (const std::int64_t n : b.count) out.push_back(all > 0 ? static_cast<double>(n) / (all * b.width) : 0);
  return out;
}

struct PlayPlot {
  Canvas& canvas;
  Box area;
  PlotAxis x;
  double per_density;  // mm of paper
  double bottom() const { return area.y + area.h; }
};

// From one play to another, at the bottom of the plot.
void draw_column(const PlayPlot& p, double from, double to, double density, const Ink& ink) {
  if (to <= from || density <= 0) return;
  const double h = density * p.per_density;
  p.canvas.box({p.x.at(from), p.bottom() - h, p.x.at(to) - p.x.at(from), h}, ink, kThin);
}

void draw_columns(const PlayPlot& p, const PlayTally::Bars& bars, double closes_from) {
  const std::vector<double> density = densities(bars);
  for (std::size_t k = 0; k < density.size(); ++k) {
    const double from = bars.from + bars.width * static_cast<double>(k), to = from + bars.width;
    const double closes = std::clamp(closes_from, from, to);
    draw_column(p, from, closes, density[k], kJammed);
    draw_column(p, closes, to, density[k], {.gray = kBar});
  }
}

void draw_outline(const PlayPlot& p, const PlayTally::Bars& bars) {
  const std::vector<double> density = densities(bars);
  std::vector<At> line = {{p.x.at(bars.from), p.bottom()}};
  for (std::size_t k = 0; k < density.size(); ++k) {
    const double y = p.bottom() - density[k] * p.per_density, from = bars.from + bars.width * static_cast<double>(k);
    line.push_back({p.x.at(from), y});
    line.push_back({p.x.at(from + bars.width), y});
  }
  line.push_back({p.x.at(end_of(bars)), p.bottom()});
  p.canvas.polyline(line, {.width = 0.55});
}

void draw_ground(const PlayPlot& p, const PlayWindow& w) {
  const double from = p.x.at(std::clamp(w.least, p.x.low, p.x.high)),
               to = p.x.at(std::clamp(w.most, p.x.low, p.x.high));
  if (to > from) p.canvas.box({from, p.area.y, to - from, p.area.h}, {.gray = kGround}, {.width = 0});
}

void draw_steps(const PlayPlot& p, const PlotAxis& x, double y, double points, const char* unit) {
  for (const double v : x.steps()) {
    p.canvas.line({x.at(v), y}, {x.at(v), y + 1}, {.width = 0.25, .gray = 0.4});
    p.canvas.text({x.at(v), y + 1.1}, fmt::format("{:.{}f}", v, x.places()),
                  {.points = points, .align = Align::center});
  }
  p.canvas.text({p.area.x + p.area.w + kUnits, y + 1.1}, unit, {.points = points, .bold = true, .align = Align::right});
}

void draw_scales(const PlayPlot& p) {
  PlotAxis inches = {p.x.low / kMmPerInch, p.x.high / kMmPerInch, 1, p.x.from, p.x.to};
  inches.step = round_step(inches.high - inches.low, 8);
  p.canvas.line({p.area.x, p.bottom()}, {p.area.x + p.area.w, p.bottom()}, {.width = 0.35});
  draw_steps(p, p.x, p.bottom(), 6.8, "mm");
  p.canvas.line({p.area.x, p.bottom() + 5}, {p.area.x + p.area.w, p.bottom() + 5}, {.width = 0.2, .gray = 0.4});
  draw_steps(p, inches, p.bottom() + 5, 6, "in");
}

void draw_marks(const PlayPlot& p, const std::vector<MarkedPlay>& marks, const std::vector<FlagPlace>& places) {
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const double x = p.x.at(marks[i].mm), top = p.area.y - kFlagRow * static_cast<double>(places[i].row + 1) + 0.4;
    p.canvas.line({x, top}, {x, p.bottom()}, marks[i].pen);
  }
  for (std::size_t i = 0; i < marks.size(); ++i)
    p.canvas.text({places[i].left, p.area.y - kFlagRow * static_cast<double>(places[i].row + 1)}, marks[i].name,
                  kFlagFont);
}

// What is drawn how, below the scales.
void draw_key(const PlayPlot& p, double x, double y, const PlayView& v) {
  const auto entry = [&](const std::string& name, const Ink& ink, const Pen& pen) {
    p.canvas.box({x, y + 0.5, 5, 2.6}, ink, pen);
    p.canvas.text({x + 6, y + 0.3}, name, {.points = 6.8});
    x += 10 + p.canvas.text_width(name, {.points = 6.8});
  };
  entry("as planned", {.gray = kBar}, kThin);
  if (v.planned.closes.share < 0.9995) entry("does not close", kJammed, kThin);
  if (v.advised) entry("with the advice", {}, {.width = 0.55});
  entry(fmt::format("asked for: {:.3f} to {:.3f}", v.window.least, v.window.most), {.gray = kGround}, {.width = 0});
}

double highest(const PlayView& v) {
  std::vector<double> all = densities(v.planned.bars);
  if (v.advised)
    for (const double d : densities(v.advised->bars)) all.push_back(d);
  return all.empty() ? 0 : *std::max_element(all.begin(), all.end());
}

}  // namespace

void draw_play(Canvas& canvas, Box box, const PlayView& v) {
  const std::vector<MarkedPlay> marks = marks_of(v);
  const PlotAxis x = axis_of(v, box.x + kEdge, box.x + box.w - kUnits);
  std::vector<Flag> flags;
  std::vector<double> widths;
  for (const MarkedPlay& m : marks)
    flags.push_back({x.at(m.mm), m.name}), widths.push_back(canvas.text_width(m.name, kFlagFont));
  const std::vector<FlagPlace> places = flag_places(flags, widths, box.x, box.x + box.w);
  const double top = flags_height(places), high = box.h - top - kScales - kKey, most = highest(v);
  const PlayPlot p{
      canvas, {box.x + kEdge, box.y + top, box.w - kEdge - kUnits, high}, x, most > 0 ? 0.96 * high / most : 0};
  draw_ground(p, v.window);
  draw_columns(p, v.planned.bars, v.window.closes_from);
  if (v.advised) draw_outline(p, v.advised->bars);
  draw_marks(p, marks, places);
  draw_scales(p);
  draw_key(p, box.x, p.bottom() + kScales + 0.6, v);
}

}  // namespace stickwright
