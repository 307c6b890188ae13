#include "answers/batch_json.h"

#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "answers/design_json.h"
#include "answers/fit_json.h"
#include "batch/wording.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json hand_json(const Block& b) {
  return b.hand == Hand::none ? Json(nullptr) : Json(to_string(b.hand));
}

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
          {"says", cut_in_words(p, k)}};
}

// The contact of the cut that severs, or of the first cut made at this stop.
Seating first_contact(const Program& p, int stop) {
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

Json budget_json(const Prediction& p) {
  const Budget& b = p.budget;
  Json j = {{"value_mm", b.value},
            {"u_mm", b.u},
            {"freedom", std::isinf(b.freedom) ? Json(nullptr) : Json(b.freedom)},
            {"coverage", b.coverage},
            {"k", b.k},
            {"expanded_mm", b.expanded},
            {"says", budget_sentence(b)},
            {"lines", Json::array()}};
  for (const BudgetLine& line : b.lines)
    j["lines"].push_back({{"name", line.name},
                          {"value", line.input.value},
                          {"u", line.input.u},
                          {"unit", line.unit},
                          {"spread", to_string(line.input.spread)},
                          {"sensitivity", line.sensitivity},
                          {"contribution_mm", line.contribution},
                          {"share", line.share},
                          {"source", line.input.source}});
  j["bends"] = p.bends;
  j["sampled"] = nullptr;
  if (p.sampled)
    j["sampled"] = {{"value_mm", p.sampled->value},
                    {"u_mm", p.sampled->u},
                    {"low_mm", p.sampled->symmetric.low},
                    {"high_mm", p.sampled->symmetric.high},
                    {"trials", p.sampled->trials},
                    {"settled", p.sampled->settled},
                    {"agrees_with_budget", p.compared->agrees}};
  return j;
}

Json shim_table_json(const TestPlan& t, const std::vector<Nm>& leaves) {
  Json rows = Json::array();
  for (const ShimRow& row : t.shim_table) {
    // To the nanometer, so that a reading prints as it is meant.
    Json j = {{"from_mm", to_mm(to_nm(row.first)).v},
              {"to_mm", to_mm(to_nm(row.last)).v},
              {"advice", to_string(row.advice)},
              {"leaves_total_mm", to_mm(row.shim.total).v},
              {"leaves", Json::array()}};
    for (std::size_t i : row.shim.leaves) j["leaves"].push_back(to_mm(leaves[i]).v);
    rows.push_back(std::move(j));
  }
  return rows;
}

Json test_json(const SetUp& s, const TestPlan& t, Mm tolerance, const std::vector<Nm>& leaves) {
  return {{"across_flats_mm", to_mm(to_nm(t.test.across_flats)).v},
          {"expected_mm", t.expected().v},
          {"tolerance_mm", tolerance.v},
          {"extra_cuts", t.test.extra.size()},
          {"after_cut", t.test.after_cut},
          {"sensitivity_stop", t.test.per_stop},
          {"sensitivity_miter", t.test.per_miter_mm_per_rad},
          {"u_reading_mm", t.u_reading.v},
          {"leave_it_mm", to_mm(to_nm(t.leave_it())).v},
          {"says", test_in_words(s.program, t.test)},
          {"budget", budget_json(t.prediction)},
          {"shim_table", shim_table_json(t, leaves)}};
}

Json set_up_json(const BatchPlan& plan, const SetUp& s) {
  const Block& b = plan.split.shapes[s.shape];
  Json j;
  j["id"] = set_up_id(plan, s);
  j["shape"] = b.shape;
  j["hand"] = hand_json(b);
  j["blocks"] = s.blocks();
  j["needed"] = s.needed;
  j["spares"] = s.spares;
  j["stick_per_block_mm"] = s.stick_per_block.v;
  j["start"] = {{"lean", s.program.start.lean},
                {"crosses_axis_at_units", s.program.start.at},
                {"is_a_face", s.program.start_is_a_face}};
  j["cuts"] = Json::array();
  for (std::size_t k = 0; k < s.program.cuts.size(); ++k) j["cuts"].push_back(cut_json(s.program, k));
  j["stop"] = stop_json(s, 0);
  j["stops"] = Json::array();
  for (std::size_t k = 0; k < s.stops.size(); ++k) j["stops"].push_back(stop_json(s, k));
  j["test"] = test_json(s, s.tests[0], plan.batch.tolerance, plan.batch.shop.feeler_leaves);
  j["tests"] = Json::array();
  j["budget"] = j["test"]["budget"];
  j["shim_table"] = j["test"]["shim_table"];
  for (const TestPlan& t : s.tests)
    j["tests"].push_back(test_json(s, t, plan.batch.tolerance, plan.batch.shop.feeler_leaves));
  return j;
}

Json stick_json(const BatchPlan& plan, const WoodPlan& wood, const CutStick& stick) {
  Json j = {{"wood", wood.wood},
            {"length_mm", to_mm(stick.length).v},
            {"left_mm", to_mm(stick.left).v},
            {"blocks", Json::array()}};
  for (int p : stick.parts) {
    const WantedPart& part = wood.parts[p];
    const Block& b = plan.split.shapes[plan.set_ups[part.set_up].shape];
    j["blocks"].push_back(
        {{"shape", b.shape}, {"hand", hand_json(b)}, {"test", part.is_test}, {"length_mm", to_mm(part.part.length).v}});
  }
  return j;
}

// What is known of the saw, number by number.
Json saw_json(ShopState state) {
  Json j = Json::array();
  const auto parameters = parameters_of(state);
  const auto numbers = numbers_of(state);
  for (std::size_t k = 0; k < numbers.size(); ++k)
    j.push_back({{"name", parameters[k].name},
                 {"value", numbers[k]->value},
                 {"u", numbers[k]->u},
                 {"unit", parameters[k].unit},
                 {"spread", to_string(numbers[k]->spread)},
                 {"source", numbers[k]->source}});
  return j;
}

std::string iso_date(std::chrono::year_month_day d) {
  char text[32];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(d.year()), static_cast<unsigned>(d.month()),
                static_cast<unsigned>(d.day()));
  return text;
}

Json stamp(const WeekPlan& week, Clock t) {
  return iso_date(week.date_of(t)) + "T" + show_clock(t);
}

Json puzzle_json(const FullPlan& plan, const PuzzlePlan& p) {
  Json j;
  j["name"] = p.design.design.name;
  j["copies"] = p.copies;
  j["check"] = check_json(p.design);
  j["glue_ups"] = blocks_json(p.design.made, plan.batch.split, p.first, unit_mm(plan.batch.batch.stick));
  j["woods"] = Json::array();
  for (std::size_t i = 0; i < p.wood_of.size(); ++i)
    j["woods"].push_back({{"piece", p.design.made[i].name}, {"copies", p.wood_of[i]}});
  j["like_wood_contacts"] = p.like_wood_contacts;
  return j;
}

}  // namespace

Json sticks_json(const BatchPlan& plan, const StickPlan& sticks) {
  Json j;
  j["head_mm"] = to_mm(sticks.rules.head).v;
  j["tail_mm"] = to_mm(sticks.rules.tail).v;
  j["sticks"] = Json::array();
  j["woods"] = Json::array();
  for (const WoodPlan& w : sticks.woods) {
    for (const CutStick& s : w.plan.sticks) j["sticks"].push_back(stick_json(plan, w, s));
    j["woods"].push_back({{"wood", w.wood},
                          {"used", w.plan.used()},
                          {"bound", w.plan.bound},
                          {"proven", w.plan.verdict == Verdict::found},
                          {"to_mill", w.to_mill}});
  }
  j["used"] = sticks.used();
  j["bound"] = sticks.bound();
  return j;
}

Json week_json(const WeekPlan& week) {
  const Schedule& s = week.schedule;
  Json j;
  j["finish"] = stamp(week, s.finish);
  j["finish_bound"] = stamp(week, s.bound);
  j["proven"] = s.verdict == Verdict::found;
  j["days_late"] = week.days_late;
  j["hands_on_s"] = [&] {
    Clock n = 0;
    for (const Task& t : week.tasks) n += t.hands_on;
    return n;
  }();
  j["idle_s"] = s.idle;
  j["drying_s"] = s.drying_total;
  j["drying_inside_hours_s"] = s.drying_inside;
  j["windows"] = Json::array();
  for (const Window& w : week.windows)
    j["windows"].push_back({{"from", stamp(week, w.from)}, {"to", stamp(week, w.to)}});
  j["work"] = Json::array();
  for (const Stretch& st : s.work) {
    const Task& t = week.tasks[st.task];
    j["work"].push_back({{"task", t.title},
                         {"kind", to_string(t.work)},
                         {"from", stamp(week, st.from)},
                         {"to", stamp(week, st.to)},
                         {"dries_s", t.dries}});
  }
  return j;
}

Json plan_json(const FullPlan& plan) {
  Json j;
  j["format"] = 1;
  j["batch"] = plan.batch.batch.name;
  j["shop"] = plan.batch.batch.shop.name;
  j["stick_mm"] = plan.batch.batch.stick.v;
  j["kerf_mm"] = plan.batch.batch.shop.blade.kerf.v;
  j["start"] = iso_date(plan.batch.batch.start);
  j["due"] = iso_date(plan.batch.batch.due);
  j["puzzles"] = Json::array();
  for (const PuzzlePlan& p : plan.batch.puzzles) j["puzzles"].push_back(puzzle_json(plan, p));
  j["setups"] = setups_json(plan.batch)["setups"];
  j["sticks"] = sticks_json(plan.batch, plan.sticks);
  j["week"] = week_json(plan.week);
  j["fit"] = fit_json(plan.batch, plan.fit);
  return j;
}

Json setups_json(const BatchPlan& plan) {
  Json j;
  j["stick_mm"] = plan.batch.stick.v;
  j["saw"] = saw_json(plan.saw.state);
  j["setups"] = Json::array();
  for (const SetUp& s : plan.set_ups) j["setups"].push_back(set_up_json(plan, s));
  return j;
}

}  // namespace stickwright
