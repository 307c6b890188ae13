#include "packet/plot_axis.h"

#include <algorithm>
#include <cmath>

namespace stickwright {

int PlotAxis::places() const {
  return std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
}

std::vector<double> PlotAxis::steps() const {
  std::vector<double> out;
  for (double k = std::ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; ++k) out.push_back(k * step + 0.0);
  return out;
}

double round_step(double range, int steps) {
  const double rough = range / steps, power = std::pow(10, std::floor(std::log10(rough)));
  for (const double k : {1.0, 2.0, 5.0})
    if (k * power >= rough * (1 - 1e-9)) return k * power;
  return 10 * power;
}

PlotAxis axis_for(double low, double high, double from, double to, int steps) {
  if (!(high > low)) low -= 0.5, high = low + 1;
  const double step = round_step(high - low, steps);
  return {std::floor(low / step + 1e-9) * step, std::ceil(high / step - 1e-9) * step, step, from, to};
}

std::vector<double> places_apart(std::vector<double> at, double room, double last) {
  for (std::size_t i = 1; i < at.size(); ++i) at[i] = std::max(at[i], at[i - 1] + room);
  for (std::size_t i = at.size(); i-- > 0;) at[i] = std::min(at[i], i + 1 < at.size() ? at[i + 1] - room : last);
  return at;
}

std::vector<FlagPlace> flag_places(const std::vector<Flag>& flags, const std::vector<double>& widths, double left,
                                   double right) {
  constexpr double kGap = 0.8;
  const std::size_t n = flags.size();
  // The first `split` names stand left of their lines, the others right of theirs. A line goes up to its own row only:
  // names left of their lines climb from left to right, the others fall, so that no line meets a name.
  std::size_t best = n, best_rows = n + 1;
  double best_over = 1e9;
  for (std::size_t split = 0; split <= n; ++split) {
    double over = 0;
    for (std::size_t i = 0; i < n; ++i)
      over += std::max(0.0, i < split ? left - (flags[i].x - kGap - widths[i]) : flags[i].x + kGap + widths[i] - right);
    const std::size_t rows = std::max(split, n - split);
    if (over < best_over - 1e-9 || (over < best_over + 1e-9 && rows < best_rows))
      best = split, best_rows = rows, best_over = over;
  }
  std::vector<FlagPlace> out;
  for (std::size_t i = 0; i < n; ++i) {
    const bool goes_left = i < best;
    const double x = goes_left ? flags[i].x - kGap - widths[i] : flags[i].x + kGap;
    out.push_back({std::clamp(x, left, std::max(left, right - widths[i])), widths[i], goes_left ? i : n - 1 - i});
  }
  return out;
}

double flags_height(const std::vector<FlagPlace>& places) {
  std::size_t rows = 0;
  for (const FlagPlace& p : places) rows = std::max(rows, p.row + 1);
  return kFlagRow * static_cast<double>(rows) + 0.6;
}

void draw_side_names(Canvas& canvas, double x, double last_y, std::vector<SideName> names) {
  constexpr double kRoom = 3.2;
  std::stable_sort(names.begin(), names.end(), [](const SideName& a, const SideName& b) { return a.y < b.y; });
  std::vector<double> wanted;
  for (const SideName& n : names) wanted.push_back(n.y);
  const std::vector<double> at = places_apart(wanted, kRoom, last_y);
  for (std::size_t i = 0; i < names.size(); ++i) {
    canvas.line({x, names[i].y}, {x + 2.5, at[i]}, {.width = 0.15, .gray = 0.5});
    canvas.text({x + 3, at[i] - 1.3}, names[i].name, {.points = 6.5});
  }
}

}  // namespace stickwright
