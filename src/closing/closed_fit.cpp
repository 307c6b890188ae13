#include "closing/closed_fit.h"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "closing/binding_parts.h"

namespace stickwright {
namespace {

constexpr double kProved = 1e-9;  // mm
constexpr double kForce = 1e-11;  // a share of force below it is none

// What the rows leave with the pieces standing so: a play that can be had.
double least_gap(const BalanceMatrix& m, const Eigen::VectorXd& h, std::span<const double> position) {
  const Eigen::Map<const Eigen::VectorXd> x(position.data(), m.size() - 1);
  return (h + m.rows.leftCols(m.size() - 1) * x).minCoeff();
}

}  // namespace

FitProgram::FitProgram(GapRows rows)
    : balance_(std::make_shared<BalanceMatrix>(reduce(std::move(rows)))),
      parts_(std::make_shared<BindingParts>(binding_parts(*balance_))) {}

bool FitProgram::can_bind() const {
  return !parts_->parts.empty();
}

std::size_t FitProgram::rows() const {
  return balance_->geometry.rows.size();
}

const GapRows& FitProgram::geometry() const {
  return balance_->geometry;
}

const BalanceMatrix& FitProgram::balance() const {
  return *balance_;
}

const BindingParts& FitProgram::parts() const {
  return *parts_;
}

ClosedFit FitProgram::solve(std::span<const double> h) const {
  if (!can_bind()) return {std::numeric_limits<double>::infinity(), {}, {}};
  const auto found = least_work(balance_->rows, h);
  if (!found) throw std::runtime_error("forces that balanced before do not balance");
  const Eigen::Map<const Eigen::VectorXd> gaps(h.data(), static_cast<Eigen::Index>(h.size()));
  ClosedFit fit{least_gap(*balance_, gaps, found->position), {}, twists(*balance_, found->position)};
  double work = 0;
  for (std::size_t r = 0; r < h.size(); ++r)
    if (found->force[r] > kForce) {
      fit.forces.push_back({static_cast<int>(r), found->force[r]});
      work += found->force[r] * h[r];
    }
  if (!(std::abs(work - fit.play_mm) <= kProved)) throw std::runtime_error("a closed fit is not proved");
  return fit;
}

}  // namespace stickwright
