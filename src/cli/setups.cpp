#include <fmt/core.h>

#include <nlohmann/json.hpp>

#include "answers/batch_json.h"
#include "answers/batch_report.h"
#include "batch/plan.h"
#include "cli/exit_code.h"
#include "cli/plots.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "packet/budget_view.h"

namespace stickwright {
namespace {

BudgetView budget_of(const BatchPlan& plan, const SetUp& s, std::size_t stop) {
  BudgetView view;
  view.budget = s.tests[stop].prediction.budget;
  view.title = fmt::format("{}, stop {}", plan.split.shapes[static_cast<std::size_t>(s.shape)].full_name(), stop + 1);
  view.subtitle = fmt::format("{}; across flats, one reading: {}", plan.batch.name, budget_sentence(view.budget));
  view.date = date_of_plots(plan);
  return view;
}

std::vector<PlotFile> budget_plots(const BatchPlan& plan) {
  std::vector<PlotFile> plots;
  for (const SetUp& s : plan.set_ups)
    for (std::size_t k = 0; k < s.tests.size(); ++k)
      plots.push_back({fmt::format("{}-stop-{}-budget", set_up_id(plan, s), k + 1),
                       [view = budget_of(plan, s, k)](Drawing drawing) { return budget_drawing(view, drawing); }});
  return plots;
}

}  // namespace

int setups_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  std::vector<std::string> written;
  if (!options.plots.empty()) {
    const auto names = write_plots(budget_plots(plan.value()), options.plots);
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
