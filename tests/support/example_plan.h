// example_plan.h - the plan of the example batch, made once for all tests of a program.
#pragma once
#include <gtest/gtest.h>

#include "batch/full_plan.h"

namespace stickwright {

inline const FullPlan& example() {
  static const auto plan = plan_batch(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml");
  EXPECT_TRUE(plan) << plan.problem().say;
  return plan.value();
}

}  // namespace stickwright
