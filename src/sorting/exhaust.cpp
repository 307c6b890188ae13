#include <algorithm>
#include <cmath>
#include <limits>

#include "sorting/bounds.h"

namespace stickwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr double kRounding = 1e-10;  // mm: sums of losses and of cuts

// Takes the item that is hardest to place and tries all puzzles that could have it: with every puzzle the next such
// item is settled, so puzzles alike are never tried in two orders.
class Exhaustion {
 public:
  Exhaustion(const SortModel& model, KnownPlays& plays, const Pooled& pooled, const ExhaustLimits& limits)
      : model_(model),
        plays_(plays),
        losses_(model, plays, pooled),
        bound_(pooled.bound),
        more_than_(limits.more_than),
        nodes_(limits.nodes) {
    for (const ItemClass& c : model.classes) left_.push_back(c.count());
    for (const SortDesign& d : model.problem.designs) {
      puzzles_left_.push_back(d.puzzles);
      for (const SortPlace& p : d.places) spare_[p.kind] -= d.puzzles;
    }
    for (auto& [kind, spare] : spare_)
      for (int c : model.of_kind.at(kind)) spare += count(c);
    for (const auto& [kind, spare] : spare_) rank(kind);
    standing_.resize(puzzles_left_.size());
  }

  SeemingBest run() {
    settle(0);
    if (plays_.problem()) return {};
    return {best_, nodes_ > 0 ? more_than_ : kInfinite, 0};
  }
  std::int64_t nodes_left() const { return nodes_; }

 private:
  int& count(int c) { return left_[static_cast<std::size_t>(c)]; }

  // Kinds without spares first, the farthest from the mean of their kind first.
  void rank(int kind) {
    const std::vector<int>& classes = model_.of_kind.at(kind);
    std::vector<double> mean(model_.classes[static_cast<std::size_t>(classes.front())].off.size());
    for (int c : classes)
      for (std::size_t i = 0; i < mean.size(); ++i)
        mean[i] += model_.classes[static_cast<std::size_t>(c)].off[i] / static_cast<double>(classes.size());
    std::vector<std::pair<double, int>> far;
    for (int c : classes) {
      double sum = 0;
      for (std::size_t i = 0; i < mean.size(); ++i)
        sum += std::abs(model_.classes[static_cast<std::size_t>(c)].off[i] - mean[i]);
      far.emplace_back(-sum, c);
    }
    std::sort(far.begin(), far.end());
    for (const auto& f : far) ranked_[kind].push_back(f.second);
  }

  bool gives_up() { return nodes_ <= 0 || plays_.problem(); }
  bool has_lost_too_much(double lost) const { return bound_ - lost < more_than_ - kRounding; }

  bool is_needed(int kind) const {
    for (std::size_t d = 0; d < puzzles_left_.size(); ++d)
      for (const SortPlace& p : model_.design(d).places)
        if (puzzles_left_[d] > 0 && p.kind == kind) return true;
    return false;
  }

  // -1: none is needed.
  int hardest() {
    int best = -1, least_spare = std::numeric_limits<int>::max();
    for (const auto& [kind, spare] : spare_) {
      if (spare >= least_spare || !is_needed(kind)) continue;
      for (int c : ranked_[kind])
        if (count(c) > 0) {
          best = c, least_spare = spare;
          break;
        }
    }
    return best;
  }

  void settle(double lost) {
    const int c = hardest();
    if (c < 0) return keep();
    for (std::size_t d = 0; d < puzzles_left_.size(); ++d)
      for (std::size_t p = 0; p < model_.design(d).places.size(); ++p)
        if (puzzles_left_[d] > 0 && model_.design(d).places[p].kind == model_.classes[static_cast<std::size_t>(c)].kind)
          Puzzle(*this, d, p).fill(c, lost);
    shelve(c, lost);
  }

  // No further puzzle gets an item of that class.
  void shelve(int c, double lost) {
    const int n = count(c);
    int& spare = spare_[model_.classes[static_cast<std::size_t>(c)].kind];
    lost += n * losses_.on_shelf(c);
    if (spare < n || gives_up() || has_lost_too_much(lost)) return;
    spare -= n, count(c) = 0;
    settle(lost);
    spare += n, count(c) = n;
  }

  void keep() {
    best_.clear();
    for (const FilledBatch& of_design : standing_) best_.insert(best_.end(), of_design.begin(), of_design.end());
    double worst = kInfinite;
    for (std::size_t k = 0; k < best_.size(); ++k)
      worst = std::min(worst, plays_.play(static_cast<std::size_t>(model_.design_of[k]), best_[k]));
    more_than_ = worst + kSortTolerance / 2;
  }

  // The places of one puzzle, one after another, the place of the item to settle first.
  class Puzzle {
   public:
    Puzzle(Exhaustion& all, std::size_t design, std::size_t first) : all_(all), design_(design), order_{first} {
      const std::vector<SortPlace>& places = all.model_.design(design).places;
      for (std::size_t p = 0; p < places.size(); ++p)
        if (p != first) order_.push_back(p);
      cuts_ = all.plays_.cuts(design);
      filled_.resize(places.size());
      value_.assign(places.size() + 1, std::vector<double>(cuts_));
      rest_ = value_;
      for (std::size_t j = 0; j < cuts_; ++j) value_[0][j] = all.plays_.constant(design, j);
      for (std::size_t n = places.size(); n-- > 1;) add_best(n);
    }

    void fill(int c, double lost) {
      --all_.puzzles_left_[design_];
      try_class(0, c, lost);
      ++all_.puzzles_left_[design_];
    }

   private:
    // rest_[n]: the most that the places from the n-th on can add to each cut.
    void add_best(std::size_t n) {
      std::vector<double> best(cuts_, -kInfinite);
      for (int c : all_.model_.classes_for(all_.model_.design(design_).places[order_[n]])) {
        if (all_.count(c) == 0) continue;
        const std::vector<double>& adds = all_.plays_.adds(design_, order_[n], c);
        for (std::size_t j = 0; j < cuts_; ++j) best[j] = std::max(best[j], adds[j]);
      }
      for (std::size_t j = 0; j < cuts_; ++j) rest_[n][j] = rest_[n + 1][j] + best[j];
    }

    void try_class(std::size_t n, int c, double lost) {
      if (all_.gives_up()) return;
      --all_.nodes_;
      lost += all_.losses_.in_place(design_, order_[n], c);
      if (all_.has_lost_too_much(lost) || !adds_enough(n, c)) return;
      filled_[order_[n]] = c;
      --all_.count(c);
      next_place(n + 1, lost);
      ++all_.count(c);
    }

    bool adds_enough(std::size_t n, int c) {
      const std::vector<double>& adds = all_.plays_.adds(design_, order_[n], c);
      double least = kInfinite;
      for (std::size_t j = 0; j < cuts_; ++j) {
        value_[n + 1][j] = value_[n][j] + adds[j];
        least = std::min(least, value_[n + 1][j] + rest_[n + 1][j]);
      }
      return least >= all_.more_than_ - kRounding;
    }

    void next_place(std::size_t n, double lost) {
      if (n == order_.size()) return finish(lost);
      for (int c : all_.model_.classes_for(all_.model_.design(design_).places[order_[n]]))
        if (all_.count(c) > 0) try_class(n, c, lost);
    }

    void finish(double lost) {
      if (all_.plays_.play(design_, filled_) < all_.more_than_) return;
      all_.standing_[design_].push_back(filled_);
      all_.settle(lost);
      all_.standing_[design_].pop_back();
    }

    Exhaustion& all_;
    std::size_t design_;
    std::vector<std::size_t> order_;
    std::size_t cuts_ = 0;
    Filled filled_;
    std::vector<std::vector<double>> value_, rest_;  // [places filled][cut]
  };

  const SortModel& model_;
  KnownPlays& plays_;
  Losses losses_;
  double bound_, more_than_;
  std::int64_t nodes_;
  std::vector<int> left_, puzzles_left_;  // by class, by design
  std::map<int, int> spare_;              // by kind, of those that a place takes
  std::map<int, std::vector<int>> ranked_;
  std::vector<FilledBatch> standing_;  // by design
  FilledBatch best_;
};

}  // namespace

SeemingBest exhaust(const SortModel& model, KnownPlays& plays, const Pooled& pooled, const ExhaustLimits& limits) {
  Exhaustion e(model, plays, pooled, limits);
  SeemingBest best = e.run();
  best.nodes = limits.nodes - e.nodes_left();
  return best;
}

}  // namespace stickwright
