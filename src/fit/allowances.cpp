#include "fit/allowances.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "fit/best_puzzle.h"
#include "solver/linear_program.h"

namespace stickwright {
namespace {

constexpr double kStickCost = 10, kEnough = 1e-7;  // mm
constexpr int kMostCuts = 200, kMostShifts = 8;
constexpr double kMedianWithin = 0.0005;  // mm

// What a millimeter of a dimension costs; 0: it is left alone.
double cost_of(const Dimension& d, bool sticks) {
  if (d.size_of == SizeOf::stop) return 1;
  return d.size_of == SizeOf::stick && sticks ? kStickCost : 0;
}

// By how much it may be changed that way.
double most(const Dimension& d, double way) {
  return way < 0 ? d.most_short : kMostAllowance;
}

// The least cost under which every cut reaches the play; nothing when none does.
std::optional<std::vector<double>> least_cost(const std::vector<Dimension>& dimensions, bool sticks,
                                              const std::vector<PlayBound>& cuts, double play) {
  EqualityProgram p;
  for (const PlayBound& c : cuts) p.right.push_back(play - c.constant);
  for (std::size_t d = 0; d < dimensions.size(); ++d)
    for (double way : {1.0, -1.0}) {
      const double cost = cost_of(dimensions[d], sticks);
      for (std::size_t k = 0; k < cuts.size(); ++k) p.entry(static_cast<int>(k), way * cuts[k].slope[d]);
      p.end_column(cost, cost > 0 ? most(dimensions[d], way) : 0);
    }
  for (std::size_t k = 0; k < cuts.size(); ++k) {
    p.entry(static_cast<int>(k), -1);
    p.end_column(0, kNoUpper);
  }
  const ProgramAnswer a = solve(p);
  if (!a.solved) return {};
  std::vector<double> mm;
  for (std::size_t d = 0; d < dimensions.size(); ++d) mm.push_back(a.x[2 * d] - a.x[2 * d + 1]);
  return mm;
}

// The least allowances that give the best puzzle this play.
std::optional<std::vector<double>> allow(BestPuzzle& best, const std::vector<Dimension>& dimensions, bool sticks,
                                         std::vector<PlayBound>& cuts, double play) {
  std::vector<double> mm(dimensions.size());
  for (int k = 0; k < kMostCuts; ++k) {
    cuts.push_back(best.bound_at(mm));
    if (cuts.back().at(mm) >= play - kEnough) return mm;
    const auto next = least_cost(dimensions, sticks, cuts, play);
    if (!next) return {};
    mm = *next;
  }
  return {};
}

// The least allowances that bring the best puzzle's play down to this. Sizes that leave more play form a convex set,
// since the play is concave; a sum of changes, each at its cost, is least where one of them alone leads out of it.
std::optional<std::vector<double>> tighten(BestPuzzle& best, const std::vector<Dimension>& dimensions, bool sticks,
                                           double play) {
  std::optional<std::vector<double>> least;
  double least_cost = INFINITY;
  for (std::size_t d = 0; d < dimensions.size(); ++d)
    for (double way : {1.0, -1.0}) {
      const double cost = cost_of(dimensions[d], sticks);
      if (cost == 0) continue;
      std::vector<double> mm(dimensions.size());
      const auto looser = [&](double by) {
        mm[d] = way * by;
        return best.bound_at(mm).at(mm) > play;
      };
      double low = 0, high = std::min(most(dimensions[d], way), least_cost / cost);
      if (looser(high)) continue;
      while (high - low > kEnough) {
        const double middle = (low + high) / 2;
        (looser(middle) ? low : high) = middle;
      }
      mm[d] = way * high;
      least = mm, least_cost = cost * high;
    }
  return least;
}

}  // namespace

Allowances allowances_for(const PuzzleErrors& errors, const GapForms& gaps, const PuzzlePlays& plays,
                          const std::vector<Dimension>& dimensions, double wanted, std::int64_t samples) {
  Allowances out;
  out.mm.assign(dimensions.size(), 0);
  if (!plays.program().can_bind()) return out;
  BestPuzzle best(plays.program(), errors, gaps, dimensions);
  const std::size_t lanes = plays.draws().lanes();
  const double unchanged = best.bound_at(out.mm).constant;
  out.verdict = AllowanceVerdict::out_of_reach;
  for (const bool sticks : {false, true}) {
    std::vector<PlayBound> cuts;
    double play = wanted;
    for (int k = 0;; ++k) {
      const auto mm =
          unchanged > play ? tighten(best, dimensions, sticks, play) : allow(best, dimensions, sticks, cuts, play);
      if (!mm) break;
      if (k == kMostShifts) {
        out.verdict = AllowanceVerdict::stopped;
        break;
      }
      std::vector<double> drawn = plays_of(plays, samples, resized(dimensions, *mm, lanes));
      out.mm = *mm;
      out.median_mm = median(drawn);
      if (std::abs(out.median_mm - wanted) <= kMedianWithin) {
        out.verdict = sticks ? AllowanceVerdict::sticks_needed : AllowanceVerdict::found;
        return out;
      }
      play += wanted - out.median_mm;
    }
  }
  out.mm.assign(dimensions.size(), 0);
  return out;
}

}  // namespace stickwright
