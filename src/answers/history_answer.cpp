#include "answers/history_answer.h"

#include <map>
#include <set>
#include <tuple>

namespace stickwright {
namespace {

// Which stops were asked for.
Result<std::vector<StopPlace>> places_asked(const BatchPlan& plan, const std::string& set_up, int stop) {
  std::vector<StopPlace> out;
  std::string only;
  if (!set_up.empty()) {
    const auto place = find_stop(plan, set_up, stop);
    if (!place) return place.problem();
    only = place.value().id;
  }
  for (const StopPlace& p : all_places(plan))
    if ((only.empty() || p.id == only) && (stop == 0 || p.number() == stop)) out.push_back(p);
  return out;
}

std::vector<GoneReadings> readings_of_no_stop(const std::vector<KeptReading>& kept, const BatchPlan& plan) {
  using Size = std::tuple<std::string, int, int>;
  std::set<Size> known;
  for (const StopPlace& p : all_places(plan)) known.insert({p.id, p.number(), p.side});
  std::map<Size, std::size_t> counts;
  for (const KeptReading& k : kept) {
    const Size size{k.reading.set_up, k.reading.stop, k.reading.side};
    if (!known.contains(size)) ++counts[size];
  }
  std::vector<GoneReadings> out;
  for (const auto& [size, count] : counts)
    out.push_back({std::get<0>(size), std::get<1>(size), std::get<2>(size), count});
  return out;
}

}  // namespace

Result<LedgerHistory> history_answer(const BatchPlan& plan, const std::filesystem::path& file,
                                     const std::string& set_up, int stop) {
  const auto places = places_asked(plan, set_up, stop);
  if (!places) return places.problem();
  LedgerHistory h;
  std::error_code error;
  if (!std::filesystem::exists(file, error)) return h;
  auto opened = Ledger::open(file);
  if (!opened) return opened.problem();
  Ledger ledger = opened.take();
  h.ledger = file;
  for (const StopPlace& p : places.value()) {
    auto s = readings_at(ledger, plan, p);
    if (!s) return s.problem();
    if (!s.value().kept.empty()) h.stops.push_back(s.take());
  }
  if (!set_up.empty()) return h;
  const auto all = ledger.readings();
  if (!all) return all.problem();
  h.gone = readings_of_no_stop(all.value(), plan);
  return h;
}

}  // namespace stickwright
