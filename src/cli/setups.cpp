#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "batch/plan.h"
#include "cli/batch_json.h"
#include "cli/batch_report.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"

namespace stickwright {

int setups_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  if (options.json)
    print_json(setups_json(plan.value()));
  else
    fmt::print("{}", setups_report(plan.value()));
  return kDone;
}

}  // namespace stickwright
