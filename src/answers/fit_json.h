// fit_json.h - the fit of a batch as JSON and as a page to read. Keys: docs/plan-json.md.
#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "batch/fit_plan.h"

namespace stickwright {

nlohmann::ordered_json fit_json(const BatchPlan& plan, const FitPlan& fit);
// The same, and what it took: steps and seconds, which are others on every run.
nlohmann::ordered_json fit_effort_json(const BatchPlan& plan, const FitPlan& fit);
std::string fit_report(const BatchPlan& plan, const FitPlan& fit);

}  // namespace stickwright
