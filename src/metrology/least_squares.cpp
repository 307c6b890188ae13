#include "metrology/least_squares.h"

#include <fmt/format.h>

#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "metrology/decomposition.h"

namespace stickwright {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// An entry of a direction of length 1 that is rounding and nothing else.
constexpr double kNothing = 1e-8;

void require(bool holds, const char* what) {
  if (!holds) throw std::logic_error(what);
}

std::vector<double> unit_row(std::size_t unknown, std::size_t unknowns) {
  require(unknown < unknowns, "least squares: a prior of an unknown that is not there");
  std::vector<double> row(unknowns, 0.0);
  row[unknown] = 1;
  return row;
}

VectorXd observed_over_u(const LinearSystem& system) {
  VectorXd b(system.rows.size() + system.priors.size());
  Index i = 0;
  for (const LinearRow& row : system.rows) b(i++) = row.observed / row.u;
  for (const Prior& prior : system.priors) b(i++) = prior.value / prior.u;
  require(b.allFinite(), "least squares: an observation is no number");
  return b;
}

VectorXd scales(const LinearSystem& system) {
  VectorXd s(system.unknowns.size());
  for (Index j = 0; j < s.size(); ++j) s(j) = system.unknowns[j].scale;
  return s;
}

std::vector<double> plain(const VectorXd& v) {
  return {v.data(), v.data() + v.size()};
}

MatrixXd covariance_of(const Decomposition& d, const VectorXd& scale) {
  const MatrixXd half =
      scale.asDiagonal() * d.seen() * d.singular.head(d.rank).cwiseInverse().asDiagonal().toDenseMatrix();
  return half * half.transpose();
}

// Rows that say the same as the given ones with as many zeros as can be: complete pivoting, so that runs repeat.
void reduce(MatrixXd& rows) {
  std::vector<bool> used(rows.cols(), false);
  for (Index k = 0; k < rows.rows(); ++k) {
    Index row = 0, column = 0;
    rows.bottomRows(rows.rows() - k).cwiseAbs().maxCoeff(&row, &column);
    rows.row(k).swap(rows.row(k + row));
    rows.row(k) /= rows(k, column);
    for (Index other = 0; other < rows.rows(); ++other)
      if (other != k) rows.row(other) -= (rows(other, column) * rows.row(k)).eval();
  }
}

std::vector<HiddenDirection> hidden_directions(const Decomposition& d, const VectorXd& scale) {
  MatrixXd rows = d.hidden().transpose();
  reduce(rows);
  std::vector<HiddenDirection> out;
  for (Index k = 0; k < rows.rows(); ++k) {
    Index largest = 0;
    rows.row(k).cwiseAbs().maxCoeff(&largest);
    VectorXd v = rows.row(k).transpose() / rows(k, largest);
    for (Index j = 0; j < v.size(); ++j) v(j) = std::abs(v(j)) < kNothing ? 0 : v(j) * scale(j);
    out.push_back({plain(v)});
  }
  return out;
}

void tell_unknowns(LinearFit& fit, const Decomposition& d, const VectorXd& scale) {
  const MatrixXd c = covariance_of(d, scale);
  for (Index j = 0; j < scale.size(); ++j) {
    fit.covariance.push_back(plain(c.row(j)));
    fit.determined.push_back(d.hidden().row(j).norm() < kNothing);
    fit.u.push_back(fit.determined.back() ? std::sqrt(c(j, j)) : std::numeric_limits<double>::infinity());
  }
}

void tell_residuals(LinearFit& fit, const Decomposition& d, const VectorXd& without_unit,
                    const std::vector<double>& u) {
  for (std::size_t i = 0; i < u.size(); ++i) {
    const double left_over = 1 - d.left.row(i).head(d.rank).squaredNorm();
    const double r = without_unit(i);
    fit.residual.push_back(r * u[i]);
    fit.standardized.push_back(left_over > kNothing ? r / std::sqrt(left_over) : 0);
  }
}

void tell_scatter(LinearFit& fit, double chi_square) {
  fit.chi_square = chi_square;
  fit.freedom = fit.residual.size() - fit.rank;
  if (fit.freedom == 0) return;
  const double freedom = static_cast<double>(fit.freedom);
  fit.birge = std::sqrt(chi_square / freedom);
  fit.chance = boost::math::cdf(boost::math::complement(boost::math::chi_squared(freedom), chi_square));
}

std::vector<double> all_u(const LinearSystem& system) {
  std::vector<double> u;
  for (const LinearRow& row : system.rows) u.push_back(row.u);
  for (const Prior& prior : system.priors) u.push_back(prior.u);
  return u;
}

}  // namespace

Eigen::RowVectorXd unitless(const std::vector<double>& coefficients, double u, const std::vector<Unknown>& unknowns) {
  require(coefficients.size() == unknowns.size(), "least squares: a row of the wrong size");
  require(u > 0 && std::isfinite(u), "least squares: a standard uncertainty not above 0");
  Eigen::RowVectorXd row(unknowns.size());
  for (std::size_t j = 0; j < unknowns.size(); ++j) {
    require(unknowns[j].scale > 0, "least squares: a scale not above 0");
    row(j) = coefficients[j] / u * unknowns[j].scale;
  }
  require(row.allFinite(), "least squares: a coefficient is no number");
  return row;
}

MatrixXd unitless_rows(const LinearSystem& system) {
  MatrixXd a(system.rows.size() + system.priors.size(), system.unknowns.size());
  Index i = 0;
  for (const LinearRow& row : system.rows) a.row(i++) = unitless(row.coefficients, row.u, system.unknowns);
  for (const Prior& p : system.priors)
    a.row(i++) = unitless(unit_row(p.unknown, system.unknowns.size()), p.u, system.unknowns);
  return a;
}

Decomposition decompose(const MatrixXd& rows) {
  // Rows of zeros change nothing, and make the right part square.
  MatrixXd a = MatrixXd::Zero(std::max(rows.rows(), rows.cols()), rows.cols());
  a.topRows(rows.rows()) = rows;
  const Eigen::JacobiSVD<MatrixXd> svd(a, Eigen::ComputeThinU | Eigen::ComputeThinV);
  Decomposition d{svd.matrixU().topRows(rows.rows()), svd.singularValues(), svd.matrixV(), 0};
  while (d.rank < d.singular.size() && d.singular(d.rank) > kRankShare * d.singular(0)) ++d.rank;
  return d;
}

LinearFit solve(const LinearSystem& system) {
  require(!system.unknowns.empty(), "least squares: no unknowns");
  const MatrixXd a = unitless_rows(system);
  const VectorXd b = observed_over_u(system), scale = scales(system);
  const Decomposition d = decompose(a);
  const VectorXd x = d.seen() * (d.left.leftCols(d.rank).transpose() * b).cwiseQuotient(d.singular.head(d.rank)).eval();
  const VectorXd rest = b - a * x;
  LinearFit fit;
  fit.rank = static_cast<std::size_t>(d.rank);
  fit.value = plain(scale.cwiseProduct(x));
  fit.hidden = hidden_directions(d, scale);
  tell_unknowns(fit, d, scale);
  tell_residuals(fit, d, rest, all_u(system));
  tell_scatter(fit, rest.squaredNorm());
  return fit;
}

double u_of(const LinearFit& fit, const std::vector<double>& weights) {
  require(weights.size() == fit.value.size(), "least squares: weights of the wrong size");
  for (const HiddenDirection& h : fit.hidden) {
    double moved = 0, terms = 0;
    for (std::size_t j = 0; j < weights.size(); ++j)
      moved += weights[j] * h.change[j], terms += std::abs(weights[j] * h.change[j]);
    if (std::abs(moved) > kNothing * terms) return std::numeric_limits<double>::infinity();
  }
  double variance = 0;
  for (std::size_t j = 0; j < weights.size(); ++j)
    for (std::size_t k = 0; k < weights.size(); ++k) variance += weights[j] * weights[k] * fit.covariance[j][k];
  return std::sqrt(std::max(variance, 0.0));
}

std::string show_direction(const HiddenDirection& direction, const std::vector<Unknown>& unknowns) {
  std::string text;
  for (std::size_t j = 0; j < unknowns.size(); ++j) {
    if (direction.change[j] == 0) continue;
    if (!text.empty()) text += " together with ";
    text += fmt::format("{} {:+.3g} {}", unknowns[j].name, direction.change[j], unknowns[j].unit);
  }
  return text;
}

std::string birge_note(const LinearFit& fit) {
  if (!fit.birge || (fit.chance >= 0.025 && fit.chance <= 0.975)) return "";
  if (fit.chance < 0.025)
    return fmt::format(
        "The readings scatter {:.1f} times as much as their uncertainties say; by chance that happens in "
        "{:.2g} % of cases.",
        *fit.birge, 100 * fit.chance);
  return fmt::format(
      "The readings scatter only {:.2f} times as much as their uncertainties say; by chance that happens "
      "in {:.2g} % of cases.",
      *fit.birge, 100 * (1 - fit.chance));
}

}  // namespace stickwright
