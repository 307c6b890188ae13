// exchange.h - better sortings by exchanging items. Inside this room only.
#pragma once
#include <cstdint>

#include "sorting/model.h"

namespace stickwright {

// The items of each kind in order of their deviations, dealt to the places one after another: like goes with like.
FilledBatch deal(const SortModel& model);

// Exchanges two items between places, or a place and the shelf, at random and ever more choosily, weighing by the known
// cuts how far each puzzle falls short of `target`; then only exchanges that better the worst puzzles.
//   returns  a sorting that by the known cuts no single exchange betters, unless the moves ran out
//   exact    the same question gets the same answer: the seed is the caller's
struct ExchangeLimits {
  double target = 0;
  std::int64_t moves = 0;
  double warm = 1;  // share of the change by an exchange at random that is put up with at first
  std::uint64_t seed = 1;
};
FilledBatch exchange(const SortModel& model, const KnownPlays& plays, const FilledBatch& start,
                     const ExchangeLimits& limits);

}  // namespace stickwright
