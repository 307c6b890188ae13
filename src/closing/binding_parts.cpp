#include "closing/binding_parts.h"

#include <Eigen/LU>
#include <Eigen/QR>
#include <algorithm>
#include <map>
#include <numeric>
#include <stdexcept>

#include "closing/enumerate_vertices.h"

namespace stickwright {
namespace {

constexpr double kRankThreshold = 1e-9;  // of the largest pivot, as in reduce()
constexpr double kNoForce = 1e-9;        // of forces that add up to 1
constexpr double kKept = 1e-7;           // mm: an opening displacement may close no gap of a part by more
constexpr std::size_t kQuickTerms = 1000, kMostTerms = 5000;  // of force, in a list that is looked at as a whole
constexpr double kNoEntry = 1e-9;                             // rows are of length about 1

struct Loads {
  std::vector<int> live, loose;
  Eigen::VectorXd opening;  // opens all loose rows by 1 or more, and keeps the gaps of the live ones
};

// Forces that balance and reach a row not known to be live, as much as can be, again and again. A force on nothing,
// which needs no balance, makes "none at all" an answer as well. Then the solver's positions open every row that is
// left.
Loads loads_of(const Eigen::MatrixXd& gaps) {
  const Eigen::Index rows = gaps.rows(), columns = gaps.cols();
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(rows + 1, columns + 1);
  matrix.topLeftCorner(rows, columns) = gaps;
  matrix.rightCols(1).setOnes();
  std::vector<double> h(static_cast<std::size_t>(rows) + 1, -1.0);
  h.back() = 0;
  for (bool more = true; more;) {
    const auto found = least_work(matrix, h);
    if (!found) throw std::runtime_error("the linear solver gave up on the contacts that can bind");
    more = false;
    for (std::size_t r = 0; r + 1 < h.size(); ++r)
      if (h[r] < 0 && found->force[r] > kNoForce) h[r] = 0, more = true;
    if (more) continue;
    Loads loads;
    for (int r = 0; r < static_cast<int>(rows); ++r) (h[r] < 0 ? loads.loose : loads.live).push_back(r);
    loads.opening = Eigen::Map<const Eigen::VectorXd>(found->position.data(), columns);
    return loads;
  }
  return {};
}

Eigen::MatrixXd rows_of(const Eigen::MatrixXd& m, const std::vector<int>& rows) {
  Eigen::MatrixXd out(static_cast<Eigen::Index>(rows.size()), m.cols());
  for (std::size_t i = 0; i < rows.size(); ++i) out.row(static_cast<Eigen::Index>(i)) = m.row(rows[i]);
  return out;
}

// A representative of each row's part: rows that depend on each other through some least dependent set belong together.
// With independent rows B and the others N = X B, those are the connected pieces of X's pattern.
std::vector<int> connected(const Eigen::MatrixXd& gaps) {
  const Eigen::Index rows = gaps.rows();
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(gaps.cols(), rows);
  qr.setThreshold(kRankThreshold);
  qr.compute(gaps.transpose());
  const Eigen::Index rank = qr.rank();
  const auto corner = qr.matrixR().topLeftCorner(rank, rank).triangularView<Eigen::Upper>();
  const Eigen::MatrixXd x = corner.solve(qr.matrixR().topRightCorner(rank, rows - rank));
  const auto& order = qr.colsPermutation().indices();
  std::vector<int> root(static_cast<std::size_t>(rows));
  std::iota(root.begin(), root.end(), 0);
  const auto find = [&root](int i) {
    while (root[i] != i) i = root[i] = root[root[i]];
    return i;
  };
  for (Eigen::Index j = 0; j < rows - rank; ++j)
    for (Eigen::Index i = 0; i < rank; ++i)
      if (std::abs(x(i, j)) > kNoEntry) root[find(order[i])] = find(order[rank + j]);
  for (int i = 0; i < static_cast<int>(rows); ++i) root[i] = find(i);
  return root;
}

std::vector<int> independent_columns(const Eigen::MatrixXd& m) {
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(m.rows(), m.cols());
  qr.setThreshold(kRankThreshold);
  qr.compute(m);
  std::vector<int> kept(qr.colsPermutation().indices().data(), qr.colsPermutation().indices().data() + qr.rank());
  std::sort(kept.begin(), kept.end());
  return kept;
}

BindingPart part_of(const BalanceMatrix& m, std::vector<int> rows) {
  const auto pair_of = [&m](int r) {
    const GapRow& row = m.geometry.rows[r];
    return std::minmax(row.from, row.to);
  };
  std::stable_sort(rows.begin(), rows.end(), [&](int a, int b) { return pair_of(a) < pair_of(b); });
  BindingPart part;
  part.rows = std::move(rows);
  const Eigen::MatrixXd gaps = rows_of(m.rows.leftCols(m.size() - 1), part.rows);
  const std::vector<int> kept = independent_columns(gaps);
  part.matrix.resize(gaps.rows(), static_cast<Eigen::Index>(kept.size()) + 1);
  for (std::size_t c = 0; c < kept.size(); ++c) part.matrix.col(static_cast<Eigen::Index>(c)) = gaps.col(kept[c]);
  part.matrix.rightCols(1).setOnes();
  const auto found = least_work(part.matrix, std::vector<double>(part.rows.size(), 1.0));
  if (!found) throw std::runtime_error("contacts that can bind do not bind by themselves");
  part.first_basis = complete_basis(part.matrix, found->force);
  part.all_vertices = enumerate_vertices(part.matrix);
  return part;
}

// What the opening does to the parts' gaps is rounding and is taken out.
Eigen::VectorXd opening_of(const BalanceMatrix& m, const BindingParts& b, const std::vector<int>& live,
                           Eigen::VectorXd opening) {
  const Eigen::MatrixXd gaps = m.rows.leftCols(m.size() - 1);
  if (b.loose.empty()) return Eigen::VectorXd::Zero(gaps.cols());
  if (!live.empty()) {
    const Eigen::VectorXd kept = rows_of(gaps, live) * opening;
    if (kept.cwiseAbs().maxCoeff() > kKept * (1 + opening.cwiseAbs().maxCoeff()))
      throw std::runtime_error("the contacts that never carry a force cannot be told apart");
    opening -= b.displacement * kept;
  }
  const double least = (rows_of(gaps, b.loose) * opening).minCoeff();
  if (!(least > 0.5)) throw std::runtime_error("contacts that never carry a force do not open");
  return opening / std::min(1.0, least);
}

}  // namespace

// A vertex is compared with a neighbor in as many numbers as there are free forces, a row is priced in as many as it
// has columns.
PlayBy play_by(const BindingPart& part) {
  if (!part.all_vertices) return PlayBy::steps;
  std::size_t terms = 0;
  for (const ForceVertex& v : *part.all_vertices) terms += v.rows.size();
  if (terms <= kQuickTerms) return PlayBy::list;
  const Eigen::Index free = part.matrix.rows() - (part.matrix.cols() - 1);
  if (free < part.matrix.cols()) return PlayBy::neighbors;
  return terms <= kMostTerms ? PlayBy::list : PlayBy::steps;
}

BindingParts binding_parts(const BalanceMatrix& m) {
  BindingParts b;
  const Eigen::MatrixXd gaps = m.rows.leftCols(m.size() - 1);
  if (gaps.rows() == 0) return b;
  Loads loads = loads_of(gaps);
  const std::vector<int>& live = loads.live;
  b.loose = std::move(loads.loose);
  std::vector<int> in_parts;
  if (!live.empty()) {
    std::map<int, std::vector<int>> groups;
    const std::vector<int> root = connected(rows_of(gaps, live));
    for (std::size_t i = 0; i < live.size(); ++i) groups[root[i]].push_back(live[i]);
    for (auto& [unused, rows] : groups) b.parts.push_back(part_of(m, std::move(rows)));
    for (const BindingPart& p : b.parts) in_parts.insert(in_parts.end(), p.rows.begin(), p.rows.end());
    Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> inverse(in_parts.size(), gaps.cols());
    inverse.setThreshold(kRankThreshold);
    inverse.compute(rows_of(gaps, in_parts));
    b.displacement = inverse.pseudoInverse();
    Eigen::Index ranks = 0;
    for (const BindingPart& p : b.parts) ranks += p.matrix.cols() - 1;
    if (ranks != inverse.rank()) throw std::runtime_error("the parts that can bind cannot be told apart");
  }
  b.opening = opening_of(m, b, in_parts, std::move(loads.opening));
  return b;
}

}  // namespace stickwright
