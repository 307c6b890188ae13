#include "answers/stop_readings.h"

#include <fmt/core.h>

#include <cmath>

#include "batch/wording.h"

namespace stickwright {
namespace {

StopPlace place_of(const BatchPlan& plan, std::size_t set_up, std::size_t stop, int side = 0) {
  const SetUp& s = plan.set_ups[set_up];
  return {set_up, stop, set_up_id(plan, s), plan.split.shapes[static_cast<std::size_t>(s.shape)].full_name(), side};
}

std::vector<StopPlace> widths_at(const BatchPlan& plan, std::size_t set_up) {
  std::vector<StopPlace> out;
  for (const int side : widths_of(plan.set_ups[set_up].program)) out.push_back(place_of(plan, set_up, 0, side));
  return out;
}

}  // namespace

std::string StopPlace::size() const {
  return side > 0 ? fmt::format("width {}", side) : fmt::format("stop {}", number());
}

Result<StopPlace> find_stop(const BatchPlan& plan, const std::string& text, int stop) {
  const auto found = find_set_up(plan, text);
  if (!found) return found.problem();
  const std::size_t stops = plan.set_ups[found.value()].stops.size();
  if (stop < 0 || static_cast<std::size_t>(stop) > stops)
    return Problem{"unknown_stop", "--stop",
                   fmt::format("the set-up {} has {} stop{}, numbered from 1; there is no stop {}", text, stops,
                               stops == 1 ? "" : "s", stop),
                   ""};
  return place_of(plan, found.value(), stop == 0 ? 0 : static_cast<std::size_t>(stop) - 1);
}

Result<std::vector<StopPlace>> find_widths(const BatchPlan& plan, const std::string& text) {
  const auto found = find_set_up(plan, text);
  if (!found) return found.problem();
  std::vector<StopPlace> widths = widths_at(plan, found.value());
  if (widths.empty())
    return Problem{"no_width", "--width",
                   fmt::format("the cuts of the set-up {} leave no two sides of the stick that lie opposite, so there "
                               "is no width to measure",
                               text),
                   ""};
  return widths;
}

std::vector<StopPlace> all_stops(const BatchPlan& plan) {
  std::vector<StopPlace> out = all_places(plan);
  std::erase_if(out, [](const StopPlace& p) { return p.side > 0; });
  return out;
}

std::vector<StopPlace> all_places(const BatchPlan& plan) {
  std::vector<StopPlace> out;
  for (std::size_t s = 0; s < plan.set_ups.size(); ++s) {
    for (std::size_t k = 0; k < plan.set_ups[s].stops.size(); ++k) out.push_back(place_of(plan, s, k));
    for (const StopPlace& width : widths_at(plan, s)) out.push_back(width);
  }
  return out;
}

Wanted wanted_at(const BatchPlan& plan, const StopPlace& place) {
  // Rounding to the caliper's step: rectangular, half a step to either side.
  const double step = plan.batch.shop.caliper.resolution.v;
  const Mm size = place.side > 0 ? plan.batch.stick : plan.set_ups[place.set_up].tests[place.stop].test.across_flats;
  // The target to the nanometer, so that it prints as it is meant.
  return {.size = to_mm(to_nm(size)).v,
          .tolerance = plan.batch.tolerance.v,
          .least_sigma = step / std::sqrt(12.0),
          .of = place.side > 0 ? ReadingOf::stick : ReadingOf::stop};
}

std::vector<double> StopReadings::all_mm() const {
  std::vector<double> out;
  for (std::size_t k = 0; k < standing.size(); ++k) out.push_back(mm(k));
  return out;
}

Result<StopReadings> readings_at(Ledger& ledger, const BatchPlan& plan, const StopPlace& place) {
  StopReadings s{
      .place = place, .wanted = wanted_at(plan, place), .kept = {}, .leaves = {}, .standing = {}, .report = {}};
  auto kept = ledger.readings_of(place.id, place.number(), place.side);
  if (!kept) return kept.problem();
  s.kept = kept.take();
  const auto leaves = ledger.leaves_applied();
  if (!leaves) return leaves.problem();
  EntryId since = 0;
  for (const KeptLeaf& l : leaves.value())
    if (place.side == 0 && l.leaf.set_up == place.id && l.leaf.stop == place.number() && !l.withdrawn) {
      s.leaves.push_back(l);
      since = l.id;
    }
  for (std::size_t i = 0; i < s.kept.size(); ++i)
    if (s.kept[i].value() && s.kept[i].id > since) s.standing.push_back(i);
  s.report = report_run(s.all_mm(), s.wanted);
  return s;
}

}  // namespace stickwright
