#include <fmt/core.h>
#include <sys/resource.h>

#include <chrono>
#include <nlohmann/json.hpp>

#include "answers/batch_json.h"
#include "answers/batch_report.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "packet/plan_files.h"

namespace stickwright {
namespace {

void print_timing(std::chrono::steady_clock::time_point start) {
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  fmt::print(stderr, "took {:.3f} s, {:.1f} MB at most\n", took.count(), static_cast<double>(usage.ru_maxrss) / 1024);
}

std::string written_line(const PlanFiles& files) {
  std::string out = "Written: ";
  for (const PacketFile& f : files.packets)
    out += fmt::format("{} ({} pages, {}), ", f.path.string(), f.pages, f.paper == Paper::a4 ? "A4" : "Letter");
  return out + files.json.string() + "\n";
}

}  // namespace

int plan_verb(const Options& options) {
  const auto start = std::chrono::steady_clock::now();
  const auto plan = plan_batch(options.file);
  if (!plan) return tell(plan.problem());
  const auto document = plan_json(plan.value());
  const auto files = write_plan(plan.value(), document.dump(2) + "\n", options.out);
  if (!files) return tell(files.problem());
  if (options.json)
    print_json(document);
  else
    fmt::print("{}{}", plan_report(plan.value()), written_line(files.value()));
  if (options.timing) print_timing(start);
  return kDone;
}

}  // namespace stickwright
