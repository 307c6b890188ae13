// batch_report.h - the readable pages about a batch.
#pragma once
#include <string>

#include "batch/plan.h"

namespace stickwright {

std::string setups_report(const BatchPlan& plan);

}  // namespace stickwright
