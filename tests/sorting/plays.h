// plays.h - concave plays to sort by, for the tests of the room `sorting`.
#pragma once
#include <cmath>
#include <cstdint>
#include <random>
#include <vector>

#include "sorting/sorting.h"

namespace stickwright {

// Uniform in [0, 1); the same numbers on every machine.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : random_(seed) {}
  double share() { return static_cast<double>(random_() >> 11) * 0x1p-53; }
  double between(double low, double high) { return low + (high - low) * share(); }
  int below(int n) { return static_cast<int>(random_() % static_cast<std::uint64_t>(n)); }
  // Twelve dice less six: close to normal. Rounded to micrometers.
  double deviation(double sd) {
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += share();
    return std::round(sum * sd * 1e3) * 1e-3;
  }

 private:
  std::mt19937_64 random_;
};

inline double value_at(const PlayCut& cut, const std::vector<std::vector<double>>& off) {
  double v = cut.constant;
  for (std::size_t p = 0; p < off.size(); ++p)
    for (std::size_t i = 0; i < off[p].size(); ++i) v += cut.slope[p][i] * off[p][i];
  return v;
}

inline PlayCut lowest_of(const std::vector<PlayCut>& cuts, const std::vector<std::vector<double>>& off) {
  const PlayCut* lowest = &cuts.front();
  double least = value_at(*lowest, off);
  for (const PlayCut& c : cuts)
    if (const double v = value_at(c, off); v < least) lowest = &c, least = v;
  return *lowest;
}

inline PlayOracle least_of(std::vector<PlayCut> cuts) {
  return [cuts = std::move(cuts)](const std::vector<std::vector<double>>& off) { return lowest_of(cuts, off); };
}

// Random cuts over these places; `lengths[kind]` deviations each.
inline std::vector<PlayCut> random_cuts(Dice& dice, const std::vector<SortPlace>& places,
                                        const std::vector<int>& lengths, int count) {
  std::vector<PlayCut> cuts;
  for (int j = 0; j < count; ++j) {
    PlayCut c{dice.between(0, 0.02), {}};
    for (const SortPlace& p : places) {
      c.slope.emplace_back();
      for (int i = 0; i < lengths[static_cast<std::size_t>(p.kind)]; ++i) c.slope.back().push_back(dice.between(-1, 1));
    }
    cuts.push_back(std::move(c));
  }
  return cuts;
}

}  // namespace stickwright
