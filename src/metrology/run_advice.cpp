#include "metrology/run_advice.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

constexpr std::size_t kNewest = 8;     // a signal that ended before these is history
constexpr double kSureOfDrift = 0.01;  // stricter than usual: it is looked at after every reading
constexpr double kLookAhead = 20;      // readings
constexpr std::size_t kEnoughToStop = 10;
constexpr double kLeastCpk = 1;

bool is_outside(double reading, const Wanted& w) {
  // The written tolerance includes its ends; sums of decimal fractions may miss them by a last digit.
  return std::abs(reading - w.size) > w.tolerance * (1 + 1e-9);
}

struct Judgment {
  Advice advice = Advice::go_on;
  std::string reason;
};

Judgment check(std::string reason) {
  return {Advice::check, std::move(reason)};
}

const Signal* newest(const RunReport& r, std::size_t within) {
  const Signal* found = nullptr;
  for (const Signal& s : r.signals)
    if (s.last + within >= r.readings && (!found || s.last > found->last)) found = &s;
  return found;
}

std::string with_cause(const Signal& s, ReadingOf of) {
  const Cause cause = usual_cause(s, of);
  std::string words = signal_in_words(s);
  words[0] = 'R';
  return fmt::format("{}. That usually means that {}. First: {}", words, cause.meaning,
                     cause.check + (cause.check.back() == '?' ? "" : "."));
}

bool is_sure(const std::optional<Drift>& d) {
  return d && d->p < kSureOfDrift;
}

// A last reading beyond a limit at the end of a creep is not a single block that came out badly.
std::string creeping_to_a_limit(const Signal& s, const Drift& d, ReadingOf of) {
  std::string words = signal_in_words(s);
  words[0] = 'R';
  const Cause cause = usual_cause({RunRule::six_in_a_row, s.first, s.last, d.slope > 0}, of);
  return fmt::format("{}, and the size creeps by {:+.4f} mm from reading to reading: {}", words, d.slope, cause.check);
}

// Readings until the line leaves the tolerance.
double readings_left(const Drift& d, const Wanted& w) {
  const double end = d.slope > 0 ? w.limits().upper : w.limits().lower;
  return (end - d.at_last) / d.slope;
}

std::optional<Judgment> reason_to_stop(std::span<const double> readings, const RunReport& r, const Wanted& w) {
  const double last = readings.back();
  if (is_outside(last, w))
    return Judgment{Advice::stop,
                    fmt::format("The last reading, {:.3f} mm, is outside {:.3f} +- {:.3f} mm. Measure it again; if it "
                                "stands, find the cause before the next block.",
                                last, w.size, w.tolerance)};
  // Limits from fewer readings are too uncertain to stop for; the signal then still asks for a check.
  if (readings.size() < kEnoughToStop) return std::nullopt;
  for (const Signal& s : r.signals)
    if (s.rule == RunRule::one_beyond_three_sigma && s.last + 1 == r.readings)
      return Judgment{Advice::stop, is_sure(r.drift) ? creeping_to_a_limit(s, *r.drift, w.of) : with_cause(s, w.of)};
  return std::nullopt;
}

std::optional<Judgment> reason_to_check(std::span<const double> readings, const RunReport& r, const Wanted& w) {
  const auto recent = readings.subspan(readings.size() - std::min(readings.size(), kNewest));
  for (const double x : recent)
    if (is_outside(x, w))
      return check(
          fmt::format("Of the newest {} readings one, {:.3f} mm, was outside the tolerance. Put that block "
                      "aside and make sure that its cause is gone.",
                      recent.size(), x));
  if (const Signal* s = newest(r, kNewest)) return check(with_cause(*s, w.of));
  if (is_sure(r.drift) && readings_left(*r.drift, w) < kLookAhead)
    return check(
        fmt::format("The size creeps by {:+.4f} mm from reading to reading and leaves the tolerance in about "
                    "{:.0f} readings. {}",
                    r.drift->slope, std::max(0.0, std::ceil(readings_left(*r.drift, w))),
                    w.of == ReadingOf::stop ? "Is the stop creeping, the blade warming up, the clamp working loose?"
                                         : "Measure the stick at both ends."));
  if (r.average && r.average->is_out(r.readings - 1))
    return check(fmt::format("The moving average has left its limits: an early hint that the size shifts. {}",
                             w.of == ReadingOf::stop ? "Check the stop." : "Measure the sticks."));
  if (r.capability && r.capability->enough && r.capability->cpk < kLeastCpk)
    return check(fmt::format("Cpk is {:.2f}: the sizes spread too widely, or too far to one side, for +- {:.3f} mm.",
                             r.capability->cpk, w.tolerance));
  return std::nullopt;
}

Judgment judge(std::span<const double> readings, const RunReport& r, const Wanted& w) {
  if (readings.empty()) return check("There is no reading yet. Cut the test block and measure it.");
  if (auto stop = reason_to_stop(readings, r, w)) return *stop;
  if (auto look = reason_to_check(readings, r, w)) return *look;
  if (r.readings < kEnoughForCapability)
    return {Advice::go_on, fmt::format("All is within tolerance and steady as far as {} can tell; from {} on "
                                       "the numbers can be relied on.",
                                       r.readings == 1 ? "one reading" : fmt::format("{} readings", r.readings),
                                       kEnoughForCapability)};
  return {Advice::go_on, "The newest readings are steady and within tolerance."};
}

void add_statistics(RunReport& r, std::span<const double> readings, const Wanted& w) {
  r.sd = sd_of(readings);
  r.chart = control_chart(readings, w.least_sigma);
  r.signals = run_signals(readings, *r.chart);
  r.drift = fit_drift(readings);
  r.average = ewma(readings, r.chart->center, r.chart->sigma);
  r.capability = capability({.readings = readings.size(),
                             .mean = *r.mean,
                             .sigma_short = r.chart->sigma,
                             .sigma_all = std::max(*r.sd, w.least_sigma)},
                            w.limits());
}

}  // namespace

const char* to_string(Advice advice) {
  return advice == Advice::go_on ? "go_on" : advice == Advice::check ? "check" : "stop";
}

RunReport report_run(std::span<const double> readings, const Wanted& wanted) {
  RunReport r;
  r.readings = readings.size();
  r.outside = static_cast<std::size_t>(
      std::count_if(readings.begin(), readings.end(), [&](double x) { return is_outside(x, wanted); }));
  if (!readings.empty()) r.mean = mean_of(readings);
  if (readings.size() >= 2) add_statistics(r, readings, wanted);
  const Judgment j = judge(readings, r, wanted);
  r.advice = j.advice;
  r.reason = j.reason;
  return r;
}

}  // namespace stickwright
