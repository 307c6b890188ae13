#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/batch_json.h"
#include "answers/batch_report.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"

namespace stickwright {

int sticks_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const auto sticks = plan_batch_sticks(plan.value());
  if (!sticks) return tell(sticks.problem());
  if (options.json)
    print_json(sticks_json(plan.value(), sticks.value()));
  else
    fmt::print("{}", sticks_report(plan.value(), sticks.value()));
  return kDone;
}

}  // namespace stickwright
