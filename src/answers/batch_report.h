// batch_report.h - the readable pages about a batch.
#pragma once
#include <string>

#include "batch/full_plan.h"

namespace stickwright {

std::string setups_report(const BatchPlan& plan);
std::string sticks_report(const BatchPlan& plan, const StickPlan& sticks);
std::string week_report(const WeekPlan& week);
std::string plan_report(const FullPlan& plan);

}  // namespace stickwright
