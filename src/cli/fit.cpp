#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "batch/fit_plan.h"
#include "cli/exit_code.h"
#include "cli/fit_json.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "ledger/ledger.h"

namespace stickwright {

int fit_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const auto fit = plan_fit(plan.value(), ledger_path(options.file));
  if (!fit) return tell(fit.problem());
  if (options.json)
    print_json(fit_json(plan.value(), fit.value()));
  else
    fmt::print("{}", fit_report(plan.value(), fit.value()));
  return kDone;
}

}  // namespace stickwright
