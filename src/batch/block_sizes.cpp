#include "batch/block_sizes.h"

#include <algorithm>

#include "ledger/ledger.h"
#include "wood/species.h"

namespace stickwright {
namespace {

constexpr double kNoEffect = 1e-6;  // mm per mm: below it is rounding

std::string wood_of_reading(const SetUp& s, const Reading& r) {
  if (!r.wood.empty()) {
    const auto species = find_species(r.wood);
    return species ? std::string(species.value()->name) : r.wood;
  }
  return s.needed.size() == 1 ? s.needed.begin()->first : "";
}

// The readings of one set-up, put to its blocks.
class SetUpReader {
 public:
  SetUpReader(const BatchPlan& plan, const SetUp& s, Ledger& ledger, const SizeEffect& effect)
      : plan_(plan), s_(s), ledger_(ledger), effect_(effect) {}

  std::optional<Problem> run(BlockSizes& out) {
    if (auto problem = choose_stop()) return problem;
    for (const int side : {1, 2}) {
      auto readings = counting({s_.shape, 0, side});
      if (!readings) return readings.problem();
      any_ = any_ || !readings.value().empty();
      if (readings.value().empty() || effect_({s_.shape, 0, side}) <= kNoEffect) continue;
      read_.width[static_cast<std::size_t>(side - 1)] = true;
      for (const KeptReading& r : readings.value())
        if (SortedBlock* b = block_of(r, out)) b->width_off_mm[static_cast<std::size_t>(side - 1)] = width_off(r);
    }
    for (const KeptReading& r : of_stop_)
      if (SortedBlock* b = block_of(r, out)) b->off_mm = flats_off(r);
    if (read_.stop || read_.width[0] || read_.width[1])
      hand_in(out);
    else if (any_)
      out.no_matter.push_back(s_.shape);
    return {};
  }

 private:
  Result<std::vector<KeptReading>> counting(const BlockSize& size) {
    auto kept =
        ledger_.readings_of(set_up_id(plan_, s_), size.side > 0 ? 0 : static_cast<int>(size.stop) + 1, size.side);
    if (!kept) return kept.problem();
    std::vector<KeptReading> out = kept.take();
    std::erase_if(out, [](const KeptReading& r) { return !r.value(); });
    return out;
  }

  // Of the stops that blocks tell by their own faces.
  std::optional<Problem> choose_stop() {
    double most = kNoEffect;
    for (std::size_t k = 0; k < s_.tests.size(); ++k) {
      if (!s_.tests[k].test.extra.empty()) continue;
      auto here = counting({s_.shape, k, 0});
      if (!here) return here.problem();
      any_ = any_ || !here.value().empty();
      const double effect = here.value().empty() ? 0 : effect_({s_.shape, k, 0});
      if (effect <= most) continue;
      most = effect, read_.stop = k, of_stop_ = here.take();
    }
    return {};
  }

  // The block of a reading, made when it is the first; null when nobody knows which wood it is of.
  SortedBlock* block_of(const KeptReading& r, BlockSizes& out) {
    const std::string wood = wood_of_reading(s_, r.reading);
    if (!s_.needed.contains(wood)) {
      ++out.without_wood;
      return nullptr;
    }
    if (r.reading.block > 0) {
      SortedBlock& b = numbered_[wood][r.reading.block];
      b.shape = s_.shape, b.wood = wood, b.number = r.reading.block;
      return &b;
    }
    auto& nameless = nameless_[wood];
    nameless.push_back({s_.shape, wood, 0, r.id, {}, {}});
    return &nameless.back();
  }

  double flats_off(const KeptReading& r) const {
    return to_mm(*r.value()).v - to_mm(to_nm(s_.tests[*read_.stop].test.across_flats)).v;
  }
  double width_off(const KeptReading& r) const { return to_mm(*r.value()).v - plan_.batch.stick.v; }

  void hand_in(BlockSizes& out) {
    out.read[s_.shape] = read_;
    for (const auto& [wood, blocks] : numbered_)
      for (const auto& [number, b] : blocks) out.blocks[{s_.shape, wood}].push_back(b);
    for (const auto& [wood, blocks] : nameless_) {
      if (numbered_.contains(wood))
        out.without_number += static_cast<int>(blocks.size());
      else
        out.blocks[{s_.shape, wood}] = blocks;
    }
  }

  const BatchPlan& plan_;
  const SetUp& s_;
  Ledger& ledger_;
  const SizeEffect& effect_;
  SizesRead read_;
  bool any_ = false;
  std::vector<KeptReading> of_stop_;
  std::map<std::string, std::map<int, SortedBlock>> numbered_;
  std::map<std::string, std::vector<SortedBlock>> nameless_;
};

}  // namespace

Result<BlockSizes> read_block_sizes(const BatchPlan& plan, const std::filesystem::path& file,
                                    const SizeEffect& effect) {
  BlockSizes out;
  if (!std::filesystem::exists(file)) return out;
  auto ledger = Ledger::open(file);
  if (!ledger) return ledger.problem();
  Ledger open = ledger.take();
  for (const SetUp& s : plan.set_ups)
    if (auto problem = SetUpReader(plan, s, open, effect).run(out)) return *problem;
  return out;
}

}  // namespace stickwright
