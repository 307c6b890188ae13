// bits.h - a fixed number of machine words as a set of small whole numbers.
#pragma once
#include <array>
#include <bit>
#include <cstdint>

namespace stickwright {

template <int W>
struct Bits {
  std::array<std::uint64_t, W> word{};

  void set(int i) { word[i >> 6] |= std::uint64_t{1} << (i & 63); }
  bool has(int i) const { return word[i >> 6] >> (i & 63) & 1; }
  bool meets(const Bits& o) const {
    std::uint64_t any = 0;
    for (int k = 0; k < W; ++k) any |= word[k] & o.word[k];
    return any != 0;
  }
  bool holds(const Bits& o) const {
    std::uint64_t missing = 0;
    for (int k = 0; k < W; ++k) missing |= o.word[k] & ~word[k];
    return missing == 0;
  }
  bool empty() const {
    std::uint64_t any = 0;
    for (int k = 0; k < W; ++k) any |= word[k];
    return any == 0;
  }
  int first() const {  // of a set that is not empty
    for (int k = 0; k < W; ++k)
      if (word[k]) return 64 * k + std::countr_zero(word[k]);
    return 64 * W;
  }
  int count() const {
    int n = 0;
    for (int k = 0; k < W; ++k) n += std::popcount(word[k]);
    return n;
  }
  Bits& operator|=(const Bits& o) {
    for (int k = 0; k < W; ++k) word[k] |= o.word[k];
    return *this;
  }
  Bits& operator&=(const Bits& o) {
    for (int k = 0; k < W; ++k) word[k] &= o.word[k];
    return *this;
  }
  // Takes the members of o away.
  Bits& operator-=(const Bits& o) {
    for (int k = 0; k < W; ++k) word[k] &= ~o.word[k];
    return *this;
  }
  friend Bits operator|(Bits a, const Bits& b) { return a |= b; }
  friend Bits operator&(Bits a, const Bits& b) { return a &= b; }
  friend Bits operator-(Bits a, const Bits& b) { return a -= b; }
  friend bool operator==(const Bits&, const Bits&) = default;
};

// How many sets hold each member, for all members at once: digit k of the counts stands in plane k. Counts beyond 15
// stay at 15.
template <int W>
class Tally {
 public:
  void add(Bits<W> set) {
    for (auto& plane : planes_) {
      const Bits<W> carry = plane & set;
      for (int k = 0; k < W; ++k) plane.word[k] ^= set.word[k];
      set = carry;
    }
    for (auto& plane : planes_) plane |= set;
  }
  // Of `among` (not empty), the members with the least count, and that count.
  Bits<W> rarest(Bits<W> among, int* count) const {
    *count = 0;
    for (int k = 3; k >= 0; --k) {
      const Bits<W> without = among - planes_[k];
      if (without.empty())
        *count += 1 << k;
      else
        among = without;
    }
    return among;
  }

 private:
  std::array<Bits<W>, 4> planes_{};
};

}  // namespace stickwright
