#include <fmt/core.h>
#include <sys/resource.h>

#include <chrono>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "answers/batch_json.h"
#include "answers/batch_report.h"
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

struct PacketFile {
  Paper paper;
  std::filesystem::path path;
  int pages = 0;
};

// The shop's own paper first; the other one for whoever prints elsewhere.
std::vector<PacketFile> packet_files(Paper own, const std::filesystem::path& folder) {
  const bool a4 = own == Paper::a4;
  return {{own, folder / "packet.pdf"},
          {a4 ? Paper::letter : Paper::a4, folder / (a4 ? "packet-letter.pdf" : "packet-a4.pdf")}};
}

std::string written_line(const std::vector<PacketFile>& files, const std::filesystem::path& json) {
  std::string out = "Written: ";
  for (const PacketFile& f : files)
    out += fmt::format("{} ({} pages, {}), ", f.path.string(), f.pages, f.paper == Paper::a4 ? "A4" : "Letter");
  return out + json.string() + "\n";
}

}  // namespace

int plan_verb(const Options& options) {
  const auto start = std::chrono::steady_clock::now();
  const auto plan = plan_batch(options.file);
  if (!plan) return tell(plan.problem());
  const auto document = plan_json(plan.value());
  const std::filesystem::path folder = options.out, json = folder / "plan.json";
  if (auto written = write_file(json, document.dump(2) + "\n"); !written) return tell(written.problem());
  auto files = packet_files(plan.value().batch.batch.paper(), folder);
  for (PacketFile& f : files) {
    const auto pages = write_packet(plan.value(), f.paper, f.path.string());
    if (!pages) return tell(pages.problem());
    f.pages = pages.value();
  }
  if (options.json)
    print_json(document);
  else
    fmt::print("{}{}", plan_report(plan.value()), written_line(files, json));
  if (options.timing) print_timing(start);
  return kDone;
}

}  // namespace stickwright
