#include <fmt/core.h>

#include <chrono>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "batch/plan.h"
#include "cli/batch_json.h"
#include "cli/batch_report.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "packet/budget_view.h"
#include "text/files.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

BudgetView budget_of(const BatchPlan& plan, const SetUp& s, std::size_t stop) {
  BudgetView view;
  view.budget = s.tests[stop].prediction.budget;
  view.title = fmt::format("{}, stop {}", plan.split.shapes[static_cast<std::size_t>(s.shape)].full_name(), stop + 1);
  view.subtitle = fmt::format("{}; across flats, one reading: {}", plan.batch.name, budget_sentence(view.budget));
  const auto day = plan.batch.start;
  view.date = fmt::format("{:04}-{:02}-{:02}T00:00:00", static_cast<int>(day.year()),
                          static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
  return view;
}

// One SVG and one PDF for each stop.   returns  their names
Result<std::vector<std::string>> write_budgets(const BatchPlan& plan, const fs::path& folder) {
  std::vector<std::string> names;
  for (const SetUp& s : plan.set_ups)
    for (std::size_t k = 0; k < s.tests.size(); ++k)
      for (const Drawing drawing : {Drawing::svg, Drawing::pdf}) {
        const fs::path file = folder / fmt::format("{}-stop-{}-budget.{}", set_up_id(plan, s), k + 1,
                                                   drawing == Drawing::svg ? "svg" : "pdf");
        const auto bytes = budget_drawing(budget_of(plan, s, k), drawing);
        if (!bytes) return bytes.problem();
        if (auto written = write_file(file, bytes.value()); !written) return written.problem();
        names.push_back(file.string());
      }
  return names;
}

}  // namespace

int setups_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  std::vector<std::string> written;
  if (!options.plots.empty()) {
    const auto names = write_budgets(plan.value(), options.plots);
    if (!names) return tell(names.problem());
    written = names.value();
  }
  if (options.json) {
    print_json(setups_json(plan.value()));
    return kDone;
  }
  fmt::print("{}", setups_report(plan.value()));
  for (const std::string& name : written) fmt::print("Written: {}\n", name);
  return kDone;
}

}  // namespace stickwright
