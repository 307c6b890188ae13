#include "answers/fit_json.h"

#include <nlohmann/json.hpp>

#include "answers/numbers.h"
#include "batch/fit_wording.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json share_json(const ShareFound& s) {
  return {{"share", short_of(s.share)}, {"u", short_of(s.u)}};
}

Json bars_json(const PlayTally::Bars& b) {
  return {{"from_mm", b.from}, {"width_mm", b.width}, {"count", b.count}};
}

Json spread_json(const PlaySpread& s) {
  return {{"play_mm", {{"median", short_of(s.median)}, {"p05", short_of(s.p05)}, {"p95", short_of(s.p95)}}},
          {"closes", share_json(s.closes)},
          {"within_asked", share_json(s.within)},
          {"whole_batch_closes", share_json(s.batch_closes)},
          {"bars", bars_json(s.bars)}};
}

Json contributions_json(const Contributions& c) {
  Json out = Json::array();
  for (const Contribution& one : c.of)
    out.push_back({{"source", one.source},
                   {"share", short_of(one.share)},
                   {"with_others", short_of(one.with_others)},
                   {"u", short_of(c.u)}});
  return out;
}

Json size_json(const BatchPlan& plan, const Dimension& d) {
  Json j = {{"name", d.name}};
  j["set_up"] = d.shape < 0 ? Json(nullptr) : Json(set_up_id(plan, plan.set_ups[static_cast<std::size_t>(d.shape)]));
  j["stop"] = d.stop < 0 ? Json(nullptr) : Json(d.stop + 1);
  return j;
}

Json sizes_json(const BatchPlan& plan, const PuzzleFit& p) {
  Json out = Json::array();
  for (std::size_t d = 0; d < p.sizes.size(); ++d) {
    Json j = size_json(plan, p.sizes[d]);
    j["play_per_mm"] = short_of(p.per_mm[d]);
    out.push_back(std::move(j));
  }
  return out;
}

Json advice_json(const BatchPlan& plan, const PuzzleFit& p) {
  Json out = Json::array();
  for (std::size_t d = 0; d < p.sizes.size(); ++d) {
    if (p.allowances.mm[d] == 0) continue;
    Json j = {{"stop", p.sizes[d].name}, {"allowance_mm", short_of(p.allowances.mm[d])}};
    const Json of = size_json(plan, p.sizes[d]);
    j["set_up"] = of["set_up"], j["number"] = of["stop"];
    out.push_back(std::move(j));
  }
  return out;
}

Json needed_json(const BatchPlan& plan, const PuzzleFit& p) {
  Json out = Json::array();
  for (const NeededTolerance& n : p.tolerances.needed) {
    const SetUp& s = plan.set_ups[static_cast<std::size_t>(n.shape)];
    out.push_back({{"setup", set_up_id(plan, s)}, {"tolerance_mm", short_of(n.tolerance_mm)}});
  }
  return out;
}

Json months_json(const YearFit& year) {
  Json out = Json::array();
  for (std::size_t m = 0; m < year.months.size(); ++m) {
    const MonthFit& month = year.months[m];
    out.push_back({{"month", m + 1},
                   {"play_mm", short_of(month.median)},
                   {"p05_mm", short_of(month.p05)},
                   {"closes", share_json(month.closes)},
                   {"air_percent", short_of(month.moisture.air)},
                   {"wood_percent", short_of(month.moisture.wood)}});
  }
  return out;
}

Json tight_json(const BatchPlan& plan, const PuzzleFit& p) {
  Json out = Json::array();
  for (const ContactFit& c : p.tight.contacts)
    out.push_back({{"contact", contact_in_words(plan, p, c.contact)},
                   {"gap_mm", short_of(c.gap_mm)},
                   {"force", short_of(c.pressed)},
                   {"force_in_many", short_of(c.often)}});
  return out;
}

Json open_json(const std::optional<OpenJoints>& open) {
  if (!open) return nullptr;
  const OpenJoints& o = *open;
  return {{"median", short_of(o.median_mm)}, {"p95", short_of(o.p95_mm)}};
}

Json sliding_json(const PuzzleFit& p) {
  Json out = Json::array();
  for (std::size_t k = 0; k < p.sliding.size(); ++k) {
    const SlidingStep& s = p.sliding[k];
    Json j = {{"step", k + 1}, {"binds", s.binds}, {"places", s.places}};
    if (s.binds) {
      j["play_mm"] = {{"median", short_of(s.median_mm)}, {"p05", short_of(s.p05_mm)}};
      j["slides"] = share_json(s.slides);
      j["tightest_after_units"] = short_of(s.tightest_at);
    }
    out.push_back(std::move(j));
  }
  return out;
}

Json puzzle_json(const BatchPlan& plan, const PuzzleFit& p) {
  Json j = {{"puzzle", plan.puzzles[p.puzzle].design.design.name}, {"binds", p.binds}};
  if (!p.binds) {
    j["play_mm"] = nullptr;
    j["closes"] = 1;
    j["widest_seen_mm"] = open_json(p.open);
    j["sliding"] = sliding_json(p);
    return j;
  }
  const Json planned = spread_json(p.planned);
  j["play_mm"] = planned["play_mm"];
  j["closes"] = short_of(p.planned.closes.share);
  j["as_planned"] = planned;
  j["contributions"] = contributions_json(p.contributions);
  j["together"] = short_of(p.contributions.together);
  j["sizes"] = sizes_json(plan, p);
  j["advice_verdict"] = to_string(p.allowances.verdict);
  j["advice"] = advice_json(plan, p);
  j["as_advised"] = spread_json(p.advised);
  j["needed_reachable"] = p.tolerances.reachable;
  j["needed"] = needed_json(plan, p);
  j["needed_closes"] = share_json(p.tolerances.closes);
  j["tight"] = tight_json(plan, p);
  j["widest_seen_mm"] = open_json(p.open);
  j["sliding"] = sliding_json(p);
  j["months"] = p.year ? months_json(*p.year) : Json::array();
  if (p.year) j["moisture_at_making_percent"] = short_of(p.year->at_making), j["lag_days"] = p.year->lag_days;
  j["samples"] = p.counts.samples;
  return j;
}

void add_effort(Json& j, const PuzzleFit& p) {
  j["solves"] = p.counts.pivots;
  j["fresh_solves"] = p.counts.fresh_solves;
}

}  // namespace

Json fit_json(const BatchPlan& plan, const FitPlan& fit) {
  Json j = puzzle_json(plan, fit.puzzles[tightest_puzzle(fit)]);
  j["asked"] = {{"play_mm", fit.asked.play},
                {"least_mm", fit.asked.window.least},
                {"most_mm", fit.asked.window.most},
                {"closes_from_mm", fit.asked.window.closes_from},
                {"chance", fit.asked.chance}};
  j["stops_read"] = Json::array();
  for (const StopAsRead& r : fit.read)
    j["stops_read"].push_back({{"set_up", set_up_id(plan, plan.set_ups[r.set_up])},
                               {"stop", r.stop + 1},
                               {"readings", r.readings},
                               {"error_mm", r.error.value},
                               {"u_mm", r.error.u}});
  j["puzzles"] = Json::array();
  for (const PuzzleFit& p : fit.puzzles) j["puzzles"].push_back(puzzle_json(plan, p));
  return j;
}

Json fit_effort_json(const BatchPlan& plan, const FitPlan& fit) {
  Json j = fit_json(plan, fit);
  add_effort(j, fit.puzzles[tightest_puzzle(fit)]);
  for (std::size_t k = 0; k < fit.puzzles.size(); ++k) add_effort(j["puzzles"][k], fit.puzzles[k]);
  j["seconds"] = fit.seconds;
  return j;
}

}  // namespace stickwright
