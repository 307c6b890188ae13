#include "fit/tolerances.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace stickwright {
namespace {

constexpr double kNoInfluence = 1e-6;      // mm of play per mm: less is none
constexpr double kToleranceWithin = 0.02;  // of itself: how near the search comes

// The mean square of the play's slope with the stops of a shape, and how many they are.
struct Influences {
  double square = 0;
  int stops = 0;
};

std::map<int, Influences> influences_of(const PuzzlePlays& plays, const std::vector<Dimension>& dimensions,
                                        const std::vector<double>& around, std::int64_t samples) {
  std::map<int, Influences> out;
  for (std::size_t d = 0; d < dimensions.size(); ++d) {
    if (dimensions[d].size_of != SizeOf::stop) continue;
    const std::vector<double> slopes = slopes_of_plays(plays, dimensions, d, around, samples);
    double square = 0;
    for (double slope : slopes) square += slope * slope;
    Influences& of = out[dimensions[d].shape];
    of.square += square / static_cast<double>(slopes.size());
    ++of.stops;
  }
  return out;
}

// Puzzles whose stops are off by what a tolerance allows instead of what is known of them.
class Trial {
 public:
  Trial(const PuzzlePlays& plays, const PuzzleErrors& errors, const std::vector<Dimension>& dimensions,
        const std::vector<double>& around, const PlayWindow& window)
      : plays_(plays), errors_(errors), dimensions_(dimensions), around_(around), window_(window) {}

  PlayTally run(const std::map<int, double>& u_by_shape, std::int64_t samples) const {
    const std::size_t lanes = plays_.draws().lanes();
    PlayTally tally(window_, plays_.draws().copies());
    plays_.run(
        samples, [&](std::uint64_t, std::span<const double> some) { tally.add(some); },
        [&](std::uint64_t bunch, std::span<double> values) {
          for (const StopNumber& s : errors_.stops)
            spread(values.subspan(static_cast<std::size_t>(s.number) * lanes, lanes), s, u_by_shape.at(s.shape));
          resized(dimensions_, around_, lanes)(bunch, values);
        });
    return tally;
  }

 private:
  // The same draws, another spread, about no error.
  void spread(std::span<double> values, const StopNumber& s, double u) const {
    const Estimate& known = errors_.numbers[static_cast<std::size_t>(s.number) - 1].off;
    for (double& v : values) v = known.u > 0 ? (v - known.value) / known.u * u : 0;
  }

  const PuzzlePlays& plays_;
  const PuzzleErrors& errors_;
  const std::vector<Dimension>& dimensions_;
  const std::vector<double>& around_;
  const PlayWindow& window_;
};

}  // namespace

Tolerances tolerances_for(const PuzzleErrors& errors, const PuzzlePlays& plays,
                          const std::vector<Dimension>& dimensions, const std::vector<double>& around,
                          const PlayWindow& window, double chance, std::int64_t samples) {
  const std::map<int, Influences> influences = influences_of(plays, dimensions, around, samples);
  const Trial trial(plays, errors, dimensions, around, window);
  // Least sum of stops / u under sum of square * u^2 = given: u goes with the cube root of stops / square.
  const auto scaled = [&](double k) {
    std::map<int, double> u;
    for (const auto& [shape, of] : influences)
      u[shape] =
          std::min(kLooseTolerance / 2, of.square < kNoInfluence ? INFINITY : k * std::cbrt(of.stops / of.square));
    return u;
  };
  Tolerances out;
  out.closes = trial.run(scaled(0), samples).closes();
  out.reachable = out.closes.share >= chance;
  // Keeps what the loosest stops do that are good enough.
  const auto take = [&](double k) {
    const ShareFound closes = trial.run(scaled(k), samples).closes();
    if (closes.share >= chance) out.closes = closes;
    return closes.share >= chance;
  };
  double low = 0, high = kLooseTolerance;
  if (out.reachable && take(high)) low = high;
  while (out.reachable && high - low > kToleranceWithin * high && high > 1e-5) {
    const double middle = (low + high) / 2;
    (take(middle) ? low : high) = middle;
  }
  for (const auto& [shape, u] : scaled(low)) out.needed.push_back({shape, out.reachable ? 2 * u : 0});
  return out;
}

}  // namespace stickwright
