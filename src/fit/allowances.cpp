#include "fit/allowances.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "solver/linear_program.h"

namespace stickwright {
namespace {

constexpr double kStickCost = 10, kEnough = 1e-7;  // mm
constexpr int kMostCuts = 200, kMostShifts = 8;
constexpr double kMedianWithin = 0.0005;  // mm
constexpr double kOneMm = 1;

// One puzzle, all numbers at their best values but for what is added: its gaps are linear in that, as the numbers of a
// stop or of all sticks move planes and turn none.
class BestPuzzle {
 public:
  BestPuzzle(const PuzzleErrors& errors, const GapForms& gaps, const std::vector<Dimension>& dimensions)
      : errors_(errors), gaps_(gaps), dimensions_(dimensions), program_(gaps.rows), walk_(program_) {
    const std::vector<double> none(dimensions.size());
    base_ = gaps_with(none);
    for (std::size_t d = 0; d < dimensions.size(); ++d) {
      std::vector<double> one = none;
      one[d] = kOneMm;
      std::vector<double> g = gaps_with(one);
      for (std::size_t r = 0; r < g.size(); ++r) g[r] -= base_[r];
      per_mm_.push_back(std::move(g));
    }
  }

  // An upper bound of the play: constant + slope . mm, which is the play itself where it was made.
  struct Cut {
    double constant = 0;
    std::vector<double> slope;
    double at(const std::vector<double>& mm) const {
      double v = constant;
      for (std::size_t d = 0; d < mm.size(); ++d) v += slope[d] * mm[d];
      return v;
    }
  };
  Cut cut_at(const std::vector<double>& mm) {
    std::vector<double> h = base_;
    for (std::size_t d = 0; d < mm.size(); ++d)
      for (std::size_t r = 0; r < h.size(); ++r) h[r] += mm[d] * per_mm_[d][r];
    Cut cut{0, std::vector<double>(mm.size())};
    for (const ContactForce& f : walk_.fit(h).forces) {
      const auto r = static_cast<std::size_t>(f.row);
      cut.constant += f.share * base_[r];
      for (std::size_t d = 0; d < mm.size(); ++d) cut.slope[d] += f.share * per_mm_[d][r];
    }
    return cut;
  }

 private:
  std::vector<double> gaps_with(const std::vector<double>& mm) const {
    std::vector<double> values(errors_.values());
    values[0] = 1;
    for (std::size_t k = 0; k < errors_.numbers.size(); ++k) values[k + 1] = errors_.numbers[k].off.value;
    for (std::size_t d = 0; d < mm.size(); ++d)
      for (int number : dimensions_[d].numbers) values[static_cast<std::size_t>(number)] += mm[d];
    errors_.derive(values);
    std::vector<double> out;
    for (const Form& f : gaps_.gap) out.push_back(f(values));
    return out;
  }
  const PuzzleErrors& errors_;
  const GapForms& gaps_;
  const std::vector<Dimension>& dimensions_;
  FitProgram program_;
  VertexWalk walk_;
  std::vector<double> base_;
  std::vector<std::vector<double>> per_mm_;
};

// What a millimeter of a dimension costs; 0: it is left alone.
double cost_of(const Dimension& d, bool sticks) {
  if (d.size_of == SizeOf::stop) return 1;
  return d.size_of == SizeOf::stick && sticks ? kStickCost : 0;
}

// The least cost under which every cut reaches the play; nothing when none does.
std::optional<std::vector<double>> least_cost(const std::vector<Dimension>& dimensions, bool sticks,
                                              const std::vector<BestPuzzle::Cut>& cuts, double play) {
  EqualityProgram p;
  for (const BestPuzzle::Cut& c : cuts) p.right.push_back(play - c.constant);
  for (std::size_t d = 0; d < dimensions.size(); ++d)
    for (double way : {1.0, -1.0}) {
      const double cost = cost_of(dimensions[d], sticks);
      for (std::size_t k = 0; k < cuts.size(); ++k) p.entry(static_cast<int>(k), way * cuts[k].slope[d]);
      p.end_column(cost, cost > 0 ? kMostAllowance : 0);
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
                                         std::vector<BestPuzzle::Cut>& cuts, double play) {
  std::vector<double> mm(dimensions.size());
  for (int k = 0; k < kMostCuts; ++k) {
    cuts.push_back(best.cut_at(mm));
    if (cuts.back().at(mm) >= play - kEnough) return mm;
    const auto next = least_cost(dimensions, sticks, cuts, play);
    if (!next) return {};
    mm = *next;
  }
  return {};
}

}  // namespace

Allowances allowances_for(const PuzzleErrors& errors, const GapForms& gaps, const PuzzlePlays& plays,
                          const std::vector<Dimension>& dimensions, double wanted, std::int64_t samples) {
  Allowances out;
  out.mm.assign(dimensions.size(), 0);
  if (!plays.program().can_bind()) return out;
  BestPuzzle best(errors, gaps, dimensions);
  const std::size_t lanes = plays.draws().lanes();
  for (const bool sticks : {false, true}) {
    std::vector<BestPuzzle::Cut> cuts;
    double play = wanted;
    for (int k = 0; k < kMostShifts; ++k) {
      const auto mm = allow(best, dimensions, sticks, cuts, play);
      if (!mm) break;
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
  out.verdict = AllowanceVerdict::out_of_reach;
  out.mm.assign(dimensions.size(), 0);
  return out;
}

}  // namespace stickwright
