#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "batch/design_plan.h"
#include "cli/design_json.h"
#include "cli/exit_code.h"
#include "cli/report.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "design/design_file.h"

namespace stickwright {
namespace {

int exit_code(const DesignPlan& plan) {
  if (plan.works()) return kDone;
  const bool stopped = plan.assemblies.verdict == Verdict::stopped || plan.take_apart.verdict == Verdict::stopped;
  return stopped ? kNotFinished : kAnswerIsNo;
}

}  // namespace

int check_verb(const Options& options) {
  auto design = load_design(options.file);
  if (!design) return tell(design.problem());
  const DesignPlan plan = plan_design(design.take());
  if (options.json)
    print_json(check_json(plan));
  else
    fmt::print("{}", check_report(plan));
  return exit_code(plan);
}

}  // namespace stickwright
