#include "packet/budget_view.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace stickwright {
namespace {

constexpr double kRow = 4.2, kBar = 2.8;       // mm of paper for a bar with its room, and for the bar
constexpr double kTop = 4.4;                   // for the name of the line at u
constexpr double kNames = 0.44, kValues = 11;  // share of the width for names; mm for values
constexpr double kTells = 0.005;               // share of the variance below which a line goes to the rest
constexpr double kWidth = 150, kMostHeight = 130;
const Font kSmall = {.points = 7};

struct Bar {
  std::string name;
  double length = 0;  // in the unit of the result
  bool rest = false;
};

Bar rest_of(const std::vector<const BudgetLine*>& lines, std::size_t first) {
  double square = 0;
  for (std::size_t i = first; i < lines.size(); ++i) square += lines[i]->contribution * lines[i]->contribution;
  return {fmt::format("{} smaller ones", lines.size() - first), std::sqrt(square), true};
}

// The largest contributions first, at most `most` bars.
std::vector<Bar> bars_of(const Budget& budget, std::size_t most) {
  std::vector<const BudgetLine*> lines;
  for (const BudgetLine& l : budget.lines)
    if (l.contribution > 0) lines.push_back(&l);
  std::stable_sort(lines.begin(), lines.end(),
                   [](const BudgetLine* a, const BudgetLine* b) { return a->contribution > b->contribution; });
  const auto tells = static_cast<std::size_t>(std::count_if(lines.begin(), lines.end(), [&](const BudgetLine* l) {
    return l->contribution * l->contribution >= kTells * budget.u * budget.u;
  }));
  std::size_t shown = std::min(tells, most);
  if (shown < lines.size() && shown == most) --shown;
  if (shown + 1 == lines.size()) shown = lines.size();  // a single one is named
  std::vector<Bar> bars;
  for (std::size_t i = 0; i < shown; ++i) bars.push_back({lines[i]->name, lines[i]->contribution});
  if (shown < lines.size()) bars.push_back(rest_of(lines, shown));
  return bars;
}

void draw_bar(Canvas& canvas, Box row, double zero, double scale, const Bar& bar) {
  canvas.text({row.x, row.y + 0.2}, bar.name,
              {.points = 7, .align = Align::right, .width = zero - row.x - 1.2, .ellipsis = true});
  const Ink ink = bar.rest ? Ink{.gray = 1, .hatch = Hatch::right, .hatch_gap = 1.1} : Ink{.gray = 0.72};
  canvas.box({zero, row.y + (kRow - kBar) / 2 - 0.2, bar.length * scale, kBar}, ink, {.width = 0.25});
  canvas.text({row.x + row.w, row.y + 0.2}, two_digits(bar.length), {.points = 7, .align = Align::right});
}

}  // namespace

double draw_budget_bars(Canvas& canvas, Box box, const Budget& budget) {
  const auto most = static_cast<std::size_t>(std::max(3.0, std::floor((box.h - kTop) / kRow)));
  const std::vector<Bar> bars = bars_of(budget, most);
  const double zero = box.x + kNames * box.w, longest = box.w - kNames * box.w - kValues - 2;
  const double scale = budget.u > 0 ? longest / std::max(budget.u, bars.empty() ? 0 : bars.front().length) : 0;
  const double height = kTop + kRow * static_cast<double>(bars.size()), at_u = zero + budget.u * scale;
  canvas.text({box.x + box.w, box.y}, fmt::format("together u = {} {}", two_digits(budget.u), budget.unit),
              {.points = 7, .bold = true, .align = Align::right});
  canvas.line({zero, box.y + kTop - 0.6}, {zero, box.y + height}, {.width = 0.3});
  canvas.line({at_u, box.y + kTop - 0.8}, {at_u, box.y + height}, {.width = 0.35, .dash = 1.2});
  double y = box.y + kTop;
  for (const Bar& b : bars) {
    draw_bar(canvas, {box.x, y, box.w, kRow}, zero, scale, b);
    y += kRow;
  }
  return height;
}

Result<std::string> budget_drawing(const BudgetView& v, Drawing drawing) {
  Canvas paper(kWidth, kMostHeight, v.title, v.date);
  const double words = paper.text_height(v.subtitle, {.points = 7.5, .width = kWidth - 16});
  const double top = 15 + words, most = kMostHeight - top - 6;
  const double height = top + draw_budget_bars(paper, {8, top, kWidth - 16, most}, v.budget) + 6;
  Canvas canvas(kWidth, height, v.title, v.date, drawing);
  canvas.box({0, 0, kWidth, height}, {.gray = 1}, {.width = 0});
  canvas.text({8, 6}, v.title, {.points = 11, .bold = true, .width = kWidth - 16, .ellipsis = true});
  canvas.text({8, 12}, v.subtitle, {.points = 7.5, .width = kWidth - 16});
  draw_budget_bars(canvas, {8, top, kWidth - 16, most}, v.budget);
  canvas.end_page();
  std::string wrong, bytes = canvas.finish(wrong);
  if (!wrong.empty()) return Problem{"cannot_write", "", "The bars could not be drawn: " + wrong + ".", ""};
  return bytes;
}

}  // namespace stickwright
