#include <fmt/core.h>

#include <fstream>
#include <sstream>

#include "answers/batch_json.h"
#include "packet/plan_files.h"
#include "serve/batch_told.h"
#include "serve/plan_cache.h"
#include "serve/routes.h"
#include "serve/work_asked.h"
#include "serve/workbench.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

constexpr std::size_t kKept = 8;

struct SticksOfBatch {
  Shared<BatchPlan> plan;
  StickPlan sticks;
};
struct WeekOfBatch {
  Shared<SticksOfBatch> of;
  WeekPlan week;
};

// Sticks and weeks of set-ups as they are: neither waits for the fit, and the sticks not for the week. While an answer
// is kept so are its set-ups, so their address tells whether they are still the same.
class WorkKept {
 public:
  Result<Shared<SticksOfBatch>> sticks(const std::string& batch, const Shared<BatchPlan>& plan) {
    return sticks_.get(batch, state_of(plan), [&]() -> Result<Shared<SticksOfBatch>> {
      auto sticks = plan_batch_sticks(*plan);
      if (!sticks) return sticks.problem();
      return std::make_shared<const SticksOfBatch>(SticksOfBatch{plan, sticks.take()});
    });
  }
  Result<Shared<WeekOfBatch>> week(const std::string& batch, const Shared<BatchPlan>& plan) {
    return weeks_.get(batch, state_of(plan), [&]() -> Result<Shared<WeekOfBatch>> {
      const auto sticks = this->sticks(batch, plan);
      if (!sticks) return sticks.problem();
      auto week = plan_week(*plan, sticks.value()->sticks);
      if (!week) return week.problem();
      return std::make_shared<const WeekOfBatch>(WeekOfBatch{sticks.value(), week.take()});
    });
  }

 private:
  static std::string state_of(const Shared<BatchPlan>& plan) {
    return fmt::format("{}", static_cast<const void*>(plan.get()));
  }
  PlanCache<SticksOfBatch> sticks_{kKept};
  PlanCache<WeekOfBatch> weeks_{kKept};
};

using Kept = std::shared_ptr<WorkKept>;

// Beside the batch file, in "out"; what is not called batch.toml has a folder of its own in it.
fs::path out_folder(const fs::path& batch) {
  const fs::path out = batch.parent_path() / "out";
  return batch.stem() == "batch" ? out : out / batch.stem();
}

// When the packet was written, and whether a file that it comes from was written since.
Json packet_json(const Folder& folder, const fs::path& place, const BatchPlan& plan) {
  const fs::path pdf = plan_files(plan.batch.paper(), out_folder(place)).packets.front().path;
  std::error_code failed;
  const auto made = fs::last_write_time(pdf, failed);
  if (failed) return nullptr;
  std::vector<fs::path> from = {place, plan.batch.shop_path};
  for (const PuzzleOrder& order : plan.batch.puzzles) from.push_back(order.design);
  bool older = false;
  for (const fs::path& file : from)
    if (const auto written = fs::last_write_time(file, failed); !failed && written > made) older = true;
  return {{"name", folder.name_of(pdf)}, {"older_than_files", older}};
}

Reply tell_batch(Workbench& bench, const Call& call, const Kept& kept) {
  const std::string name = call.asked("batch");
  const auto place = bench.folder().file(name);
  if (!place) return problem_reply(place.problem());
  const auto plan = bench.plans().set_ups(name);
  if (!plan) return problem_reply(plan.problem());
  const auto sticks = kept->sticks(name, plan.value());
  Json j = {{"file", name}};
  j.update(batch_told(*plan.value(), sticks ? Result<const StickPlan*>(&sticks.value()->sticks)
                                            : Result<const StickPlan*>(bench.folder().shown(sticks.problem()))));
  j["packet"] = packet_json(bench.folder(), place.value(), *plan.value());
  return json_reply(j);
}

Reply tell_sticks(Workbench& bench, const Call& call, const Kept& kept) {
  const std::string name = call.asked("batch");
  const auto plan = bench.plans().set_ups(name);
  if (!plan) return problem_reply(plan.problem());
  const auto sticks = kept->sticks(name, plan.value());
  if (!sticks) return problem_reply(bench.folder().shown(sticks.problem()));
  return json_reply(sticks_told(*plan.value(), sticks.value()->sticks));
}

Reply tell_week(Workbench& bench, const Call& call, const Kept& kept) {
  const std::string name = call.asked("batch");
  const auto plan = bench.plans().set_ups(name);
  if (!plan) return problem_reply(plan.problem());
  const auto week = kept->week(name, plan.value());
  if (!week) return problem_reply(bench.folder().shown(week.problem()));
  return json_reply(week_told(*plan.value(), week.value()->week));
}

Json files_json(const Folder& folder, const PlanFiles& files) {
  Json out = Json::array();
  for (const PacketFile& f : files.packets)
    out.push_back(
        {{"name", folder.name_of(f.path)}, {"paper", f.paper == Paper::a4 ? "A4" : "Letter"}, {"pages", f.pages}});
  out.push_back({{"name", folder.name_of(files.json)}, {"paper", nullptr}, {"pages", nullptr}});
  return out;
}

// Of the whole: sticks and week, then the fit, then the drawing.
constexpr double kWeekDone = 0.3, kFitDone = 0.7;

Result<Json> make_packet(Workbench& bench, const std::string& name, const Kept& kept, JobTell& tell) {
  const Json nothing = {{"files", Json::array()}};
  const auto place = bench.folder().file(name);
  if (!place) return place.problem();
  tell.progress(0, "set-ups");
  const auto begun = bench.plans().set_ups(name);
  if (!begun) return begun.problem();
  if (tell.cancelled()) return nothing;
  tell.progress(0.05, "sticks and the weeks' evenings");
  if (const auto first = kept->week(name, begun.value()); !first) return bench.folder().shown(first.problem());
  FitListener listener;
  listener.cancelled = [&] { return tell.cancelled().load(); };
  listener.progress = [&](double share, const std::string& words) {
    tell.progress(kWeekDone + (kFitDone - kWeekDone) * share, words);
  };
  const auto fitted = bench.plans().fitted(name, listener);
  if (!fitted) return fitted.problem();
  if (tell.cancelled() || !fitted.value()->fit.complete) return nothing;
  // The ledger may have grown meanwhile: all parts of a plan have to be of the same set-ups.
  const Shared<BatchPlan> plan = fitted.value()->set_ups;
  const auto week = kept->week(name, plan);
  if (!week) return bench.folder().shown(week.problem());
  const FullPlan full{*plan, week.value()->of->sticks, week.value()->week, fitted.value()->fit};
  const auto files = write_plan(full, plan_json(full).dump(2) + "\n", out_folder(place.value()), [&](int done, int of) {
    tell.progress(kFitDone + (1 - kFitDone) * done / of, "drawing the packet");
  });
  if (!files) return bench.folder().shown(files.problem());
  return Json{{"files", files_json(bench.folder(), files.value())}};
}

Reply start_packet(Workbench& bench, const Call& call, const Kept& kept) {
  if (const auto problem = only_keys(call, {"batch"})) return problem_reply(*problem);
  const auto name = text_in_body(call, "batch");
  if (!name) return problem_reply(name.problem());
  if (const auto place = bench.folder().file(name.value()); !place) return problem_reply(place.problem());
  return job_reply(bench.jobs().start(
      "packet", [&bench, kept, batch = name.value()](JobTell& tell) { return make_packet(bench, batch, kept, tell); }));
}

Reply send_packet(Workbench& bench, const Call& call, const Kept&) {
  const std::string name = call.asked("batch");
  const auto place = bench.folder().file(name);
  if (!place) return problem_reply(place.problem());
  const fs::path pdf = out_folder(place.value()) / "packet.pdf";
  std::ifstream in(pdf, std::ios::binary);
  if (!in || !bench.folder().holds(pdf))
    return problem_reply(
        {"no_file", bench.folder().name_of(pdf), "no packet has been made of this batch yet: make one first", ""});
  std::stringstream bytes;
  bytes << in.rdbuf();
  return {.type = "application/pdf",
          .body = bytes.str(),
          .headers = {{"Content-Disposition", "inline; filename=\"packet.pdf\""}, {"Cache-Control", "no-store"}}};
}

}  // namespace

std::vector<Route> batch_routes() {
  const auto kept = std::make_shared<WorkKept>();
  const auto with = [kept](Reply (*answer)(Workbench&, const Call&, const Kept&)) -> Handler {
    return [kept, answer](Workbench& bench, const Call& call) { return answer(bench, call, kept); };
  };
  return {{"GET", "/api/batch", with(tell_batch)},
          {"GET", "/api/sticks", with(tell_sticks)},
          {"GET", "/api/week", with(tell_week)},
          {"POST", "/api/packet", with(start_packet)},
          {"GET", "/api/packet.pdf", with(send_packet)}};
}

}  // namespace stickwright
