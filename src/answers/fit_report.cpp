#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/fit_json.h"
#include "batch/fit_wording.h"

namespace stickwright {
namespace {

// No "-0.000" where it rounds to nothing.
double shown(double v, int digits) {
  return std::abs(v) < 0.5 * std::pow(10, -digits) ? 0 : v;
}

std::string spread_lines(const PuzzleFit& p) {
  std::string out = fmt::format("  {:<22} {:>8} {:>8} {:>8} {:>9} {:>9} {:>12}\n", "play, mm", "1 in 20", "middle",
                                "19 in 20", "closes", "as asked", "whole batch");
  for (const auto& [name, s] : {std::pair("as planned", &p.planned), std::pair("with the advice", &p.advised)})
    out += fmt::format("  {:<22} {:>8.3f} {:>8.3f} {:>8.3f} {:>7.1f} % {:>7.1f} % {:>10.1f} %\n", name,
                       shown(s->p05, 3), shown(s->median, 3), shown(s->p95, 3), 100 * s->closes.share,
                       100 * s->within.share, 100 * s->batch_closes.share);
  return out;
}

std::string size_lines(const PuzzleFit& p) {
  std::string out = fmt::format("  {:<40} {:>14} {:>12}\n", "size", "play per mm", "to be added");
  for (std::size_t d = 0; d < p.sizes.size(); ++d)
    out += fmt::format("  {:<40} {:>14.2f} {:>9.3f} mm\n", p.sizes[d].name, shown(p.per_mm[d], 2),
                       shown(p.allowances.mm[d], 3));
  return out;
}

std::string source_lines(const Contributions& c) {
  std::string out = fmt::format("  {:<40} {:>8} {:>13}   (+- {:.0f} %)\n", "where the spread comes from", "alone",
                                "with others", 100 * c.u);
  for (const Contribution& one : c.of)
    out += fmt::format("  {:<40} {:>6.1f} % {:>11.1f} %\n", one.source, 100 * one.share, 100 * one.with_others);
  return out;
}

std::string tight_lines(const BatchPlan& plan, const PuzzleFit& p) {
  constexpr std::size_t kMost = 8;
  std::string out =
      fmt::format("  {:<64} {:>7} {:>7} {:>8}\n", "contact, in the middle puzzle", "gap mm", "force", "often");
  for (std::size_t k = 0; k < std::min(kMost, p.tight.contacts.size()); ++k) {
    const ContactFit& c = p.tight.contacts[k];
    out += fmt::format("  {:<64} {:>7.3f} {:>5.1f} % {:>6.1f} %\n", contact_in_words(plan, p, c.contact),
                       shown(c.gap_mm, 3), 100 * c.pressed, 100 * c.often);
  }
  return out;
}

std::string sliding_lines(const PuzzleFit& p) {
  std::string out = fmt::format("  {:<22} {:>8} {:>8} {:>9}\n", "on the way out, mm", "1 in 20", "middle", "slides");
  for (std::size_t k = 0; k < p.sliding.size(); ++k) {
    const SlidingStep& s = p.sliding[k];
    out += s.binds ? fmt::format("  {:<22} {:>8.3f} {:>8.3f} {:>7.1f} %\n", fmt::format("step {}", k + 1),
                                 shown(s.p05_mm, 3), shown(s.median_mm, 3), 100 * s.slides.share)
                   : fmt::format("  {:<22} nothing can bind\n", fmt::format("step {}", k + 1));
  }
  return out;
}

std::string year_lines(const YearFit& y) {
  std::string out = fmt::format(
      "  {:<12} {:>6} {:>6} {:>9} {:>8} {:>9}   (made at {:.1f} %; the finish lags {:g} days, "
      "a rule of thumb)\n",
      "end of", "air", "wood", "1 in 20", "middle", "closes", y.at_making, y.lag_days);
  for (std::size_t m = 0; m < y.months.size(); ++m) {
    const MonthFit& f = y.months[m];
    out += fmt::format("  {:<12} {:>4.1f} % {:>4.1f} % {:>9.3f} {:>8.3f} {:>7.1f} %\n", month_name(m), f.moisture.air,
                       f.moisture.wood, shown(f.p05, 3), shown(f.median, 3), 100 * f.closes.share);
  }
  return out;
}

std::string puzzle_report(const BatchPlan& plan, const FitPlan& fit, const PuzzleFit& p) {
  std::string out = fmt::format("\n{}\n", plan.puzzles[p.puzzle].design.design.name);
  for (const std::string& sentence : fit_in_words(plan, fit, p)) out += fmt::format("  {}\n", sentence);
  if (!p.binds) return out;
  for (const std::string& table : {spread_lines(p), size_lines(p), source_lines(p.contributions), tight_lines(plan, p),
                                   sliding_lines(p), p.year ? year_lines(*p.year) : ""})
    if (!table.empty()) out += fmt::format("\n{}", table);
  return out;
}

}  // namespace

std::string fit_report(const BatchPlan& plan, const FitPlan& fit) {
  std::string out;
  for (const StopAsRead& r : fit.read)
    out += fmt::format("Stop {} of the {} is known by {}: {:+.3f} mm, u = {:.3f} mm.\n", r.stop + 1,
                       plan.split.shapes[static_cast<std::size_t>(plan.set_ups[r.set_up].shape)].full_name(),
                       r.error.source, r.error.value, r.error.u);
  for (const PuzzleFit& p : fit.puzzles) out += puzzle_report(plan, fit, p);
  return out;
}

}  // namespace stickwright
