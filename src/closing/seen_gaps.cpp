#include "closing/seen_gaps.h"

#include <algorithm>
#include <cassert>

#include "closing/balance_matrix.h"

namespace stickwright {
namespace {

constexpr double kSlack = 1e-9;  // mm: a play is known that well

}  // namespace

// Every gap is at least what the play leaves; every seen gap is at most the widest, which is to be least. Below, the
// negative of the widest takes the place of the play: it is in the rows of the seen gaps only.
struct SeenGaps::Conditions {
  Eigen::MatrixXd matrix;  // [rows + seen][columns + 1]
};

SeenGaps::SeenGaps(const FitProgram& program, const std::vector<bool>& seen) : program_(program) {
  for (std::size_t r = 0; r < seen.size(); ++r)
    if (seen[r]) seen_.push_back(static_cast<int>(r));
  assert(!seen_.empty());
  const Eigen::MatrixXd& rows = program.balance().rows;
  const Eigen::Index all = rows.rows(), columns = rows.cols() - 1, some = static_cast<Eigen::Index>(seen_.size());
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(all + some, columns + 1);
  matrix.topLeftCorner(all, columns) = rows.leftCols(columns);
  for (Eigen::Index k = 0; k < some; ++k) {
    matrix.row(all + k).head(columns) = -rows.row(seen_[static_cast<std::size_t>(k)]).head(columns);
    matrix(all + k, columns) = 1;
  }
  conditions_ = std::make_shared<const Conditions>(Conditions{std::move(matrix)});
}

PushedTogether SeenGaps::push(std::span<const double> h, double play) const {
  std::vector<double> right;
  for (double gap : h) right.push_back(gap - std::min(play, 0.0) + kSlack);
  for (int r : seen_) right.push_back(-h[static_cast<std::size_t>(r)]);
  const auto best = least_work(conditions_->matrix, right);
  assert(best);  // the widest gap has a least value: no gap can be less than nothing
  const std::span<const double> position(best->position);
  return {-position.back(), twists(program_.balance(), position.first(position.size() - 1))};
}

}  // namespace stickwright
