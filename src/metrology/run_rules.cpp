#include "metrology/run_rules.h"

#include <fmt/core.h>

#include <algorithm>

namespace stickwright {
namespace {

// At least `enough` readings out of the last `window` beyond so many sigma on one side.
struct ZoneRule {
  RunRule rule;
  std::size_t enough, window;
  double sigmas;
};
constexpr ZoneRule kZoneRules[] = {
    {RunRule::one_beyond_three_sigma, 1, 1, 3},
    {RunRule::two_of_three_beyond_two_sigma, 2, 3, 2},
    {RunRule::four_of_five_beyond_one_sigma, 4, 5, 1},
    {RunRule::eight_on_one_side, 8, 8, 0},
};
constexpr std::size_t kTrend = 6;

// Goes on with the signal that reaches into this one, or begins a new one.
void note(std::vector<Signal>& signals, const Signal& s) {
  const auto same = std::find_if(signals.rbegin(), signals.rend(),
                                 [&](const Signal& k) { return k.rule == s.rule && k.high == s.high; });
  const bool goes_on = same != signals.rend() && s.rule != RunRule::one_beyond_three_sigma && s.first <= same->last;
  if (goes_on)
    same->last = s.last;
  else
    signals.push_back(s);
}

void look_at_zone(std::vector<Signal>& signals, std::span<const double> readings, std::size_t i, const ZoneRule& zone,
                  const ControlChart& chart, bool high) {
  const auto beyond = [&](std::size_t k) {
    const double off = high ? readings[k] - chart.center : chart.center - readings[k];
    return off > zone.sigmas * chart.sigma;
  };
  if (!beyond(i)) return;
  const std::size_t start = i + 1 < zone.window ? 0 : i + 1 - zone.window;
  std::size_t count = 0, first = i;
  for (std::size_t k = start; k <= i; ++k)
    if (beyond(k) && count++ == 0) first = k;
  if (count >= zone.enough) note(signals, {zone.rule, first, i, high});
}

bool is_trend(std::span<const double> readings, std::size_t i, bool high) {
  if (i + 1 < kTrend) return false;
  for (std::size_t k = i + 2 - kTrend; k <= i; ++k)
    if (high ? readings[k] <= readings[k - 1] : readings[k] >= readings[k - 1]) return false;
  return true;
}

}  // namespace

const char* to_string(RunRule rule) {
  switch (rule) {
    case RunRule::one_beyond_three_sigma:
      return "one_beyond_three_sigma";
    case RunRule::two_of_three_beyond_two_sigma:
      return "two_of_three_beyond_two_sigma";
    case RunRule::four_of_five_beyond_one_sigma:
      return "four_of_five_beyond_one_sigma";
    case RunRule::eight_on_one_side:
      return "eight_on_one_side";
    case RunRule::six_in_a_row:
      return "six_in_a_row";
  }
  return "";
}

std::vector<Signal> run_signals(std::span<const double> readings, const ControlChart& chart) {
  // Kept apart by rule and side, so that looking for the signal that goes on takes no time.
  std::vector<std::vector<Signal>> kept(2 * (std::size(kZoneRules) + 1));
  for (std::size_t i = 0; i < readings.size(); ++i)
    for (std::size_t high = 0; high < 2; ++high) {
      for (std::size_t z = 0; z < std::size(kZoneRules); ++z)
        look_at_zone(kept[2 * z + high], readings, i, kZoneRules[z], chart, high == 1);
      if (is_trend(readings, i, high == 1))
        note(kept[2 * std::size(kZoneRules) + high], {RunRule::six_in_a_row, i + 1 - kTrend, i, high == 1});
    }
  std::vector<Signal> signals;
  for (const auto& k : kept) signals.insert(signals.end(), k.begin(), k.end());
  std::stable_sort(signals.begin(), signals.end(), [](const Signal& a, const Signal& b) {
    return a.last != b.last ? a.last < b.last : a.rule < b.rule;
  });
  return signals;
}

std::string signal_in_words(const Signal& s) {
  const char* side = s.high ? "above" : "below";
  const std::size_t count = s.last - s.first + 1;
  const std::string place =
      count == 1 ? fmt::format("reading {}", s.last + 1) : fmt::format("readings {} to {}", s.first + 1, s.last + 1);
  switch (s.rule) {
    case RunRule::one_beyond_three_sigma:
      return fmt::format("{}: {} the control limit", place, side);
    case RunRule::two_of_three_beyond_two_sigma:
      return fmt::format("{}: two out of three are more than 2 sigma {} the center line", place, side);
    case RunRule::four_of_five_beyond_one_sigma:
      return fmt::format("{}: four out of five are more than 1 sigma {} the center line", place, side);
    case RunRule::eight_on_one_side:
      return fmt::format("{}: {} in a row {} the center line", place, count, side);
    case RunRule::six_in_a_row:
      return fmt::format("{}: {} in a row, each {} than the one before", place, count, s.high ? "greater" : "less");
  }
  return "";
}

namespace {

Cause of_the_stick(RunRule rule) {
  switch (rule) {
    case RunRule::one_beyond_three_sigma:
    case RunRule::two_of_three_beyond_two_sigma:
      return {"single blocks are unlike the others",
              "measure them again, away from fuzz and glue; they may be from another stick"};
    case RunRule::four_of_five_beyond_one_sigma:
    case RunRule::eight_on_one_side:
      return {"these blocks are from sticks of another section",
              "measure the sticks that are not sawn yet; keep the blocks of each stick together"};
    case RunRule::six_in_a_row:
      return {"the stick is not the same width along its length",
              "measure the stick at both ends; keep its blocks in the order in which they were sawn"};
  }
  return {};
}

}  // namespace

Cause usual_cause(const Signal& s, ReadingOf of) {
  if (of == ReadingOf::stick) return of_the_stick(s.rule);
  switch (s.rule) {
    case RunRule::one_beyond_three_sigma:
      return {"a single block came out unlike the others",
              "measure it again; then look for a chip under the stick or at the stop, and for a block that was not "
              "seated"};
    case RunRule::two_of_three_beyond_two_sigma:
      return {"something comes and goes: now and then a block is far off",
              "brush the cradle and the stop clean; look whether the clamp pulls the stick off the stop"};
    case RunRule::four_of_five_beyond_one_sigma:
      return {"the size has begun to shift",
              "push at the stop by hand: does it give? Has a new stick another section, or was the clamp set anew?"};
    case RunRule::eight_on_one_side:
      return {"the size has shifted and stayed there",
              "check the stop against its gauge blocks; measure the section of the stick that was begun last"};
    case RunRule::six_in_a_row:
      return {"the size creeps one way",
              "is the stop creeping? Is the blade warming up or getting dull? Is the clamp working loose?"};
  }
  return {};
}

}  // namespace stickwright
