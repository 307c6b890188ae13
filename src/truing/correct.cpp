#include "truing/correct.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace stickwright {
namespace {

constexpr int kMostReadings = 1000;
constexpr double kClear = 2;  // an error of so many of its standard uncertainties is no chance

double square(double x) {
  return x * x;
}

struct Choice {
  Likely likely;
  Shim shim;
  StopAdvice advice = StopAdvice::leave;
};

bool is_clear(const Likely& l) {
  return std::abs(l.alone) > kClear * l.u_alone;
}

// Whether the leaves are likely to leave less of the stop's error than nothing done, in mean square.
bool helps(const Shim& shim, double likely) {
  const double left = likely - to_mm(shim.total).v;
  return !shim.leaves.empty() && square(left) + square(shim.u_nm * 1e-6) < square(likely);
}

// For the whole of the error, as the trade does, where it is clear (more than twice its uncertainty) or the leaves are
// likely to help.   returns  no leaf otherwise
Shim leaves_that_help(const Likely& l, std::span<const Leaf> leaves) {
  if (leaves.empty() || l.alone <= 0) return {};
  auto shim = choose_leaves(to_nm(Mm{l.alone}), leaves);
  if (!shim || !(is_clear(l) || helps(shim.value(), l.stop))) return {};
  return shim.take();
}

// Whether the leaves owned come near to the error; a new stop has to do the rest.
bool leaves_reach(double error, double u, std::span<const Leaf> leaves) {
  if (error <= 0 || leaves.empty()) return false;
  const auto shim = choose_leaves(to_nm(Mm{error}), leaves);
  return shim && error - to_mm(shim.value().total).v <= std::max(to_mm(leaves.front().thickness).v, u);
}

StopAdvice best_of(const Choice& c, std::span<const Leaf> leaves) {
  const Likely& l = c.likely;
  if (std::abs(l.alone) <= l.u_alone) return StopAdvice::leave;
  const double miter = std::abs(l.share(CauseGroup::miter));
  if (miter > std::abs(l.share(CauseGroup::stop)) && miter > l.u_miter) return StopAdvice::true_the_miter;
  if (!leaves_reach(l.alone, l.u_alone, leaves)) return is_clear(l) ? StopAdvice::remake : StopAdvice::leave;
  return c.shim.leaves.empty() ? StopAdvice::leave : StopAdvice::shim;
}

Choice choose(std::span<const Measured> measured, std::span<const Leaf> leaves) {
  Choice c;
  c.likely = likely_causes(measured);
  c.shim = leaves_that_help(c.likely, leaves);
  c.advice = best_of(c, leaves);
  return c;
}

// As many readings in all as make a correction worth while, should they come out like those so far; nothing when none
// do.
std::optional<int> readings_that_decide(std::span<const Measured> measured, std::span<const Leaf> leaves) {
  std::vector<Measured> more(measured.begin(), measured.end());
  const auto decides = [&](int readings) {
    more.front().readings = readings;
    return choose(more, leaves).advice != StopAdvice::leave;
  };
  int undecided = measured.front().readings, decided = kMostReadings;
  if (undecided >= decided || !decides(decided)) return {};
  while (decided - undecided > 1) {
    const int middle = (undecided + decided) / 2;
    (decides(middle) ? decided : undecided) = middle;
  }
  return decided;
}

std::string why_left(const Correction& c) {
  if (c.more_readings)
    return fmt::format("Nothing would bring it nearer, for what is known; {} readings in all would decide.",
                       *c.more_readings);
  return "Nothing would bring it nearer, for what is known, and more readings of the same kind would not change that.";
}

std::string why(const Correction& c, double deviation, double miter) {
  switch (c.advice) {
    case StopAdvice::leave:
      return why_left(c);
    case StopAdvice::true_the_miter:
      return fmt::format(
          "A miter that is off would read the same, and is likelier: {:+.3f} mm of the deviation of {:+.3f} mm, the "
          "stop {:+.3f} mm.",
          miter, deviation, c.causes.front().mm);
    case StopAdvice::remake:
      return c.error.v < 0 ? "The stop stands too near to the blade; a leaf would bring it nearer still."
                           : "The leaves owned do not reach that far.";
    case StopAdvice::shim:
      return fmt::format(
          "It moves the stop's face towards the blade. Along the stick {:+.3f} mm is likely the stop's own doing.",
          c.likely.v);
  }
  return "";
}

}  // namespace

const char* to_string(StopAdvice advice) {
  constexpr std::array kNames = {"shim", "leave", "remake", "true the miter first"};
  return kNames[static_cast<int>(advice)];
}

Correction correct_stop(std::span<const Measured> measured, std::span<const Leaf> leaves) {
  const Choice choice = choose(measured, leaves);
  const Likely& l = choice.likely;
  Correction c;
  c.error = Mm{l.alone}, c.u = Mm{l.u_alone};
  c.likely = Mm{l.stop}, c.u_likely = Mm{l.u_stop}, c.lasting = Mm{l.lasting};
  for (std::size_t k = 0; k < kCauseGroups; ++k) c.causes.push_back({to_string(static_cast<CauseGroup>(k)), l.mm[k]});
  c.wanted = Mm{std::max(0.0, l.alone)};
  c.advice = choice.advice;
  if (c.advice == StopAdvice::shim) c.shim = choice.shim;
  if (c.advice == StopAdvice::leave) c.more_readings = readings_that_decide(measured, leaves);
  const Measured& first = measured.front();
  c.why = why(c, first.mean_mm - first.prediction->expected().v, l.share(CauseGroup::miter));
  return c;
}

}  // namespace stickwright
