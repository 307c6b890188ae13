#include "fit/season_plays.h"

#include <cmath>

namespace stickwright {

PuzzleErrors swollen(PuzzleErrors errors, double percent) {
  const auto swell = [&](int number, const Estimate& per_percent) {
    Estimate& off = errors.numbers[static_cast<std::size_t>(number) - 1].off;
    off = per_percent;
    off.value *= percent;
    off.u *= std::abs(percent);
  };
  for (const SwellingNumbers& s : errors.swelling) swell(s.across, s.movement.across), swell(s.along, s.movement.along);
  return errors;
}

}  // namespace stickwright
