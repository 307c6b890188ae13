#include <nlohmann/json.hpp>

#include "answers/correct_answer.h"

namespace stickwright {

using Json = nlohmann::ordered_json;

Json correction_json(const BatchPlan& plan, const StopCorrection& a) {
  const Correction& c = a.correction;
  const TestPlan& t = plan.set_ups[a.place.set_up].tests[a.place.stop];
  Json j = {{"setup", a.place.id},
            {"stop", a.place.number()},
            {"readings", a.readings},
            {"mean_mm", a.mean_mm},
            {"wanted_mm", wanted_at(plan, a.place).size},
            {"expected_mm", t.expected().v},
            {"error_mm", c.error.v},
            {"shim_mm", c.wanted.v},
            {"leaves", Json::array()},
            {"remaining_mm", a.remaining().v},
            {"u_mm", c.u.v},
            {"advice", to_string(c.advice)},
            {"says", c.why},
            {"causes", Json::array()}};
  for (std::size_t i : c.shim.leaves) j["leaves"].push_back(to_mm(plan.batch.shop.feeler_leaves[i]).v);
  for (const LikelyCause& cause : c.causes) j["causes"].push_back({{"cause", cause.name}, {"mm", cause.mm}});
  j["more_readings"] = c.more_readings ? Json(*c.more_readings) : Json(nullptr);
  j["stack_mm"] = nullptr;
  if (a.anew && *a.anew) {
    j["stack_mm"] = Json::array();
    for (Nm n : a.anew->value().sizes) j["stack_mm"].push_back(to_mm(n).v);
  }
  j["unit"] = "mm";
  return j;
}

}  // namespace stickwright
