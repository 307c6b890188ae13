#include "batch/full_plan.h"

#include "ledger/ledger.h"

namespace stickwright {

Result<FullPlan> plan_batch(const std::string& batch_file) {
  auto batch = plan_set_ups(batch_file);
  if (!batch) return batch.problem();
  auto sticks = plan_batch_sticks(batch.value());
  if (!sticks) return sticks.problem();
  auto week = plan_week(batch.value(), sticks.value());
  if (!week) return week.problem();
  auto fit = plan_fit(batch.value(), ledger_path(batch_file));
  if (!fit) return fit.problem();
  return FullPlan{batch.take(), sticks.take(), week.take(), fit.take()};
}

}  // namespace stickwright
