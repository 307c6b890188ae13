#include "metrology/half_sums.h"

#include <algorithm>
#include <cassert>

namespace stickwright {
namespace {

// The least and the most that i blocks of the set add up to.
struct Extremes {
  std::vector<std::int64_t> least{0}, most{0};
  explicit Extremes(const GaugeSet& set) {
    std::vector<std::int64_t> sizes;
    for (const GaugeBlock& b : set.blocks) sizes.push_back(b.size.v);
    std::sort(sizes.begin(), sizes.end());
    for (std::size_t i = 0; i < sizes.size(); ++i) {
      least.push_back(least.back() + sizes[i]);
      most.push_back(most.back() + sizes[sizes.size() - 1 - i]);
    }
  }
};

class Halves {
 public:
  Halves(const GaugeSet& set, int k, SumWindow window, Keep keep)
      : set_(set),
        k_(k),
        window_(window),
        keep_(keep),
        extremes_(set),
        after_(std::size_t(blocks_after(k)) + 1),
        spare_(after_.size()) {
    after_[0] = {HalfSum{}};
    choose_before(HalfSum{}, 0, 0);
    std::sort(before_.begin(), before_.end(),
              [](const HalfSum& a, const HalfSum& b) { return a.sum != b.sum ? a.sum < b.sum : a.block < b.block; });
  }

  const HalfList& before() const { return before_; }
  const HalfList& after() const { return after_.back(); }

  // From now on the blocks before the middle one all come before `middle`.
  void leave_out(std::size_t middle) {
    const int n = blocks_before(k_);
    if (n == 0) return;
    std::erase_if(before_, [&](const HalfSum& h) { return h.block[std::size_t(n - 1)] >= middle; });
  }

  // From now on `first` may be among the blocks after the middle one. Longer parts first: each is made of the shorter
  // ones as they were.
  std::int64_t let_in(std::size_t first) {
    std::int64_t work = 0;
    for (std::size_t n = after_.size() - 1; n > 0; --n) {
      put_in_front(first, n);
      work += static_cast<std::int64_t>(after_[n].size());
    }
    return work;
  }

 private:
  bool can_end_inside(std::int64_t sum, std::size_t blocks) const {
    const std::size_t rest = std::size_t(k_) - blocks;
    return sum + extremes_.least[rest] <= window_.high && sum + extremes_.most[rest] >= window_.low;
  }

  void choose_before(HalfSum part, std::size_t chosen, std::size_t from) {
    if (chosen == std::size_t(blocks_before(k_)) || chosen == part.block.size()) {  // a half holds no more than that
      if (can_end_inside(part.sum, chosen)) before_.push_back(part);
      return;
    }
    for (std::size_t i = from; i < set_.blocks.size(); ++i) {
      HalfSum longer = part;
      longer.sum += set_.blocks[i].size.v;
      longer.tolerance += static_cast<std::int32_t>(set_.blocks[i].tolerance.v);
      longer.block[chosen] = static_cast<std::uint8_t>(i);
      choose_before(longer, chosen + 1, i + 1);
    }
  }

  HalfSum with_front(const HalfSum& part, std::size_t first) const {
    const GaugeBlock& b = set_.blocks[first];
    return {part.sum + b.size.v,
            part.tolerance + static_cast<std::int32_t>(b.tolerance.v),
            {static_cast<std::uint8_t>(first), part.block[0], part.block[1], part.block[2]}};
  }

  // Both lists ascend, so one pass merges them. On a tie the newcomer wins: its first block is earlier in the set.
  void put_in_front(std::size_t first, std::size_t blocks) {
    const HalfList& old = after_[blocks];
    HalfList& merged = spare_[blocks];
    merged.clear();
    // Grown by doubling and kept for the length in question: fresh memory costs more than the merging.
    if (const std::size_t most = old.size() + after_[blocks - 1].size(); merged.capacity() < most)
      merged.reserve(2 * most);
    auto o = old.begin();
    for (const HalfSum& shorter : after_[blocks - 1]) {
      const HalfSum fresh = with_front(shorter, first);
      if (!can_end_inside(fresh.sum, blocks)) continue;
      while (o != old.end() && o->sum < fresh.sum) merged.push_back(*o++);
      if (keep_ == Keep::best_of_sum && o != old.end() && o->sum == fresh.sum) {
        if (o->tolerance < fresh.tolerance) continue;
        ++o;
      }
      merged.push_back(fresh);
    }
    merged.insert(merged.end(), o, old.end());
    after_[blocks].swap(merged);
  }

  const GaugeSet& set_;
  int k_;
  SumWindow window_;
  Keep keep_;
  Extremes extremes_;
  HalfList before_;
  std::vector<HalfList> after_;  // by number of blocks
  std::vector<HalfList> spare_;  // likewise
};

}  // namespace

bool for_each_middle(const GaugeSet& set, int k, SumWindow window, Keep keep, Steps& steps, const Join& join) {
  const std::size_t n = set.blocks.size();
  assert(k >= 1 && k <= kMostStackBlocks && n <= kMostGaugeBlocks);
  const Extremes whole(set);
  if (std::size_t(k) > n || whole.least[std::size_t(k)] > window.high || whole.most[std::size_t(k)] < window.low)
    return true;
  Halves halves(set, k, window, keep);
  for (std::size_t middle = n; middle-- > 0;) {
    halves.leave_out(middle);
    if (!halves.before().empty() && !halves.after().empty()) join(halves.before(), middle, halves.after());
    const std::int64_t work = halves.let_in(middle) + static_cast<std::int64_t>(halves.before().size());
    if (!steps.spend(work)) return false;
  }
  return true;
}

}  // namespace stickwright
