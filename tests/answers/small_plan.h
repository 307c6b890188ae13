// small_plan.h - the plan of one design, and a folder for its ledger.
#pragma once
#include "batch/plan.h"
#include "ledger/ledger.h"
#include "support/small_batch.h"

namespace stickwright {

// Planned once: its set-ups are the rhombic pyramid block and the squat octahedron, all of one wood.
inline const BatchPlan& small_plan() {
  static const BatchPlan plan = [] {
    const Scratch s("small_plan");
    return plan_set_ups(small_batch(s)).take();
  }();
  return plan;
}

struct LedgerFolder {
  Scratch s{"answers"};
  std::filesystem::path ledger = s.path / "batch.ledger";
  bool exists() const { return std::filesystem::exists(ledger); }
  Ledger open() const { return Ledger::open(ledger).take(); }
};

}  // namespace stickwright
