#include <fmt/core.h>

#include <csignal>
#include <nlohmann/json.hpp>

#include "answers/design_json.h"
#include "answers/design_report.h"
#include "batch/design_plan.h"
#include "cli/bookmark.h"
#include "cli/exit_code.h"
#include "cli/progress.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "design/design_file.h"

namespace stickwright {
namespace {

std::atomic<bool> interrupted = false;

int exit_code(const DesignPlan& plan) {
  if (plan.works()) return kDone;
  return plan.stopped() ? kNotFinished : kAnswerIsNo;
}

// Ctrl-C once: end the search and show what is known. Twice: end at once.
void listen_for_interrupts() {
  std::signal(SIGINT, [](int) {
    interrupted = true;
    std::signal(SIGINT, SIG_DFL);
  });
}

UpTo up_to(const Options& options) {
  return options.mirrors_once ? UpTo::reflections : UpTo::rotations;
}

DesignSearch search_for(const Options& options, const Bookmark& from, Progress& progress) {
  DesignSearch search;
  search.every_assembly = true;
  search.turning = options.turning;
  search.limits.keep = 20'000;
  if (options.stop_after > 0) search.limits.count = options.stop_after;
  if (options.nodes > 0) search.limits.nodes = options.nodes;
  search.limits.threads = options.threads;
  search.limits.up_to = up_to(options);
  search.limits.first_branch = from.branches_done;
  search.limits.cancel = &interrupted;
  if (options.each) search.tell.on_assembly = [](const Assembly& a) { fmt::print("{}\n", assembly_json(a).dump()); };
  search.tell.on_progress = [&progress, from](const CoverProgress& p) {
    progress.show(fmt::format("{} assemblies so far", from.count + p.covers), p.share);
  };
  search.on_take_apart = [&progress, begun = false](std::int64_t done, std::int64_t of) mutable {
    if (!begun) progress.restart(), begun = true;
    progress.show(fmt::format("{} of {} assemblies taken apart", done, of),
                  static_cast<double>(done) / static_cast<double>(std::max<std::int64_t>(of, 1)));
  };
  return search;
}

Result<Done> keep_bookmark(const Options& options, const Bookmark& from, const Assemblies& a) {
  return write_bookmark(options.bookmark,
                        {from.of, a.branches_done, a.branches, from.count + a.count_done, from.total + a.total_done});
}

}  // namespace

int check_verb(const Options& options) {
  auto loaded = load_design(options.file);
  if (!loaded) return tell(loaded.problem());
  Design design = loaded.take();
  Bookmark from;
  if (!options.bookmark.empty()) {
    auto read = read_bookmark(options.bookmark, fingerprint(design, up_to(options)));
    if (!read) return tell(read.problem());
    from = read.take();
  }
  listen_for_interrupts();
  DesignPlan plan = [&] {
    Progress progress;
    return plan_design(std::move(design), search_for(options, from, progress));
  }();
  if (!options.bookmark.empty())
    if (auto kept = keep_bookmark(options, from, plan.assemblies); !kept) return tell(kept.problem());
  count_earlier(plan, from.count, from.total);
  if (options.json)
    print_json(check_json(plan));
  else
    fmt::print("{}", check_report(plan));
  return exit_code(plan);
}

}  // namespace stickwright
