// sort_answer.h - which measured block goes where, as JSON and as a page to read. Keys: docs/plan-json.md.
#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "batch/sort_plan.h"

namespace stickwright {

nlohmann::ordered_json sort_json(const BatchPlan& plan, const SortPlan& sorted);
std::string sort_report(const BatchPlan& plan, const SortPlan& sorted);

}  // namespace stickwright
