#include <fmt/core.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "answers/history_answer.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "packet/control_chart_view.h"
#include "text/files.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

ControlChartView chart_of(const StopReadings& s, const BatchPlan& plan) {
  ControlChartView view;
  view.title = fmt::format("{}, {}", s.place.name, s.place.size());
  view.subtitle = fmt::format("{}; {}", plan.batch.name, advice_line(s));
  view.readings = s.all_mm();
  view.wanted = s.wanted;
  view.report = s.report;
  view.date = s.kept.empty() ? "" : s.kept.back().at.substr(0, 19);
  return view;
}

// One SVG and one PDF for each stop.   returns  their names
Result<std::vector<std::string>> write_charts(const LedgerHistory& h, const BatchPlan& plan, const fs::path& folder) {
  std::vector<std::string> names;
  for (const StopReadings& s : h.stops) {
    if (s.report.readings < 2) continue;
    for (const Drawing drawing : {Drawing::svg, Drawing::pdf}) {
      const fs::path file = folder / fmt::format("{}-{}-{}.{}", s.place.id, s.place.side > 0 ? "width" : "stop",
                                                 s.place.side > 0 ? s.place.side : s.place.number(),
                                                 drawing == Drawing::svg ? "svg" : "pdf");
      const auto bytes = control_chart_drawing(chart_of(s, plan), drawing);
      if (!bytes) return bytes.problem();
      if (auto written = write_file(file, bytes.value()); !written) return written.problem();
      names.push_back(file.string());
    }
  }
  return names;
}

void tell_that_nothing_was_recorded(const Options& o) {
  fmt::print(
      "Nothing has been recorded for this batch yet. `stickwright record {} --setup ID READING ...` begins its "
      "ledger, {}.\n",
      o.file, ledger_path(o.file).string());
}

}  // namespace

int history_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const auto found = history_answer(plan.value(), ledger_path(options.file), options.set_up, options.stop);
  if (!found) return tell(found.problem());
  const LedgerHistory& history = found.value();
  std::vector<std::string> written;
  if (!options.chart.empty() && !history.ledger.empty()) {
    const auto names = write_charts(history, plan.value(), options.chart);
    if (!names) return tell(names.problem());
    written = names.value();
  }
  if (options.json) {
    print_json(history_json(plan.value(), history));
    return kDone;
  }
  if (history.ledger.empty()) {
    if (!options.as_csv) tell_that_nothing_was_recorded(options);
    return kDone;
  }
  fmt::print("{}", options.as_csv ? history_csv(history) : history_report(history));
  for (const std::string& name : written) fmt::print(options.as_csv ? stderr : stdout, "Written: {}\n", name);
  return kDone;
}

}  // namespace stickwright
