// saw_rule.h - whether the saw can make a block: by the real cut programs, with the limits of a shop when it is known.
// Private to this room.
#pragma once
#include <optional>
#include <string>

#include "saw/program.h"
#include "serve/folder.h"
#include "shop/batch.h"

namespace stickwright {

struct SawRule {
  PlanLimits limits;              // without a batch: none
  std::optional<Mm> stick;        // of the batch
  Mm closest_stop;                // of its shop
  std::optional<double> unit_mm;  // of a lattice unit
};

// Of a batch file in the folder; of none when `batch` is "".   errors   of Folder::file and load_batch
Result<SawRule> saw_rule_of(const Folder& folder, const std::string& batch);

// "" when there is a cut program; else why there is none, and what would help. Programs are kept, so that asking again
// takes no time. Safe from several threads.
//   block    one of nameable_blocks()
std::string why_not_sawn(const Block& block, const SawRule& rule);

}  // namespace stickwright
