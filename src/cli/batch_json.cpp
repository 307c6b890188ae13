#include "cli/batch_json.h"

#include <nlohmann/json.hpp>

#include "batch/wording.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json cut_json(const Program& p, std::size_t k) {
  const Cut& c = p.cuts[k];
  return {{"end", to_string(c.miter.end)},
          {"lean", c.miter.lean},
          {"crosses_axis_at_units", c.miter.at},
          {"pencil", to_string(c.pencil)},
          {"stop", c.stop},
          {"contact", to_string(c.contact)},
          {"on", c.on_stick ? "stick" : "block"},
          {"severs", c.severs},
          {"end_for_end", c.end_for_end},
          {"keeps", c.keeps_stop_side ? "stop side" : "stick side"},
          {"says", cut_in_words(p, k)}};
}

// The contact of the cut that severs, or of the first cut made at this stop.
Contact first_contact(const Program& p, int stop) {
  for (const Cut& c : p.cuts)
    if (c.stop == stop && c.severs) return c.contact;
  for (const Cut& c : p.cuts)
    if (c.stop == stop) return c.contact;
  return p.stops[stop].contact;
}

Json stop_json(const SetUp& s, std::size_t k) {
  const StopPlan& stop = s.stops[k];
  Json stack = Json::array();
  for (Nm n : stop.sizes) stack.push_back(to_mm(n).v);
  Json j = {{"face", to_string(stop.stop.face)},
            {"contact", to_string(first_contact(s.program, static_cast<int>(k)))},
            {"least_contact", to_string(stop.stop.contact)},
            {"distance_units", stop.stop.distance},
            {"distance_mm", stop.distance.v},
            {"distance_in", stop.distance.inches()},
            {"stack", stack},
            {"stack_total_mm", to_mm(stop.stack.total).v},
            {"stack_target_mm", to_mm(stop.stack_target).v},
            {"stack_error_mm", stop.error.v},
            {"stack_tolerance_mm", to_mm(stop.stack.tolerance).v},
            {"u_mm", stop.u.v}};
  j["square_stop_mm"] = stop.square_stop ? Json(stop.square_stop->v) : Json(nullptr);
  return j;
}

Json test_json(const SetUp& s, const TestPlan& t, Mm tolerance) {
  return {{"across_flats_mm", t.test.across_flats.v},
          {"expected_mm", t.expected.v},
          {"tolerance_mm", tolerance.v},
          {"extra_cuts", t.test.extra.size()},
          {"after_cut", t.test.after_cut},
          {"sensitivity_stop", t.test.per_stop},
          {"sensitivity_miter", t.test.per_miter_mm_per_rad},
          {"u_reading_mm", t.u_reading.v},
          {"leave_it_mm", t.leave_it.v},
          {"says", test_in_words(s.program, t.test)}};
}

Json set_up_json(const BatchPlan& plan, const SetUp& s) {
  const Block& b = plan.split.shapes[s.shape];
  Json j;
  j["shape"] = b.shape;
  j["hand"] = b.hand == Hand::none ? Json(nullptr) : Json(to_string(b.hand));
  j["blocks"] = s.blocks();
  j["needed"] = s.needed;
  j["spares"] = s.spares;
  j["stick_per_block_mm"] = s.stick_per_block.v;
  j["start"] = {{"lean", s.program.start.lean}, {"crosses_axis_at_units", s.program.start.at}, {"is_a_face", s.program.start_is_a_face}};
  j["cuts"] = Json::array();
  for (std::size_t k = 0; k < s.program.cuts.size(); ++k) j["cuts"].push_back(cut_json(s.program, k));
  j["stop"] = stop_json(s, 0);
  j["stops"] = Json::array();
  for (std::size_t k = 0; k < s.stops.size(); ++k) j["stops"].push_back(stop_json(s, k));
  j["test"] = test_json(s, s.tests[0], plan.batch.tolerance);
  j["tests"] = Json::array();
  for (const TestPlan& t : s.tests) j["tests"].push_back(test_json(s, t, plan.batch.tolerance));
  return j;
}

}  // namespace

Json setups_json(const BatchPlan& plan) {
  Json j;
  j["stick_mm"] = plan.batch.stick.v;
  j["setups"] = Json::array();
  for (const SetUp& s : plan.set_ups) j["setups"].push_back(set_up_json(plan, s));
  return j;
}

}  // namespace stickwright
