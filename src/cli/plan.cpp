#include <fmt/core.h>
#include <sys/resource.h>

#include <chrono>
#include <nlohmann/json.hpp>

#include "cli/batch_json.h"
#include "cli/batch_report.h"
#include "cli/exit_code.h"
#include "cli/say.h"
#include "cli/verbs.h"
#include "packet/packet.h"
#include "text/files.h"

namespace stickwright {
namespace {

void print_timing(std::chrono::steady_clock::time_point start) {
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  fmt::print(stderr, "took {:.3f} s, {:.1f} MB at most\n", took.count(), static_cast<double>(usage.ru_maxrss) / 1024);
}

}  // namespace

int plan_verb(const Options& options) {
  const auto start = std::chrono::steady_clock::now();
  const auto plan = plan_batch(options.file);
  if (!plan) return tell(plan.problem());
  const auto document = plan_json(plan.value());
  if (auto made = make_folder(options.out); !made) return tell(made.problem());
  if (auto written = write_file(options.out + "/plan.json", document.dump(2) + "\n"); !written)
    return tell(written.problem());
  const Paper paper = plan.value().batch.batch.paper(), other = paper == Paper::a4 ? Paper::letter : Paper::a4;
  const auto pages = write_packet(plan.value(), paper, options.out + "/packet.pdf");
  if (!pages) return tell(pages.problem());
  const std::string second = options.out + (other == Paper::letter ? "/packet-letter.pdf" : "/packet-a4.pdf");
  if (auto written = write_packet(plan.value(), other, second); !written) return tell(written.problem());
  if (options.json) {
    print_json(document);
  } else {
    fmt::print("{}", plan_report(plan.value()));
    fmt::print("Written: {}/packet.pdf ({} pages, {}), {}, {}/plan.json\n", options.out, pages.value(),
               paper == Paper::a4 ? "A4" : "Letter", second, options.out);
  }
  if (options.timing) print_timing(start);
  return kDone;
}

}  // namespace stickwright
