#include "serve/check_job.h"

#include <fmt/core.h>

#include "answers/design_json.h"
#include "batch/design_plan.h"
#include "design/design_file.h"
#include "serve/given.h"
#include "serve/workbench.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::int64_t kMostItems = 2000;            // assemblies handed out while the search goes on
constexpr std::size_t kMostKeptAssemblies = 20'000;  // as the verb keeps
// Of the whole work; what the search and the taking apart really take is not known before.
constexpr double kSearchShare = 0.7;
constexpr int kMostThreads = 256;

struct CheckAsked {
  bool mirrors_once = false, turning = false;
  std::int64_t stop_after = 0;  // 0: find all
  int threads = 0;
};

DesignSearch search_for(const CheckAsked& asked, JobTell& tell, std::int64_t& found) {
  DesignSearch search;
  search.every_assembly = true;
  search.turning = asked.turning;
  search.limits.keep = kMostKeptAssemblies;
  search.limits.up_to = asked.mirrors_once ? UpTo::reflections : UpTo::rotations;
  search.limits.threads = asked.threads;
  search.limits.cancel = &tell.cancelled();
  if (asked.stop_after > 0) search.limits.count = asked.stop_after;
  search.tell.on_assembly = [&](const Assembly& a) { tell.item({{"number", ++found}, {"cells", assembly_json(a)}}); };
  search.tell.most = kMostItems;
  search.tell.on_progress = [&](const CoverProgress& p) {
    tell.progress(kSearchShare * p.share,
                  fmt::format("{} {} so far", p.covers, p.covers == 1 ? "assembly" : "assemblies"));
  };
  search.on_take_apart = [&](std::int64_t done, std::int64_t of) {
    const double share = of > 0 ? static_cast<double>(done) / static_cast<double>(of) : 1;
    tell.progress(kSearchShare + (1 - kSearchShare) * share, fmt::format("{} of {} assemblies taken apart", done, of));
  };
  return search;
}

JobWork check_work(Design design, CheckAsked asked) {
  return [design = std::move(design), asked](JobTell& tell) -> Result<Json> {
    std::int64_t found = 0;
    const DesignPlan plan = plan_design(design, search_for(asked, tell, found));
    Json result = check_json(plan);
    result["complete"] = !plan.stopped() && !plan.reachable.stopped_at;
    return result;
  };
}

}  // namespace

Reply check_reply(Workbench& bench, const Call& call) {
  std::optional<Problem> problem;
  const Given body(call.body, problem);
  body.only({"design", "mirrors_once", "turning", "stop_after", "threads"});
  const std::string name = body.text("design");
  CheckAsked asked;
  asked.mirrors_once = body.flag_or("mirrors_once", false);
  asked.turning = body.flag_or("turning", false);
  asked.stop_after = body.whole_if("stop_after", 0, std::int64_t{1} << 40).value_or(0);
  asked.threads = static_cast<int>(body.whole_if("threads", 0, kMostThreads).value_or(0));
  if (problem) return problem_reply(*problem);
  const auto file = bench.folder().file(name);
  if (!file) return problem_reply(file.problem());
  auto design = load_design(file.value());
  if (!design) return problem_reply(design.problem());
  const std::string id = bench.jobs().start("check", check_work(design.take(), asked));
  return json_reply({{"job", id}}, 202);
}

}  // namespace stickwright
