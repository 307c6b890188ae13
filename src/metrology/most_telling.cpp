#include "metrology/most_telling.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "metrology/decomposition.h"

namespace stickwright {
namespace {

using Eigen::MatrixXd;

// Shares that differ by less are one share and rounding.
constexpr double kSameShare = 1e-9;

// As few rows as possible that say the same as all rows.
MatrixXd condensed(const Decomposition& d) {
  return d.singular.head(d.rank).asDiagonal() * d.seen().transpose();
}

// The part of the goal in a set of directions, each weighed.
double part(const MatrixXd& directions, const Eigen::VectorXd& weight, std::optional<std::size_t> goal) {
  const MatrixXd weighed = directions * weight.asDiagonal();
  return goal ? weighed.row(*goal).squaredNorm() : weighed.squaredNorm();
}

Telling effect(std::size_t candidate, const Decomposition& d, std::optional<std::size_t> goal) {
  const double hidden = part(d.hidden(), Eigen::VectorXd::Ones(d.right.cols() - d.rank), goal);
  const double variance = part(d.seen(), d.singular.head(d.rank).cwiseInverse(), goal);
  return {candidate, std::round(hidden / kSameShare) * kSameShare, variance};
}

}  // namespace

std::vector<Telling> most_telling(const LinearSystem& system, const std::vector<CandidateRow>& candidates,
                                  std::optional<std::size_t> goal) {
  if (goal && *goal >= system.unknowns.size()) throw std::logic_error("most_telling: a goal that is not there");
  const MatrixXd known = condensed(decompose(unitless_rows(system)));
  MatrixXd rows(known.rows() + 1, known.cols());
  rows.topRows(known.rows()) = known;
  std::vector<Telling> out;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    rows.bottomRows(1) = unitless(candidates[i].coefficients, candidates[i].u, system.unknowns);
    out.push_back(effect(i, decompose(rows), goal));
  }
  std::stable_sort(out.begin(), out.end(), [](const Telling& a, const Telling& b) {
    return a.hidden != b.hidden ? a.hidden < b.hidden : a.variance < b.variance;
  });
  return out;
}

}  // namespace stickwright
