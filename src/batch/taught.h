// taught.h - what the ledgers of this batch and of earlier ones teach about the saw.
#pragma once
#include <filesystem>
#include <vector>

#include "batch/known_saw.h"
#include "batch/set_up.h"

namespace stickwright {

// A stop by the name of its set-up, and how its test tells it: what a reading needs to speak of the saw.
struct TaughtStop {
  std::string set_up;  // id
  int stop = 1;
  double per_stop = 0;   // mm across flats per mm along the axis
  double u_reading = 0;  // mm
};

// The latest truing that was not withdrawn; how much one block differs from the next beyond what the caliper does, over
// all stops that are known here, pooled. Readings before and after a leaf was put under a stop are apart.
//   files    ledgers; one that does not exist teaches nothing
//   errors   those of the ledger
//   assumes  at least eight differences between readings; fewer teach nothing
Result<Taught> taught_by(const std::vector<std::filesystem::path>& files, const std::vector<TaughtStop>& stops);

}  // namespace stickwright
