#include "serve/saw_rule.h"

#include <fmt/core.h>

#include <map>
#include <mutex>
#include <tuple>

#include "batch/set_up.h"
#include "saw/forward.h"

namespace stickwright {
namespace {

bool has_program(const Block& block, const PlanLimits& limits) {
  using Key = std::tuple<std::string, Hand, double, bool>;
  constexpr std::size_t kMostKept = 5000;
  static std::mutex lock;
  static std::map<Key, bool> kept;
  const Key key = {block.shape, block.hand, limits.closest_stop, limits.square_stops};
  {
    const std::scoped_lock hold(lock);
    if (const auto at = kept.find(key); at != kept.end()) return at->second;
  }
  const bool has = plan_cuts(block, limits).has_value();
  const std::scoped_lock hold(lock);
  if (kept.size() >= kMostKept) kept.clear();
  kept.emplace(key, has);
  return has;
}

}  // namespace

Result<SawRule> saw_rule_of(const Folder& folder, const std::string& name) {
  if (name.empty()) return SawRule{};
  const auto file = folder.file(name);
  if (!file) return file.problem();
  const auto batch = load_batch(file.value());
  if (!batch) return batch.problem();
  const Batch& b = batch.value();
  return SawRule{plan_limits(b), b.stick, b.shop.sled.closest_stop, unit_mm(b.stick)};
}

std::string why_not_sawn(const Block& block, const SawRule& rule) {
  if (block.stick_axes.empty()) return fmt::format("a {} fits into no stick: it cannot be sawn.", block.full_name());
  if (has_program(block, rule.limits)) return "";
  if (!has_program(block, {}))
    return fmt::format("no order of miter cuts makes a {} from one stick.", block.full_name());
  if (!rule.limits.square_stops && has_program(block, {.closest_stop = rule.limits.closest_stop}))
    return fmt::format("a {} needs a square stop, and the shop file lists none.", block.full_name());
  return fmt::format(
      "every way to cut a {} brings the blade nearer to the stop than the {:.4g} mm that the shop file asks for "
      "(sled.closest_stop), with a stick of {:.4g} mm. A larger stick helps.",
      block.full_name(), rule.closest_stop.v, rule.stick.value_or(Mm{}).v);
}

}  // namespace stickwright
