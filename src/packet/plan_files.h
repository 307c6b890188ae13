// plan_files.h - the files that a plan is handed out as: the packet on the shop's paper and on the other, and
// plan.json.
#pragma once
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "packet/packet.h"

namespace stickwright {

struct PacketFile {
  Paper paper = Paper::a4;
  std::filesystem::path path;
  int pages = 0;
};

struct PlanFiles {
  std::filesystem::path json;
  std::vector<PacketFile> packets;  // the shop's own paper first; the other one for whoever prints elsewhere
};

// How they are called; none need be there.
PlanFiles plan_files(Paper own, const std::filesystem::path& folder);

//   document  of plan.json
//   tell      hears how many of the files are written, of how many; may be empty
//   errors    cannot_write; files that are written by then stay
Result<PlanFiles> write_plan(const FullPlan& plan, const std::string& document, const std::filesystem::path& folder,
                             const std::function<void(int, int)>& tell = {});

}  // namespace stickwright
