#include "batch/stops_as_read.h"

#include <fmt/core.h>

#include <algorithm>

#include "ledger/ledger.h"
#include "truing/likely.h"

namespace stickwright {
namespace {

// The number of the last leaf under the stop, 0 when there is none: what was read before it was read of another stop.
EntryId last_leaf(const std::vector<KeptLeaf>& leaves, const std::string& set_up, int stop) {
  EntryId last = 0;
  for (const KeptLeaf& l : leaves)
    if (!l.withdrawn && l.leaf.set_up == set_up && l.leaf.stop == stop) last = std::max(last, l.id);
  return last;
}

struct ReadStop {
  std::size_t set_up = 0, stop = 0;
  Measured measured;
};

Result<std::vector<ReadStop>> read_stops(Ledger& ledger, const BatchPlan& plan) {
  const auto leaves = ledger.leaves_applied();
  if (!leaves) return leaves.problem();
  std::vector<ReadStop> out;
  for (std::size_t s = 0; s < plan.set_ups.size(); ++s)
    for (std::size_t k = 0; k < plan.set_ups[s].tests.size(); ++k) {
      const std::string id = set_up_id(plan, plan.set_ups[s]);
      const int stop = static_cast<int>(k) + 1;
      const auto kept = ledger.readings_of(id, stop);
      if (!kept) return kept.problem();
      const EntryId since = last_leaf(leaves.value(), id, stop);
      ReadStop read{s, k, {&plan.set_ups[s].tests[k].prediction, 0, 0}};
      for (const KeptReading& r : kept.value())
        if (r.value() && r.id > since) read.measured.mean_mm += to_mm(*r.value()).v, ++read.measured.readings;
      if (read.measured.readings == 0) continue;
      read.measured.mean_mm /= read.measured.readings;
      out.push_back(read);
    }
  return out;
}

}  // namespace

Result<std::vector<StopAsRead>> stops_as_read(const BatchPlan& plan, const std::filesystem::path& file) {
  if (!std::filesystem::exists(file)) return std::vector<StopAsRead>{};
  auto ledger = Ledger::open(file);
  if (!ledger) return ledger.problem();
  Ledger open = ledger.take();
  const auto read = read_stops(open, plan);
  if (!read) return read.problem();
  std::vector<StopAsRead> out;
  for (const ReadStop& of : read.value()) {
    // The stop in question first, then all others.
    std::vector<Measured> measured{of.measured};
    for (const ReadStop& other : read.value())
      if (other.set_up != of.set_up || other.stop != of.stop) measured.push_back(other.measured);
    const Likely likely = likely_causes(measured);
    Estimate e;
    e.value = likely.stop, e.u = likely.u_stop;
    e.source = fmt::format("{} test block{} in the ledger", of.measured.readings, of.measured.readings == 1 ? "" : "s");
    out.push_back({of.set_up, of.stop, of.measured.readings, std::move(e)});
  }
  return out;
}

}  // namespace stickwright
