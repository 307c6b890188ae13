#include "packet/plan_files.h"

#include "text/files.h"

namespace stickwright {

PlanFiles plan_files(Paper own, const std::filesystem::path& folder) {
  const bool a4 = own == Paper::a4;
  return {folder / "plan.json",
          {{own, folder / "packet.pdf"},
           {a4 ? Paper::letter : Paper::a4, folder / (a4 ? "packet-letter.pdf" : "packet-a4.pdf")}}};
}

Result<PlanFiles> write_plan(const FullPlan& plan, const std::string& document, const std::filesystem::path& folder,
                             const std::function<void(int, int)>& tell) {
  PlanFiles files = plan_files(plan.batch.batch.paper(), folder);
  const int all = static_cast<int>(files.packets.size()) + 1;
  int done = 0;
  if (tell) tell(done, all);
  if (auto written = write_file(files.json, document); !written) return written.problem();
  for (PacketFile& f : files.packets) {
    if (tell) tell(++done, all);
    const auto pages = write_packet(plan, f.paper, f.path.string());
    if (!pages) return pages.problem();
    f.pages = pages.value();
  }
  return files;
}

}  // namespace stickwright
