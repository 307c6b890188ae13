#include "sorting/sorting.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "sorting/bounds.h"
#include "sorting/exchange.h"

namespace stickwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr int kRuns = 6, kFreshRuns = 2;  // of the exchanges, from different seeds; the later ones go on from the best
constexpr double kWarmAgain = 0.05;       // of the warmth of a fresh run
constexpr int kRepairs = 12;              // of a run: exchanges again with the cuts that its answer brought up
constexpr double kRepairShare = 0.15;     // of the moves of a run
constexpr double kRepairWarm = 1e-3;
constexpr int kHalvings = 6;                      // of the span between worst play and bound
constexpr std::int64_t kMovesPerPair = 2000;      // of places: a small batch is soon tried out
constexpr std::int64_t kMostPlacesToTry = 1'000;  // one within another: beyond that it is hopeless and deep
constexpr int kMostPuzzles = 100'000;

std::optional<Problem> wrong_items(const SortProblem& problem) {
  std::map<int, std::size_t> length;
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    const SortItem& item = problem.items[i];
    const auto where = fmt::format("items[{}]", i);
    if (!std::all_of(item.off.begin(), item.off.end(), [](double v) { return std::isfinite(v); }))
      return Problem{"bad_item", where, "every deviation must be a finite number of millimeters.", ""};
    if (length.try_emplace(item.kind, item.off.size()).first->second != item.off.size())
      return Problem{"bad_item", where,
                     fmt::format("items of kind {} have {} deviations each, this one has {}.", item.kind,
                                 length[item.kind], item.off.size()),
                     ""};
  }
  return {};
}

std::optional<Problem> wrong_designs(const SortProblem& problem) {
  if (problem.designs.empty()) return Problem{"bad_design", "", "there is no puzzle to sort for.", ""};
  std::int64_t puzzles = 0;
  for (const SortDesign& d : problem.designs) {
    if (d.places.empty()) return Problem{"bad_design", d.name, "a puzzle needs a place at least.", ""};
    if (d.puzzles < 1) return Problem{"bad_design", d.name, "the number of puzzles must be 1 or more.", ""};
    if (!d.play) return Problem{"bad_design", d.name, "there is nobody to ask for the play.", ""};
    puzzles += d.puzzles;
  }
  if (puzzles > kMostPuzzles)
    return Problem{"bad_design", "", fmt::format("{} puzzles, {} at most.", puzzles, kMostPuzzles), ""};
  return {};
}

std::optional<Problem> too_few(const SortProblem& problem) {
  std::map<int, std::int64_t> missing;
  for (const SortDesign& d : problem.designs)
    for (const SortPlace& p : d.places) missing[p.kind] += d.puzzles;
  for (const SortItem& i : problem.items)
    if (const auto m = missing.find(i.kind); m != missing.end()) --m->second;
  std::string say;
  for (const auto& [kind, n] : missing)
    if (n > 0) say += fmt::format("{}{} more of kind {}", say.empty() ? "" : ", ", n, kind);
  if (say.empty()) return {};
  return Problem{"too_few", "", fmt::format("needed: {}. Measure more, or sort for fewer puzzles.", say), ""};
}

// Looks for better and better sortings and lower and lower bounds, cheapest means first, until they meet.
class Sorter {
 public:
  Sorter(const SortProblem& problem, const SortLimits& limits) : model_(problem), plays_(model_), limits_(limits) {}

  Result<Sorted> run() {
    keep_better(deal(model_));
    if (!plays_.problem()) pooled_ = pooled_bound(model_, plays_, limits_.pooled_rounds), lower(pooled_.bound);
    if (PairMatching::takes(model_, limits_.pairs)) {
      match_pairs();
    } else {
      exchange_items();
      if (goes_on() && places() <= kMostPlacesToTry) try_all();
    }
    if (plays_.problem()) return *plays_.problem();
    return sorted();
  }

 private:
  bool goes_on() const { return !plays_.problem() && worst_ < bound_ - kSortTolerance; }
  std::int64_t places() const {
    std::int64_t n = 0;
    for (const Filled& f : best_) n += static_cast<std::int64_t>(f.size());
    return n;
  }

  void lower(double bound) { bound_ = std::min(bound_, bound); }

  // Asks for the plays.   returns  the worst of them
  double keep_better(const FilledBatch& filled) {
    double worst = kInfinite;
    for (std::size_t k = 0; k < filled.size(); ++k)
      worst = std::min(worst, plays_.play(static_cast<std::size_t>(model_.design_of[k]), filled[k]));
    if (worst > worst_ || best_.empty()) worst_ = worst, best_ = filled;
    return worst;
  }

  double seeming_worst(const FilledBatch& filled) const {
    double worst = kInfinite;
    for (std::size_t k = 0; k < filled.size(); ++k)
      worst = std::min(worst, plays_.most(static_cast<std::size_t>(model_.design_of[k]), filled[k]));
    return worst;
  }

  void exchange_items() {
    const std::int64_t moves = std::min(limits_.moves, kMovesPerPair * places() * places()) / kRuns;
    const FilledBatch start = best_;
    for (int r = 0; r < kRuns && goes_on(); ++r) {
      const bool is_fresh = r < kFreshRuns;
      ExchangeLimits limits{bound_, moves, is_fresh ? 1 : kWarmAgain, static_cast<std::uint64_t>(r) + 1};
      FilledBatch filled = exchange(model_, plays_, is_fresh ? start : best_, limits);
      limits.moves = static_cast<std::int64_t>(kRepairShare * static_cast<double>(moves));
      limits.warm = kRepairWarm;
      for (int i = 0; i < kRepairs && goes_on(); ++i) {
        const double seems = seeming_worst(filled);
        if (keep_better(filled) >= seems - kSortTolerance) break;
        filled = exchange(model_, plays_, filled, limits);
      }
      if (goes_on()) keep_better(filled);
    }
  }

  // Every round asks for the plays of pairs that seemed good enough, so the rounds end.
  void match_pairs() {
    PairMatching pairs(model_, plays_);
    for (int r = 0; r < limits_.pair_rounds && goes_on(); ++r) {
      const SeemingBest best = pairs.next();
      lower(best.most);
      keep_better(best.filled);
    }
  }

  // First all that is better than the best; if that is too much, what is much better, which lowers the bound or finds
  // it.
  void try_all() {
    const bool proven = try_better_than(worst_ + kSortTolerance / 2, limits_.nodes / 2);
    double low = worst_;
    for (int i = 0; i < kHalvings && !proven && goes_on(); ++i) {
      low = std::max(low, worst_);
      const double middle = (low + bound_) / 2;
      if (!try_better_than(middle, limits_.nodes / (2 * kHalvings))) low = middle;
    }
  }

  // Returns whether all were tried.
  bool try_better_than(double more_than, std::int64_t nodes) {
    const SeemingBest best = exhaust(model_, plays_, pooled_, {more_than, nodes});
    nodes_ += best.nodes;
    lower(best.most);
    if (!best.filled.empty()) keep_better(best.filled);
    return best.most < kInfinite;
  }

  Sorted sorted() {
    Sorted s;
    s.worst = worst_;
    s.bound = std::max(bound_, worst_);
    s.verdict = s.worst >= s.bound - kSortTolerance ? Verdict::found : Verdict::stopped;
    s.oracle_calls = plays_.calls();
    s.nodes = nodes_;
    std::vector<std::size_t> given(model_.classes.size());
    for (std::size_t k = 0; k < best_.size(); ++k) {
      s.item_in.emplace_back();
      for (int c : best_[k]) {
        const auto at = static_cast<std::size_t>(c);
        s.item_in.back().push_back(model_.classes[at].items[given[at]++]);
      }
      s.play.push_back(plays_.play(static_cast<std::size_t>(model_.design_of[k]), best_[k]));
    }
    return s;
  }

  SortModel model_;
  KnownPlays plays_;
  SortLimits limits_;
  Pooled pooled_;
  FilledBatch best_;
  double worst_ = -kInfinite, bound_ = kInfinite;
  std::int64_t nodes_ = 0;
};

}  // namespace

Result<Sorted> sort_items(const SortProblem& problem, const SortLimits& limits) {
  if (auto p = wrong_items(problem)) return *p;
  if (auto p = wrong_designs(problem)) return *p;
  if (auto p = too_few(problem)) return *p;
  return Sorter(problem, limits).run();
}

}  // namespace stickwright
