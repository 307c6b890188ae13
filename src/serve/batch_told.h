// batch_told.h - a planned batch as the page is told of it: more than the verbs tell, for drawings. Keys:
// docs/api.yaml.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "batch/batch_cost.h"
#include "batch/stick_plan.h"
#include "batch/week_plan.h"

namespace stickwright {

// The head of the plan, and what one puzzle costs.
//   sticks  or why there are none: then what is short is told, and no cost
nlohmann::ordered_json batch_told(const BatchPlan& plan, const Result<const StickPlan*>& sticks);

// As sticks_json, with the place of every block along its stick, and what the rack holds.
nlohmann::ordered_json sticks_told(const BatchPlan& plan, const StickPlan& sticks);

// As week_json, with the days one by one: hours, work, and what dries meanwhile.
nlohmann::ordered_json week_told(const BatchPlan& plan, const WeekPlan& week);

std::string date_told(std::chrono::year_month_day date);  // "2031-01-28"

}  // namespace stickwright
