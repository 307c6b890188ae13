#include <algorithm>
#include <cmath>
#include <list>
#include <map>
#include <mutex>

#include "answers/fit_json.h"
#include "answers/numbers.h"
#include "answers/sort_answer.h"
#include "batch/tried_fit.h"
#include "ledger/ledger.h"
#include "serve/routes.h"
#include "serve/work_asked.h"
#include "serve/workbench.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kStepTried = 0.005;  // mm: of a slider

// What a slider may do, beside what fit_json tells of each size.
void add_limits(Json& puzzle, const PuzzleFit& p) {
  if (!p.binds) return;
  for (std::size_t d = 0; d < p.sizes.size(); ++d) {
    Json& size = puzzle["sizes"][d];
    size["least_mm"] = -p.sizes[d].most_short;
    size["most_mm"] = kMostAllowance;
    size["step_mm"] = kStepTried;
    size["advised_mm"] = short_of(p.allowances.mm[d]);
  }
}

Json fit_told(const BatchPlan& plan, const FitPlan& fit) {
  Json j = {{"ready", true}, {"complete", fit.complete}, {"of", plan.puzzles.size()}};
  if (fit.puzzles.empty()) return j;
  j.update(fit_json(plan, fit));
  for (std::size_t k = 0; k < fit.puzzles.size(); ++k) add_limits(j["puzzles"][k], fit.puzzles[k]);
  return j;
}

// The puzzle that was found last.
Json item_told(const BatchPlan& plan, const FitPlan& so_far) {
  const Json all = fit_told(plan, so_far);
  return {{"index", so_far.puzzles.size() - 1},
          {"of", plan.puzzles.size()},
          {"asked", all["asked"]},
          {"puzzle", all["puzzles"].back()}};
}

// Puzzles drawn for sliders, by the set-ups that they are of; and the fit that is being worked out of each batch.
class FitDesk {
 public:
  // An answer keeps its set-ups, so their address tells them apart.
  std::shared_ptr<const TriedFit> tried(const Shared<BatchPlan>& plan, const std::vector<StopAsRead>& read,
                                        std::size_t puzzle) {
    const std::lock_guard lock(mutex_);
    const auto found = std::find_if(drawn_.begin(), drawn_.end(),
                                    [&](const Drawn& d) { return d.plan == plan && d.puzzle == puzzle; });
    if (found != drawn_.end()) drawn_.splice(drawn_.begin(), drawn_, found);
    if (found == drawn_.end()) drawn_.push_front({plan, puzzle, std::make_shared<TriedFit>(*plan, read, puzzle)});
    if (drawn_.size() > kMostDrawn) drawn_.pop_back();
    return drawn_.front().tried;
  }

  // One at a time for each batch: whoever asks again listens to the one that runs.
  std::string job(Workbench& bench, const std::string& batch, const JobWork& work) {
    const std::lock_guard lock(mutex_);
    if (const auto found = jobs_.find(batch); found != jobs_.end())
      if (const auto state = bench.jobs().snapshot(found->second); state && (*state)["state"] == "running")
        return found->second;
    return jobs_[batch] = bench.jobs().start("fit", work);
  }

 private:
  static constexpr std::size_t kMostDrawn = 6;
  struct Drawn {
    Shared<BatchPlan> plan;
    std::size_t puzzle = 0;
    std::shared_ptr<const TriedFit> tried;
  };
  std::mutex mutex_;
  std::list<Drawn> drawn_;  // asked for last first
  std::map<std::string, std::string> jobs_;
};

using Desk = std::shared_ptr<FitDesk>;

Result<Json> work_out_fit(Workbench& bench, const std::string& name, JobTell& tell) {
  tell.progress(0, "set-ups");
  const auto plan = bench.plans().set_ups(name);
  if (!plan) return plan.problem();
  FitListener listener;
  listener.progress = [&](double share, const std::string& words) { tell.progress(share, words); };
  listener.cancelled = [&] { return tell.cancelled().load(); };
  listener.found = [&](const FitPlan& so_far) {
    if (so_far.puzzles.size() <= plan.value()->puzzles.size()) tell.item(item_told(*plan.value(), so_far));
  };
  const auto fitted = bench.plans().fitted(name, listener);
  if (!fitted) return fitted.problem();
  return fit_told(*fitted.value()->set_ups, fitted.value()->fit);
}

Reply start_fit(Workbench& bench, const Call& call, const Desk& desk) {
  if (const auto problem = only_keys(call, {"batch"})) return problem_reply(*problem);
  const auto name = text_in_body(call, "batch");
  if (!name) return problem_reply(name.problem());
  if (const auto place = bench.folder().file(name.value()); !place) return problem_reply(place.problem());
  return job_reply(desk->job(
      bench, name.value(), [&bench, batch = name.value()](JobTell& tell) { return work_out_fit(bench, batch, tell); }));
}

Reply tell_fit(Workbench& bench, const Call& call, const Desk&) {
  const auto fitted = bench.plans().fitted_at_hand(call.asked("batch"));
  if (!fitted) return problem_reply(fitted.problem());
  if (!fitted.value()) return json_reply({{"ready", false}});
  return json_reply(fit_told(*fitted.value()->set_ups, fitted.value()->fit));
}

struct TriedBatch {
  Shared<BatchPlan> plan;
  std::vector<StopAsRead> read;
};

// As the fit has it that the page shows, where there is one.
Result<TriedBatch> batch_to_try(Workbench& bench, const std::string& name) {
  const auto fitted = bench.plans().fitted_at_hand(name);
  if (!fitted) return fitted.problem();
  if (fitted.value()) return TriedBatch{fitted.value()->set_ups, fitted.value()->fit.read};
  const auto plan = bench.plans().set_ups(name);
  if (!plan) return plan.problem();
  auto read = stops_as_read(*plan.value(), ledger_path(bench.folder().file(name).value()));
  if (!read) return bench.folder().shown(read.problem());
  return TriedBatch{plan.value(), read.take()};
}

Problem bad_allowances(const std::string& say) {
  return {"bad_request", "allowances_mm", say, ""};
}

//   errors   bad_request (not a list of as many numbers as there are sizes, or beyond what a size may be changed by)
Result<std::vector<double>> allowances_in_body(const Call& call, const std::vector<Dimension>& sizes) {
  const auto found = call.body.find("allowances_mm");
  if (found == call.body.end() || !found->is_array() || found->size() != sizes.size())
    return bad_allowances("expected a list of " + std::to_string(sizes.size()) + " numbers, one for each size");
  constexpr double kRounding = 1e-6;
  std::vector<double> mm;
  for (std::size_t d = 0; d < sizes.size(); ++d) {
    const auto& value = (*found)[d];
    if (!value.is_number()) return bad_allowances("expected numbers, in mm");
    mm.push_back(value.get<double>());
    if (!(mm[d] >= -sizes[d].most_short - kRounding && mm[d] <= kMostAllowance + kRounding))
      return bad_allowances(sizes[d].name + " may be changed by " + std::to_string(-sizes[d].most_short) + " to " +
                            std::to_string(kMostAllowance) + " mm");
  }
  return mm;
}

Json share_json(const ShareFound& s) {
  return {{"share", short_of(s.share)}, {"u", short_of(s.u)}};
}

Json tried_json(const PlaySpread& s, std::int64_t samples) {
  return {{"play_mm", {{"median", short_of(s.median)}, {"p05", short_of(s.p05)}, {"p95", short_of(s.p95)}}},
          {"closes", share_json(s.closes)},
          {"within_asked", share_json(s.within)},
          {"bars", {{"from_mm", s.bars.from}, {"width_mm", s.bars.width}, {"count", s.bars.count}}},
          {"samples", samples}};
}

Reply try_fit(Workbench& bench, const Call& call, const Desk& desk) {
  if (const auto problem = only_keys(call, {"batch", "puzzle", "allowances_mm"})) return problem_reply(*problem);
  const auto name = text_in_body(call, "batch");
  if (!name) return problem_reply(name.problem());
  const auto puzzle = index_in_body(call, "puzzle");
  if (!puzzle) return problem_reply(puzzle.problem());
  const auto batch = batch_to_try(bench, name.value());
  if (!batch) return problem_reply(batch.problem());
  if (puzzle.value() >= batch.value().plan->puzzles.size())
    return problem_reply({"bad_request", "puzzle", "the batch has no such puzzle; they are counted from 0", ""});
  const auto tried = desk->tried(batch.value().plan, batch.value().read, puzzle.value());
  if (!tried->binds())
    return problem_reply({"never_binds", "puzzle", "its contacts cannot jam, so there is no play to try", ""});
  const auto mm = allowances_in_body(call, tried->sizes());
  if (!mm) return problem_reply(mm.problem());
  return json_reply(tried_json(tried->with(mm.value()), tried->samples()));
}

Result<Json> sort_blocks(Workbench& bench, const std::string& name, JobTell& tell) {
  tell.progress(0, "set-ups");
  const auto plan = bench.plans().set_ups(name);
  if (!plan) return plan.problem();
  tell.progress(0.1, "sorting; it comes to its end by itself");
  const auto sorted = plan_sorting(*plan.value(), ledger_path(bench.folder().file(name).value()));
  if (!sorted) return bench.folder().shown(sorted.problem());
  return sort_json(*plan.value(), sorted.value());
}

Reply start_sort(Workbench& bench, const Call& call, const Desk&) {
  if (const auto problem = only_keys(call, {"batch"})) return problem_reply(*problem);
  const auto name = text_in_body(call, "batch");
  if (!name) return problem_reply(name.problem());
  if (const auto place = bench.folder().file(name.value()); !place) return problem_reply(place.problem());
  return job_reply(bench.jobs().start(
      "sort", [&bench, batch = name.value()](JobTell& tell) { return sort_blocks(bench, batch, tell); }));
}

}  // namespace

std::vector<Route> fit_routes() {
  const auto desk = std::make_shared<FitDesk>();
  const auto with = [desk](Reply (*answer)(Workbench&, const Call&, const Desk&)) -> Handler {
    return [desk, answer](Workbench& bench, const Call& call) { return answer(bench, call, desk); };
  };
  return {{"POST", "/api/fit", with(start_fit)},
          {"GET", "/api/fit", with(tell_fit)},
          {"POST", "/api/fit/try", with(try_fit)},
          {"POST", "/api/sort", with(start_sort)}};
}

}  // namespace stickwright
