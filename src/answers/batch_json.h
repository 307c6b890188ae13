// batch_json.h - JSON of a planned batch. Shapes of the documents: docs/plan-json.md.
#pragma once
#include <nlohmann/json_fwd.hpp>

#include "batch/full_plan.h"

namespace stickwright {

nlohmann::ordered_json setups_json(const BatchPlan& plan);
nlohmann::ordered_json sticks_json(const BatchPlan& plan, const StickPlan& sticks);
nlohmann::ordered_json week_json(const WeekPlan& week);
nlohmann::ordered_json plan_json(const FullPlan& plan);

}  // namespace stickwright
