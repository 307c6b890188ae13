#include "serve/check_job.h"

#include <fmt/core.h>

#include "answers/design_json.h"
#include "batch/design_plan.h"
#include "design/design_file.h"
#include "serve/design_answer.h"
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
  search.tell.as_found = asked.stop_after == 0;
  search.tell.on_progress = [&](const CoverProgress& p) {
    tell.progress(kSearchShare * p.share,
                  fmt::format("{} {} so far{}", p.covers, p.covers == 1 ? "assembly" : "assemblies",
                              p.nodes > 0 ? fmt::format(", {} choices tried", p.nodes) : ""));
  };
  search.on_take_apart = [&](std::int64_t done, std::int64_t of) {
    const double share = of > 0 ? static_cast<double>(done) / static_cast<double>(of) : 1;
    tell.progress(kSearchShare + (1 - kSearchShare) * share, fmt::format("{} of {} assemblies taken apart", done, of));
  };
  return search;
}

struct CheckedFile {
  std::string name, version;
  Design design;
};

JobWork check_work(Workbench& bench, CheckedFile file, CheckAsked asked) {
  return [&bench, file = std::move(file), asked](JobTell& tell) -> Result<Json> {
    std::int64_t found = 0;
    DesignPlan plan = plan_design(file.design, search_for(asked, tell, found));
    Json result = check_json(plan);
    result["complete"] = !plan.stopped() && !plan.reachable.stopped_at;
    // What it shows is shown closed from now on; mirror images counted once would be another count.
    const bool more = plan.works() || !plan.stopped();
    if (more && !asked.mirrors_once) bench.plans().learn(file.name, file.version, std::move(plan));
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
  const auto text = text_in(bench.folder(), name);
  if (!text) return problem_reply(text.problem());
  auto design = parse_design(text.value(), name);
  if (!design) return problem_reply(design.problem());
  CheckedFile file{name, version_of(text.value()), design.take()};
  const std::string id = bench.jobs().start("check", check_work(bench, std::move(file), asked));
  return json_reply({{"job", id}}, 202);
}

}  // namespace stickwright
