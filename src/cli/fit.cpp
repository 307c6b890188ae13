#include <fmt/core.h>

#include <map>
#include <nlohmann/json.hpp>

#include "answers/fit_json.h"
#include "batch/fit_wording.h"
#include "cli/exit_code.h"
#include "cli/plots.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "ledger/ledger.h"
#include "packet/fit_view.h"

namespace stickwright {
namespace {

// A name of its own for each puzzle, whatever they are called.
std::vector<std::string> names_of(const BatchPlan& plan, const FitPlan& fit) {
  std::map<std::string, int> seen;
  std::vector<std::string> names;
  for (const PuzzleFit& p : fit.puzzles) {
    const std::string name = file_name_of(plan.puzzles[p.puzzle].design.design.name);
    const int times = ++seen[name];
    names.push_back(times == 1 ? name : fmt::format("{}-no-{}", name, times));
  }
  return names;
}

// Nothing of a puzzle that cannot bind: it has no play to draw.
std::vector<PlotFile> fit_plots(const BatchPlan& plan, const FitPlan& fit) {
  std::vector<PlotFile> plots;
  const std::vector<std::string> names = names_of(plan, fit);
  for (std::size_t k = 0; k < fit.puzzles.size(); ++k) {
    const PuzzleFit& p = fit.puzzles[k];
    if (!p.binds) continue;
    PictureCaption play = {plan.puzzles[p.puzzle].design.design.name + ": play", plan.batch.name, date_of_plots(plan)};
    PictureCaption sources = play, year = play;
    play.subtitle += ". " + fit_in_words(plan, fit, p).front();
    sources.title += ", what makes it uncertain", sources.subtitle += fmt::format(". {}", contributions_key());
    year.title += " over the year";
    plots.push_back({names[k] + "-play",
                     [play, view = play_view(fit, p)](Drawing drawing) { return play_drawing(play, view, drawing); }});
    plots.push_back({names[k] + "-sources", [sources, c = p.contributions](Drawing drawing) {
                       return contributions_drawing(sources, c, drawing);
                     }});
    if (p.year)
      plots.push_back({names[k] + "-year", [year, view = YearView{*p.year, fit.asked.window}](Drawing drawing) {
                         return year_drawing(year, view, drawing);
                       }});
  }
  return plots;
}

}  // namespace

int fit_verb(const Options& options) {
  const auto plan = plan_set_ups(options.file);
  if (!plan) return tell(plan.problem());
  const auto fit = plan_fit(plan.value(), ledger_path(options.file));
  if (!fit) return tell(fit.problem());
  std::vector<std::string> written;
  if (!options.plots.empty()) {
    const auto names = write_plots(fit_plots(plan.value(), fit.value()), options.plots);
    if (!names) return tell(names.problem());
    written = names.value();
  }
  if (options.json) {
    print_json(fit_effort_json(plan.value(), fit.value()));
    return kDone;
  }
  fmt::print("{}", fit_report(plan.value(), fit.value()));
  for (const std::string& name : written) fmt::print("Written: {}\n", name);
  return kDone;
}

}  // namespace stickwright
