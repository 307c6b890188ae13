// bounds.h - the three relaxations that bound the worst play from above. Inside this room only.
#pragma once
#include <cstdint>

#include "sorting/model.h"

namespace stickwright {

// Linear relaxation: every puzzle of a design gets the same fractions of items, so one puzzle a design is enough. Asks
// the oracles at the mixtures until nothing changes, or for that many rounds.
//   returns  no sorting has a better worst puzzle; at the least what an average puzzle would have by one cut
//   exact    each round's prices are made feasible and weighed again, so the bound holds whatever the solver answers
double pooled_bound(const SortModel& model, KnownPlays& plays, int rounds);

// A sorting that is best by what is known of the plays, and how good it seems.
struct SeemingBest {
  FilledBatch filled;  // empty: none was found
  double most = 0;     // no sorting has a better worst puzzle; +infinity when that is not proven
  std::int64_t nodes = 0;
};

// One design, two places of two kinds: the greatest threshold above which the pairs still match. Keeps what it learned
// between the rounds.
class PairMatching {
 public:
  static bool takes(const SortModel& model, std::size_t most_pairs);
  PairMatching(const SortModel& model, KnownPlays& plays);
  SeemingBest next();

 private:
  void learn();
  bool matches(double threshold);

  const SortModel& model_;
  KnownPlays& plays_;
  std::vector<int> left_, right_;  // class of each item, items of a kind one by one
  std::vector<double> most_;       // [left][right], by the cuts that were read
  std::size_t read_ = 0;
  std::vector<int> partner_;  // of each left item; -1: none
};

// Integer program over all puzzles with the known cuts, puzzles of a design in order.
//   more_than  only better sortings are looked for: none left is proven by `most` = more_than
struct WholeLimits {
  double more_than = 0, bound = 0;
  int nodes = 0;
};
std::size_t whole_columns(const SortModel& model);
SeemingBest fill_whole(const SortModel& model, const KnownPlays& plays, const WholeLimits& limits);

}  // namespace stickwright
