#include <fmt/core.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "answers/design_json.h"
#include "batch/design_plan.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "design/design_file.h"
#include "text/files.h"

namespace stickwright {

int export_verb(const Options& options) {
  auto design = load_design(options.file);
  if (!design) return tell(design.problem());
  const DesignPlan plan = plan_design(design.take());
  if (!plan.works()) return tell({plan.stopped() ? "stopped" : "does_not_work", options.file, why_not(plan), ""});
  const auto document = steps_json(plan);
  const std::filesystem::path file = std::filesystem::path(options.out) / "steps.json";
  if (auto written = write_file(file, document.dump(2) + "\n"); !written) return tell(written.problem());
  if (options.json)
    print_json(document);
  else
    fmt::print("Written: {} ({} steps)\n", file.string(), plan.take_apart.steps.size());
  return kDone;
}

}  // namespace stickwright
