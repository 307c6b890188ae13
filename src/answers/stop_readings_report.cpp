#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/stop_readings.h"

namespace stickwright {
namespace {

constexpr std::size_t kChartRows = 60, kColumns = 49, kSignalLines = 6;

std::string plural(std::size_t n, const char* thing) {
  return fmt::format("{} {}{}", n, thing, n == 1 ? "" : "s");
}

// A share in percent, in no more digits than it is good for.
std::string percent(double share) {
  if (share < 0.0001) return "less than 0.01 %";
  return share < 0.1 ? fmt::format("{:.2g} %", 100 * share) : fmt::format("{:.0f} %", 100 * share);
}

std::string capability_line(const Capability& c) {
  return fmt::format(
      "  Cp {:.2f}, Cpk {:.2f} (u = {:.2f}); over all readings Pp {:.2f}, Ppk {:.2f}; {} outside the "
      "tolerance expected{}\n",
      c.cp, c.cpk, c.u_cpk, c.pp, c.ppk, percent(c.share_outside),
      c.enough ? "" : fmt::format("; fewer than {} readings, so only a hint", kEnoughForCapability));
}

std::string drift_line(const RunReport& r) {
  const double slope = std::abs(r.drift->slope) < 0.00005 ? 0 : r.drift->slope;  // never "-0.0000"
  return fmt::format("  drift {:+.4f} mm per reading (u = {:.4f} mm); a steady saw shows as much in {} of cases\n",
                     slope, r.drift->u_slope, percent(r.drift->p));
}

std::string signal_lines(const StopReadings& s) {
  const RunReport& r = s.report;
  std::string out;
  const std::size_t from = r.signals.size() > kSignalLines ? r.signals.size() - kSignalLines : 0;
  if (from > 0) out += fmt::format("  signals: {} earlier ones are left out here\n", from);
  for (std::size_t i = from; i < r.signals.size(); ++i) {
    const Cause cause = usual_cause(r.signals[i], s.wanted.of);
    out += fmt::format("  signal: {}\n", signal_in_words(r.signals[i]));
    out += fmt::format("          usually {}; first {}\n", cause.meaning, cause.check);
  }
  return out;
}

// What was corrected: "was 16.200 mm (misread)".
std::string history_of(const KeptReading& k) {
  if (k.changes.empty()) return "";
  const Change& last = k.changes.back();
  std::string out = last.value ? fmt::format("  was {:.3f} mm", to_mm(k.reading.value).v) : "  withdrawn";
  if (k.changes.size() > 1) out += fmt::format(", {}", plural(k.changes.size(), "correction"));
  if (!last.note.empty()) out += fmt::format(" ({})", last.note);
  return out;
}

// Where lengths stand in a row of characters.
struct Scale {
  double low, high;
  std::size_t column(double mm) const {
    const double share = (mm - low) / (high - low);
    return static_cast<std::size_t>(std::lround(std::clamp(share, 0.0, 1.0) * (kColumns - 1)));
  }
};

Scale scale_of(const StopReadings& s, const std::vector<double>& shown) {
  double low = s.wanted.limits().lower, high = s.wanted.limits().upper;
  const auto take = [&](double x) { low = std::min(low, x), high = std::max(high, x); };
  for (const double x : shown) take(x);
  if (s.report.chart) take(s.report.chart->lower), take(s.report.chart->upper);
  return {low, high};
}

std::string empty_row(const StopReadings& s, const Scale& scale) {
  std::string row(kColumns, ' ');
  if (s.report.chart) {
    row[scale.column(s.report.chart->center)] = '.';
    row[scale.column(s.report.chart->lower)] = row[scale.column(s.report.chart->upper)] = ':';
  }
  row[scale.column(s.wanted.limits().lower)] = row[scale.column(s.wanted.limits().upper)] = '|';
  return row;
}

std::vector<bool> in_a_signal(const RunReport& r) {
  std::vector<bool> marked(r.readings);
  for (const Signal& s : r.signals) std::fill(marked.begin() + s.first, marked.begin() + s.last + 1, true);
  return marked;
}

}  // namespace

std::string advice_line(const StopReadings& s) {
  const RunReport& r = s.report;
  const char* check = s.place.side > 0 ? "Check the sticks." : "Check the saw.";
  const char* word = r.advice == Advice::go_on ? "Go on." : r.advice == Advice::check ? check : "Stop.";
  return fmt::format("{} {}", word, r.reason);
}

std::string stop_readings_report(const StopReadings& s) {
  const RunReport& r = s.report;
  std::string out = fmt::format("{} ({}), {}\n  {}\n", s.place.name, s.place.id, s.place.size(), advice_line(s));
  out += fmt::format("  {}", plural(r.readings, "reading"));
  if (r.mean) out += fmt::format(", mean {:.4f} mm", *r.mean);
  if (r.sd) out += fmt::format(", s {:.4f} mm", *r.sd);
  out += fmt::format("; wanted {:.3f} +- {:.3f} mm; {} outside\n", s.wanted.size, s.wanted.tolerance, r.outside);
  if (!s.leaves.empty())
    out += fmt::format("  counted from the leaf of {:.3f} mm that was put in on {}\n",
                       to_mm(s.leaves.back().leaf.thickness).v, s.leaves.back().at.substr(0, 10));
  if (r.chart)
    out += fmt::format("  control limits {:.4f} to {:.4f} mm; moving range {:.4f} mm, at most {:.4f} mm\n",
                       r.chart->lower, r.chart->upper, r.chart->mean_moving_range, r.chart->moving_range_upper);
  if (r.capability) out += capability_line(*r.capability);
  if (r.drift) out += drift_line(r);
  return out + signal_lines(s);
}

std::string text_chart(const StopReadings& s) {
  const std::size_t from = s.kept.size() > kChartRows ? s.kept.size() - kChartRows : 0;
  std::vector<double> shown;
  for (std::size_t k = 0; k < s.standing.size(); ++k)
    if (s.standing[k] >= from) shown.push_back(s.mm(k));
  const Scale scale = scale_of(s, shown);
  const std::string row = empty_row(s, scale);
  const std::vector<bool> marked = in_a_signal(s.report);
  std::string out = fmt::format("  {:>6}  {:>6}  {:>10}  {:<{}}{:>10}\n", "no.", "entry", "mm",
                                fmt::format("{:.3f}", scale.low), kColumns - 4, fmt::format("{:.3f}", scale.high));
  if (from > 0) out += fmt::format("  {} earlier readings are left out here; --csv has them all\n", from);
  std::size_t k =
      static_cast<std::size_t>(std::lower_bound(s.standing.begin(), s.standing.end(), from) - s.standing.begin());
  for (std::size_t i = from; i < s.kept.size(); ++i) {
    const bool counts = k < s.standing.size() && s.standing[k] == i;
    std::string line = counts ? row : std::string(kColumns, ' ');
    if (counts) line[scale.column(s.mm(k))] = marked[k] ? 'X' : 'o', ++k;
    const std::string number = counts ? std::to_string(k) : "";
    const double mm = to_mm(s.kept[i].value().value_or(s.kept[i].reading.value)).v;
    out += fmt::format("  {:>6}  {:>6}  {:>10.3f}  {}{}", number, s.kept[i].id, mm, line, history_of(s.kept[i]));
    while (out.back() == ' ') out.pop_back();
    out += '\n';
  }
  return out + "  o reading, X part of a signal, . center, : control limits, | tolerance\n";
}

}  // namespace stickwright
