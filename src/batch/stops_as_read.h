// stops_as_read.h - what the test blocks in the batch's own ledger say of its stops as they stand.
#pragma once
#include <filesystem>
#include <vector>

#include "batch/plan.h"

namespace stickwright {

struct StopAsRead {
  std::size_t set_up = 0, stop = 0;  // index into BatchPlan::set_ups, SetUp::stops
  int readings = 0;                  // written since the last leaf was put under the stop
  Estimate error;                    // of the stop, mm along the axis; positive: too far from the blade
};

// The stops that were read since they stand as they do: what is likely of each, with all that was known before.
//   ledger   a file that does not exist says nothing
//   errors   those of the ledger
//   source   docs/derivations/correcting.md
Result<std::vector<StopAsRead>> stops_as_read(const BatchPlan& plan, const std::filesystem::path& ledger);

}  // namespace stickwright
