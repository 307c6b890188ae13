#include "batch/full_plan.h"

namespace stickwright {

Result<FullPlan> plan_batch(const std::string& batch_file) {
  auto batch = plan_set_ups(batch_file);
  if (!batch) return batch.problem();
  auto sticks = plan_batch_sticks(batch.value());
  if (!sticks) return sticks.problem();
  auto week = plan_week(batch.value(), sticks.value());
  if (!week) return week.problem();
  return FullPlan{batch.take(), sticks.take(), week.take()};
}

}  // namespace stickwright
