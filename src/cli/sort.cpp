#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/sort_answer.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "ledger/ledger.h"

namespace stickwright {

int sort_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const auto sorted = plan_sorting(plan.value(), ledger_path(options.file));
  if (!sorted) return tell(sorted.problem());
  if (options.json)
    print_json(sort_json(plan.value(), sorted.value()));
  else
    fmt::print("{}", sort_report(plan.value(), sorted.value()));
  return kDone;
}

}  // namespace stickwright
