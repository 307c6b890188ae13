// bounds.h - what bounds the worst play from above: mixtures, matchings, and trying everything. Inside this room only.
#pragma once
#include <cstdint>
#include <vector>

#include "sorting/model.h"

namespace stickwright {

// Weights of the cuts that add up to one, and what an item of each class costs: a solution of the dual program.
struct Weighing {
  std::vector<std::vector<double>> weight;  // [design][cut], of the cuts that were known
  std::vector<double> rent;                 // [class], not negative
};

// Linear relaxation: every puzzle of a design gets the same fractions of items, so one puzzle a design is enough. Asks
// the oracles at the mixtures until nothing changes, or for that many rounds.
//   returns  no sorting has a better worst puzzle; at the least what an average puzzle would have by one cut
//   exact    each round's prices are made feasible and weighed again, so the bound holds whatever the solver answers
struct Pooled {
  double bound = 0;
  Weighing by;
};
Pooled pooled_bound(const SortModel& model, KnownPlays& plays, int rounds);

// What is lost against the pooled bound by putting an item of the class into that place of one puzzle, or by leaving it
// on the shelf. No loss is negative, and bound - worst play >= the sum of the losses of a sorting, so that a partial
// sorting that has lost too much need not be finished.
class Losses {
 public:
  Losses(const SortModel& model, const KnownPlays& plays, const Pooled& pooled);
  double in_place(std::size_t design, std::size_t place, int item_class) const {
    return in_place_[design][place][static_cast<std::size_t>(item_class)];
  }
  double on_shelf(int item_class) const { return on_shelf_[static_cast<std::size_t>(item_class)]; }

 private:
  std::vector<std::vector<std::vector<double>>> in_place_;
  std::vector<double> on_shelf_;
};

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

// Every sorting there is, less those that the cuts or the losses rule out.
//   more_than  only better sortings are looked for
//   returns    the best of them, empty when there is none; `most` is the worst play that is left to better, +infinity
//              when the nodes ran out
struct ExhaustLimits {
  double more_than = 0;
  std::int64_t nodes = 0;
};
SeemingBest exhaust(const SortModel& model, KnownPlays& plays, const Pooled& pooled, const ExhaustLimits& limits);

}  // namespace stickwright
