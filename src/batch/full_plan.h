// full_plan.h - the whole plan of a batch as one value, from the files that the maker wrote.
#pragma once
#include "batch/fit_plan.h"
#include "batch/plan.h"
#include "batch/stick_plan.h"
#include "batch/week_plan.h"

namespace stickwright {

struct FullPlan {
  BatchPlan batch;
  StickPlan sticks;
  WeekPlan week;
  FitPlan fit;
};

//   errors   those of plan_set_ups, plan_batch_sticks, plan_week and plan_fit
Result<FullPlan> plan_batch(const std::string& batch_file);

}  // namespace stickwright
