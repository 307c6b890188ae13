#include "closing/balance_matrix.h"

#include <Clp_C_Interface.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>

#include "solver/quiet.h"

namespace stickwright {
namespace {

// Of the largest pivot. Coordinates are known to some 1e-15 of the puzzle's size, contacts that differ differ by more
// than a thousandth of it.
constexpr double kRankThreshold = 1e-9;
constexpr double kSolverTolerance = 1e-10;
constexpr double kNoForce = 1e-11;
// Entries of the matrix are of the size of 1 or nothing. Rounding left among them spoils the solver's scales, and with
// them its answer.
constexpr double kRounding = 1e-12;
constexpr int kBasic = 1;           // as Clp_getColumnStatus says it
constexpr double kKept = 1e-8;      // mm: a gap may be short of the play by so much
constexpr double kNoEntry = 1e-14;  // rows are of length about 1

double mean_lever(const GapRows& g) {
  double sum = 0;
  for (const GapRow& r : g.rows) sum += length(r.at - g.center[r.from]) + length(r.at - g.center[r.to]);
  const double mean = g.rows.empty() ? 0 : sum / (2.0 * static_cast<double>(g.rows.size()));
  return mean > 0 ? mean : 1;
}

void put(Eigen::MatrixXd& m, Eigen::Index row, int body, Point n, Point moment) {
  if (body == 0) return;
  const Eigen::Index c = 6 * (body - 1);
  m.row(row).segment(c, 6) << n.a, n.b, n.t, moment.a, moment.b, moment.t;
}

Eigen::MatrixXd all_displacements(const GapRows& g, double scale) {
  Eigen::MatrixXd m = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(g.rows.size()), 6 * std::max(0, g.bodies - 1));
  for (std::size_t r = 0; r < g.rows.size(); ++r) {
    const GapRow& row = g.rows[r];
    const double k = 1 / scale;
    put(m, static_cast<Eigen::Index>(r), row.to, row.normal, k * cross(row.at - g.center[row.to], row.normal));
    put(m, static_cast<Eigen::Index>(r), row.from, -1.0 * row.normal,
        -k * cross(row.at - g.center[row.from], row.normal));
  }
  return (m.array().abs() > kRounding).select(m, 0.0);
}

// Columns that no other kept column makes up.
std::vector<int> independent_columns(const Eigen::MatrixXd& m) {
  if (m.size() == 0) return {};
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(m.rows(), m.cols());
  qr.setThreshold(kRankThreshold);
  qr.compute(m);
  const auto& order = qr.colsPermutation().indices();
  std::vector<int> kept(order.data(), order.data() + qr.rank());
  std::sort(kept.begin(), kept.end());
  return kept;
}

// The solver keeps its conditions to kSolverTolerance; here the basis it ended with is solved again.
void sharpen(const Eigen::MatrixXd& matrix, std::span<const double> h, const std::vector<int>& basis, Balanced& found) {
  Eigen::MatrixXd b(static_cast<Eigen::Index>(basis.size()), matrix.cols());
  Eigen::VectorXd gap(b.rows());
  for (std::size_t i = 0; i < basis.size(); ++i) {
    b.row(static_cast<Eigen::Index>(i)) = matrix.row(basis[i]);
    gap[static_cast<Eigen::Index>(i)] = h[basis[i]];
  }
  Eigen::Map<Eigen::VectorXd> position(found.position.data(), matrix.cols());
  position += b.completeOrthogonalDecomposition().solve(gap - b * position);
  const Eigen::VectorXd sum = Eigen::VectorXd::Unit(matrix.cols(), matrix.cols() - 1);
  const Eigen::VectorXd force = b.transpose().completeOrthogonalDecomposition().solve(sum);
  std::fill(found.force.begin(), found.force.end(), 0.0);
  for (std::size_t i = 0; i < basis.size(); ++i)
    found.force[basis[i]] = std::max(0.0, force[static_cast<Eigen::Index>(i)]);
}

bool all_gaps_kept(const Eigen::MatrixXd& matrix, std::span<const double> h, const std::vector<double>& position) {
  const Eigen::VectorXd held = matrix * Eigen::Map<const Eigen::VectorXd>(position.data(), matrix.cols());
  for (std::size_t r = 0; r < h.size(); ++r)
    if (h[r] - held[static_cast<Eigen::Index>(r)] < -kKept) return false;
  return true;
}

// Where many forces are 0 the solver sometimes calls a point best that is not. It is then asked in another way.
struct Way {
  bool primal;
  int perturbation, scaling;
};
constexpr Way kWays[] = {{true, 100, 3}, {true, 50, 3}, {false, 100, 3}, {true, 50, 0}, {true, 100, 0}, {false, 50, 0}};

struct FreeModel {
  void operator()(Clp_Simplex* c) const { Clp_deleteModel(c); }
};

}  // namespace

BalanceMatrix reduce(GapRows geometry) {
  BalanceMatrix b;
  b.geometry = std::move(geometry);
  b.length = mean_lever(b.geometry);
  const Eigen::MatrixXd all = all_displacements(b.geometry, b.length);
  b.column = independent_columns(all);
  b.rows.resize(all.rows(), static_cast<Eigen::Index>(b.column.size()) + 1);
  for (std::size_t c = 0; c < b.column.size(); ++c) b.rows.col(static_cast<Eigen::Index>(c)) = all.col(b.column[c]);
  b.rows.rightCols(1).setOnes();
  return b;
}

std::vector<int> complete_basis(const Eigen::MatrixXd& matrix, std::span<const double> force) {
  Eigen::MatrixXd scaled = matrix.transpose();
  for (Eigen::Index r = 0; r < scaled.cols(); ++r) scaled.col(r) *= force[r] > kNoForce ? 1e6 : 1;
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled);
  const auto& order = qr.colsPermutation().indices();
  std::vector<int> basis(order.data(), order.data() + matrix.cols());
  std::sort(basis.begin(), basis.end());
  return basis;
}

std::vector<Twist> twists(const BalanceMatrix& m, std::span<const double> values) {
  std::vector<double> all(6 * static_cast<std::size_t>(m.geometry.bodies));
  for (std::size_t c = 0; c < m.column.size(); ++c)
    all[6 + m.column[c]] = values[c] / (m.column[c] % 6 < 3 ? 1 : m.length);
  std::vector<Twist> moved;
  for (std::size_t i = 0; i < all.size(); i += 6)
    moved.push_back({{all[i], all[i + 1], all[i + 2]}, {all[i + 3], all[i + 4], all[i + 5]}});
  return moved;
}

std::optional<Balanced> least_work(const Eigen::MatrixXd& matrix, std::span<const double> h) {
  const int rows = static_cast<int>(matrix.rows()), size = static_cast<int>(matrix.cols());
  if (rows == 0) return std::nullopt;
  std::vector<int> start = {0}, index;
  std::vector<double> value, right(static_cast<std::size_t>(size)), lower(h.size()), upper(h.size(), 1e30);
  right.back() = 1;
  for (int r = 0; r < rows; ++r) {
    for (int c = 0; c < size; ++c)
      if (std::abs(matrix(r, c)) > kNoEntry) index.push_back(c), value.push_back(matrix(r, c));
    start.push_back(static_cast<int>(index.size()));
  }
  const Quiet quiet;
  for (const Way way : kWays) {
    const std::unique_ptr<Clp_Simplex, FreeModel> clp(Clp_newModel());
    Clp_setLogLevel(clp.get(), 0);
    Clp_loadProblem(clp.get(), rows, size, start.data(), index.data(), value.data(), lower.data(), upper.data(),
                    h.data(), right.data(), right.data());
    Clp_setPrimalTolerance(clp.get(), kSolverTolerance);
    Clp_setDualTolerance(clp.get(), kSolverTolerance);
    Clp_setPerturbation(clp.get(), way.perturbation);
    Clp_scaling(clp.get(), way.scaling);
    const int end = way.primal ? Clp_primal(clp.get(), 0) : Clp_dual(clp.get(), 0);
    if (end == 1) return std::nullopt;
    if (end != 0) continue;
    const double* y = Clp_primalColumnSolution(clp.get());
    const double* price = Clp_dualRowSolution(clp.get());
    Balanced found{{y, y + rows}, {price, price + size}};
    std::vector<int> basis;
    for (int r = 0; r < rows; ++r)
      if (Clp_getColumnStatus(clp.get(), r) == kBasic) basis.push_back(r);
    sharpen(matrix, h, basis, found);
    if (!all_gaps_kept(matrix, h, found.position)) continue;
    for (double& p : std::span(found.position).first(found.position.size() - 1)) p = -p;
    return found;
  }
  throw std::runtime_error("the linear solver gave up on a closed fit");
}

}  // namespace stickwright
