#include "packet/budget_view.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "packet/bars.h"
#include "packet/picture.h"

namespace stickwright {
namespace {

constexpr double kTells = 0.005;  // share of the variance below which a line goes to the rest
constexpr double kWidth = 150, kMostBars = 100;

NamedBar rest_of(const std::vector<const BudgetLine*>& lines, std::size_t first) {
  double square = 0;
  for (std::size_t i = first; i < lines.size(); ++i) square += lines[i]->contribution * lines[i]->contribution;
  return {fmt::format("{} smaller ones", lines.size() - first), two_digits(std::sqrt(square)), std::sqrt(square), 0,
          true};
}

// The largest contributions first, at most `most` bars.
std::vector<NamedBar> bars_of(const Budget& budget, std::size_t most) {
  std::vector<const BudgetLine*> lines;
  for (const BudgetLine& l : budget.lines)
    if (l.contribution > 0) lines.push_back(&l);
  std::stable_sort(lines.begin(), lines.end(),
                   [](const BudgetLine* a, const BudgetLine* b) { return a->contribution > b->contribution; });
  const auto tells = static_cast<std::size_t>(std::count_if(lines.begin(), lines.end(), [&](const BudgetLine* l) {
    return l->contribution * l->contribution >= kTells * budget.u * budget.u;
  }));
  const std::size_t shown = bars_by_themselves(lines.size(), tells, most);
  std::vector<NamedBar> bars;
  for (std::size_t i = 0; i < shown; ++i)
    bars.push_back({lines[i]->name, two_digits(lines[i]->contribution), lines[i]->contribution, 0, false});
  if (shown < lines.size()) bars.push_back(rest_of(lines, shown));
  return bars;
}

}  // namespace

double draw_budget_bars(Canvas& canvas, Box box, const Budget& budget) {
  return draw_bars(canvas, box,
                   {fmt::format("together u = {} {}", two_digits(budget.u), budget.unit),
                    bars_of(budget, bars_within(box.h)), budget.u});
}

Result<std::string> budget_drawing(const BudgetView& v, Drawing drawing) {
  const SheetPart bars = [&](Canvas& canvas, At at, double width) {
    return draw_budget_bars(canvas, {at.x, at.y, width, kMostBars}, v.budget);
  };
  return picture_file({v.title, v.subtitle, v.date}, kWidth, bars, drawing);
}

}  // namespace stickwright
