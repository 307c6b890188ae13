#include <numbers>

#include "answers/batch_json.h"
#include "batch/rack_use.h"
#include "batch/stick_places.h"
#include "serve/batch_told.h"
#include "serve/wood_tone.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json miter_json(const MiterAlong& m) {
  return {{"axis_mm", m.axis.v}, {"upper_mm", m.upper.v}, {"eye_mm", m.eye.v}, {"lower_mm", m.lower.v}};
}

void add_places(Json& blocks, const BatchPlan& plan, const WoodPlan& w, const std::vector<PartOnStick>& parts) {
  for (std::size_t k = 0; k < parts.size(); ++k) {
    const int set_up = w.parts[static_cast<std::size_t>(parts[k].part)].set_up;
    Json& j = blocks[k];
    j["set_up"] = set_up_id(plan, plan.set_ups[static_cast<std::size_t>(set_up)]);
    j["number"] = set_up + 1;
    j["near"] = miter_json(parts[k].near);
    j["far"] = miter_json(parts[k].far);
  }
}

Json rack_json(const BatchPlan& plan, const StickPlan& sticks) {
  Json out = Json::array();
  for (const RackUse& r : rack_use(plan, sticks))
    out.push_back({{"wood", r.wood},
                   {"length_mm", r.length.v},
                   {"milled", r.milled},
                   {"on_hand", r.on_hand},
                   {"used", r.used},
                   {"left", r.left()}});
  return out;
}

}  // namespace

Json sticks_told(const BatchPlan& plan, const StickPlan& sticks) {
  Json j = sticks_json(plan, sticks);
  std::size_t number = 0;
  for (const WoodPlan& w : sticks.woods)
    for (const CutStick& s : w.plan.sticks) {
      Json& stick = j["sticks"][number];
      stick["number"] = ++number;
      add_places(stick["blocks"], plan, w, parts_on_stick(plan, sticks, w, s));
    }
  for (Json& wood : j["woods"]) wood["lightness"] = drawn_lightness(wood["wood"].get<std::string>());
  j["stick_mm"] = plan.batch.stick.v;
  j["across_corners_mm"] = 2 * unit_mm(plan.batch.stick);
  j["kerf_mm"] = plan.batch.shop.blade.kerf.v;
  j["kerf_along_mm"] = std::numbers::sqrt2 * plan.batch.shop.blade.kerf.v;
  j["rack"] = rack_json(plan, sticks);
  return j;
}

}  // namespace stickwright
