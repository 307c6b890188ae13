#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/batch_json.h"
#include "answers/batch_report.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"

namespace stickwright {

int week_verb(const Options& options) {
  const auto plan = plan_batch(options.file);
  if (!plan) return tell(plan.problem());
  if (options.json)
    print_json(week_json(plan.value().week));
  else
    fmt::print("{}", week_report(plan.value().week));
  return kDone;
}

}  // namespace stickwright
