#include "cli/plots.h"

#include <fmt/core.h>

#include <cctype>

#include "text/files.h"

namespace stickwright {

Result<std::vector<std::string>> write_plots(const std::vector<PlotFile>& plots, const std::filesystem::path& folder) {
  std::vector<std::string> names;
  for (const PlotFile& p : plots)
    for (const Drawing drawing : {Drawing::svg, Drawing::pdf}) {
      const std::filesystem::path file = folder / (p.name + (drawing == Drawing::svg ? ".svg" : ".pdf"));
      const auto bytes = p.draw(drawing);
      if (!bytes) return bytes.problem();
      if (auto written = write_file(file, bytes.value()); !written) return written.problem();
      names.push_back(file.string());
    }
  return names;
}

std::string date_of_plots(const BatchPlan& plan) {
  const auto day = plan.batch.start;
  return fmt::format("{:04}-{:02}-{:02}T00:00:00", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                     static_cast<unsigned>(day.day()));
}

std::string file_name_of(const std::string& words) {
  constexpr std::size_t kMost = 60;
  std::string out;
  for (const char c : words) {
    const auto u = static_cast<unsigned char>(c);
    if (std::isalnum(u) != 0 && u < 128)
      out += static_cast<char>(std::tolower(u));
    else if (!out.empty() && out.back() != '-')
      out += '-';
  }
  if (out.size() > kMost) out.resize(kMost);
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out.empty() ? "puzzle" : out;
}

}  // namespace stickwright
