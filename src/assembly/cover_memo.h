// cover_memo.h - what is known of remainders: equal ones are met again and again when pieces repeat.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "assembly/bits.h"

namespace stickwright {

// Whole keys are kept and compared, so an answer is never that of another remainder. When the table is full, newer
// entries take the place of older ones.
template <int W>
class CoverMemo {
 public:
  static constexpr std::size_t kMostBytes = std::size_t{1} << 26;

  void clear() {
    slots_.assign(kFirstSlots, {});
    filled_ = 0;
  }

  std::optional<std::int64_t> find(const Bits<W>& used, std::uint64_t left) const {
    const Slot& s = slots_[place(used, left)];
    if (s.count < 0 || s.left != left || !(s.used == used)) return std::nullopt;
    return s.count;
  }

  void note(const Bits<W>& used, std::uint64_t left, std::int64_t count) {
    if (2 * filled_ > slots_.size() && 2 * slots_.size() * sizeof(Slot) <= kMostBytes) grow();
    Slot& s = slots_[place(used, left)];
    filled_ += s.count < 0;
    s = {used, left, count};
  }

 private:
  static constexpr std::size_t kFirstSlots = 1 << 6;
  struct Slot {
    Bits<W> used{};
    std::uint64_t left = 0;
    std::int64_t count = -1;  // -1: empty
  };

  std::size_t place(const Bits<W>& used, std::uint64_t left) const {
    std::uint64_t h = left * 0x9E3779B97F4A7C15u;
    for (std::uint64_t w : used.word) h = (h ^ w) * 0xD6E8FEB86659FD93u, h ^= h >> 32;
    return h & (slots_.size() - 1);
  }

  void grow() {
    std::vector<Slot> old(2 * slots_.size());
    old.swap(slots_);
    for (const Slot& s : old)
      if (s.count >= 0) slots_[place(s.used, s.left)] = s;
  }

  std::vector<Slot> slots_ = std::vector<Slot>(kFirstSlots);
  std::size_t filled_ = 0;
};

}  // namespace stickwright
