#include "serve/set_ups_answer.h"

#include <fmt/core.h>

#include "answers/batch_json.h"
#include "batch/wording.h"
#include "packet/card_rows.h"
#include "packet/stop_view.h"
#include "serve/scene_json.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

const char* kind_of(const CardRow& r) {
  return !r.program ? "stop" : r.of_test_piece() ? "test piece" : "cut";
}

Json step_json(const SetUp& s, const CardRow& r) {
  Json j = {{"does", kind_of(r)}, {"mark", r.mark}, {"stop", r.stop + 1}, {"says", row_in_words(s, r)}};
  j["caution"] = loose_block_caution(r);
  j["cut"] = r.program && !r.of_test_piece() ? Json(r.cut + 1) : Json(nullptr);
  j["test"] = r.test ? Json(*r.test + 1) : Json(nullptr);
  j["measure_mm"] = r.across_flats ? Json(to_mm(to_nm(*r.across_flats)).v) : Json(nullptr);
  return j;
}

// What the page has to say of a set-up besides.
void add_words(Json& j, const BatchPlan& plan, const SetUp& s) {
  j["name"] = plan.split.shapes[static_cast<std::size_t>(s.shape)].full_name();
  j["start_says"] = start_in_words(s.program);
  j["stops_say"] = standing_stops_in_words(s);
  j["widths"] = widths_of(s.program);
  j["widths_say"] = widths_in_words(s.program);
  j["cautions"] = saw_cautions(plan.batch.shop, s);
  for (std::size_t k = 0; k < s.stops.size(); ++k) {
    j["stops"][k]["number"] = k + 1;
    j["stops"][k]["says"] = stack_in_words(plan.batch, s.stops[k]);
    j["stops"][k]["setting_says"] = setting_in_words(s.stops[k]);
    j["tests"][k]["stop"] = k + 1;
    j["tests"][k]["correction_says"] = correction_in_words(s.tests[k]);
  }
  j["steps"] = Json::array();
  const auto card = card_of(s);
  for (const CardRow& r : card->rows) j["steps"].push_back(step_json(s, r));
}

// The row that is asked for; null: there is none.
const CardRow* row_asked(const SetUpCard& card, const DrawingAsked& asked) {
  if (asked.step > 0)
    return static_cast<std::size_t>(asked.step) <= card.rows.size()
               ? &card.rows[static_cast<std::size_t>(asked.step) - 1]
               : nullptr;
  for (const CardRow& r : card.rows)
    if (r.program && !r.of_test_piece() && r.cut + 1 == static_cast<std::size_t>(asked.cut)) return &r;
  return nullptr;
}

SawScene scene_of(const BatchPlan& plan, const SetUp& s, const CardRow& r) {
  const StopPlan& stop = s.stops[r.stop];
  const Shop& shop = plan.batch.shop;
  if (!r.program) return stop_scene(stop, plan.batch);
  const SawView view{
      *r.program, r.cut, plan.batch.stick, shop.blade.kerf, shop.sled.clamp_side, stop.square_stop.has_value()};
  return cut_scene(view, stop, shop.sled.back_to_blade, r.across_flats);
}

}  // namespace

Json set_ups_on_the_page(const BatchAsked& batch) {
  const BatchPlan& plan = *batch.plan;
  Json j = {{"batch", batch.name}, {"batch_name", plan.batch.name}};
  j.update(setups_json(plan));
  j["leaves_mm"] = Json::array();
  for (Nm leaf : plan.batch.shop.feeler_leaves) j["leaves_mm"].push_back(to_mm(leaf).v);
  j["instrument"] = plan.batch.shop.caliper.name;
  j["cautions"] = plan.saw.cautions;
  for (std::size_t i = 0; i < plan.set_ups.size(); ++i) {
    // The first stop's own, a second time, are for scripts.
    for (const char* twice : {"stop", "test", "budget", "shim_table"}) j["setups"][i].erase(twice);
    j["setups"][i]["number"] = i + 1;
    add_words(j["setups"][i], plan, plan.set_ups[i]);
  }
  return j;
}

Result<Json> drawing_answer(const BatchPlan& plan, const DrawingAsked& asked) {
  const auto index = find_set_up(plan, asked.set_up);
  if (!index) return for_the_page(index.problem());
  const SetUp& s = plan.set_ups[index.value()];
  const auto card = card_of(s);
  const CardRow* row = row_asked(*card, asked);
  if (!row)
    return Problem{"unknown_step", asked.step > 0 ? "step" : "cut",
                   asked.step > 0 ? fmt::format("the set-up {} has {} steps; there is no step {}", asked.set_up,
                                                card->rows.size(), asked.step)
                                  : fmt::format("the set-up {} has {} cuts; there is no cut {}", asked.set_up,
                                                s.program.cuts.size(), asked.cut),
                   ""};
  Json j = scene_json(scene_of(plan, s, *row));
  j["setup"] = set_up_id(plan, s);
  j.update(step_json(s, *row));
  return j;
}

}  // namespace stickwright
