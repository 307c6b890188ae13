// The checker of sortings. It shares no code with the search.
#include <algorithm>
#include <cmath>
#include <set>

#include "sorting/sorting.h"

namespace stickwright {
namespace {

// The plays are recomputed in another order of summation than the search may use.
constexpr double kRounding = 1e-9;

bool is_filled(const SortProblem& problem, const SortDesign& design, const std::vector<int>& items,
               std::set<int>& used) {
  if (items.size() != design.places.size()) return false;
  for (std::size_t p = 0; p < items.size(); ++p) {
    if (items[p] < 0 || items[p] >= static_cast<int>(problem.items.size())) return false;
    if (problem.items[static_cast<std::size_t>(items[p])].kind != design.places[p].kind) return false;
    if (!used.insert(items[p]).second) return false;
  }
  return true;
}

double play_of(const SortProblem& problem, const SortDesign& design, const std::vector<int>& items) {
  std::vector<std::vector<double>> off;
  for (int i : items) off.push_back(problem.items[static_cast<std::size_t>(i)].off);
  const PlayCut cut = design.play(off);
  double v = cut.constant;
  for (std::size_t p = 0; p < off.size(); ++p)
    for (std::size_t i = 0; i < off[p].size(); ++i) v += cut.slope.at(p).at(i) * off[p][i];
  return v;
}

}  // namespace

bool check_sorting(const SortProblem& problem, const Sorted& sorted) {
  std::set<int> used;
  std::size_t k = 0;
  for (const SortDesign& design : problem.designs)
    for (int n = 0; n < design.puzzles; ++n, ++k) {
      if (k >= sorted.item_in.size() || k >= sorted.play.size()) return false;
      if (!is_filled(problem, design, sorted.item_in[k], used)) return false;
      const double v = play_of(problem, design, sorted.item_in[k]);
      if (!(std::abs(v - sorted.play[k]) <= kRounding * (1 + std::abs(v)))) return false;
    }
  if (k == 0 || k != sorted.item_in.size() || k != sorted.play.size()) return false;
  if (sorted.worst != *std::min_element(sorted.play.begin(), sorted.play.end())) return false;
  const bool is_proven = sorted.worst >= sorted.bound - kSortTolerance;
  return sorted.worst <= sorted.bound && is_proven == (sorted.verdict == Verdict::found);
}

}  // namespace stickwright
