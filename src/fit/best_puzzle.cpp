#include "fit/best_puzzle.h"

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

std::vector<double> gaps_with(const PuzzleErrors& errors, const GapForms& gaps, const Dimension* added) {
  constexpr double kOneMm = 1;
  std::vector<double> values(errors.values());
  values[0] = 1;
  for (std::size_t k = 0; k < errors.numbers.size(); ++k) values[k + 1] = errors.numbers[k].off.value;
  if (added)
    for (int number : added->numbers) values[static_cast<std::size_t>(number)] += kOneMm;
  errors.derive(values);
  std::vector<double> out;
  for (const Form& f : gaps.gap) out.push_back(f(values));
  return out;
}

}  // namespace

double PlayBound::at(const std::vector<double>& mm) const {
  double v = constant;
  for (std::size_t d = 0; d < mm.size(); ++d) v += slope[d] * mm[d];
  return v;
}

BestPuzzle::BestPuzzle(const FitProgram& program, const PuzzleErrors& errors, const GapForms& gaps,
                       const std::vector<Dimension>& dimensions)
    : walk_(program), base_(gaps_with(errors, gaps, nullptr)) {
  for (const Dimension& d : dimensions) {
    std::vector<double> g = gaps_with(errors, gaps, &d);
    for (std::size_t r = 0; r < g.size(); ++r) g[r] -= base_[r];
    per_mm_.push_back(std::move(g));
  }
}

PlayBound BestPuzzle::bound_at(const std::vector<double>& mm) {
  std::vector<double> h = base_;
  for (std::size_t d = 0; d < mm.size(); ++d)
    for (std::size_t r = 0; r < h.size(); ++r) h[r] += mm[d] * per_mm_[d][r];
  PlayBound bound{0, std::vector<double>(mm.size())};
  for (const ContactForce& f : walk_.fit(h).forces) {
    const auto r = static_cast<std::size_t>(f.row);
    bound.constant += f.share * base_[r];
    for (std::size_t d = 0; d < mm.size(); ++d) bound.slope[d] += f.share * per_mm_[d][r];
  }
  return bound;
}

double BestPuzzle::most_effect(std::size_t d) {
  std::vector<double> h = per_mm_[d];
  const double less = walk_.play(h);
  for (double& gap : h) gap = -gap;
  return std::max(std::abs(less), std::abs(walk_.play(h)));
}

}  // namespace stickwright
