// batch_json.h - JSON of a planned batch. Shapes of the documents: docs/plan-json.md.
#pragma once
#include <nlohmann/json_fwd.hpp>

#include "batch/plan.h"

namespace stickwright {

nlohmann::ordered_json setups_json(const BatchPlan& plan);

}  // namespace stickwright
