#include "packet/fit_view.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "packet/bars.h"

namespace stickwright {
namespace {

constexpr double kTells = 0.005;  // share below which a source goes to the rest: no more than chance makes of it
constexpr double kWidth = 160, kPlayHeight = 78, kBarsHeight = 80, kYearHeight = 78;  // mm

std::string percent(double share) {
  return fmt::format("{:.{}f} %", 100 * share + 0.0, share < 0.0095 && share > 0 ? 1 : 0);
}

std::vector<NamedBar> bars_of(const Contributions& c, std::size_t most) {
  std::vector<const Contribution*> some;
  for (const Contribution& one : c.of)
    if (one.share > 0) some.push_back(&one);
  std::stable_sort(some.begin(), some.end(),
                   [](const Contribution* a, const Contribution* b) { return a->share > b->share; });
  const auto tells = static_cast<std::size_t>(
      std::count_if(some.begin(), some.end(), [](const Contribution* one) { return one->share >= kTells; }));
  const std::size_t shown = bars_by_themselves(some.size(), tells, most);
  std::vector<NamedBar> bars;
  for (std::size_t i = 0; i < shown; ++i)
    bars.push_back({some[i]->source, percent(some[i]->share), some[i]->share, some[i]->with_others, false});
  double rest = 0;
  for (std::size_t i = shown; i < some.size(); ++i) rest += some[i]->share;
  if (shown < some.size())
    bars.push_back({fmt::format("{} smaller ones", some.size() - shown), percent(rest), rest, 0, true});
  return bars;
}

}  // namespace

PlayView play_view(const FitPlan& fit, const PuzzleFit& p) {
  PlayView view{p.planned, {}, fit.asked.play, fit.asked.window};
  if (std::any_of(p.allowances.mm.begin(), p.allowances.mm.end(), [](double mm) { return std::abs(mm) >= kLeastTold; }))
    view.advised = p.advised;
  return view;
}

const char* contributions_key() {
  return "Bar: what would go if this were known. Thin line: with all that it does together with others.";
}

double draw_contributions(Canvas& canvas, Box box, const Contributions& c) {
  return draw_bars(canvas, box,
                   {fmt::format("share of the differences, ± {}", percent(c.u)), bars_of(c, bars_within(box.h)), {}});
}

Result<std::string> play_drawing(const PictureCaption& caption, const PlayView& view, Drawing drawing) {
  const SheetPart part = [&](Canvas& canvas, At at, double width) {
    draw_play(canvas, {at.x, at.y, width, kPlayHeight}, view);
    return kPlayHeight;
  };
  return picture_file(caption, kWidth, part, drawing);
}

Result<std::string> contributions_drawing(const PictureCaption& caption, const Contributions& c, Drawing drawing) {
  const SheetPart part = [&](Canvas& canvas, At at, double width) {
    return draw_contributions(canvas, {at.x, at.y, width, kBarsHeight}, c);
  };
  return picture_file(caption, kWidth, part, drawing);
}

Result<std::string> year_drawing(const PictureCaption& caption, const YearView& view, Drawing drawing) {
  const SheetPart part = [&](Canvas& canvas, At at, double width) {
    draw_year(canvas, {at.x, at.y, width, kYearHeight}, view);
    return kYearHeight;
  };
  return picture_file(caption, kWidth, part, drawing);
}

std::string small_length(double mm) {
  return fmt::format("{:.3f} mm ({:.4f} in)", mm + 0.0, mm / 25.4 + 0.0);
}

}  // namespace stickwright
