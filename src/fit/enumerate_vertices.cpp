#include "fit/enumerate_vertices.h"

#include <Eigen/LU>
#include <algorithm>
#include <map>
#include <random>
#include <set>

namespace stickwright {
namespace {

constexpr double kMove = 1e-6;    // of the right side
constexpr double kDoubt = 1e-11;  // a basic value nearer to 0 leaves the basis in doubt
constexpr double kShare = 1e-9;   // of force; less is none
constexpr double kPivot = 1e-9;

class Enumeration {
 public:
  Enumeration(const Eigen::MatrixXd& matrix, const std::vector<int>& basis) : matrix_(matrix) {
    std::mt19937_64 random(1);
    Eigen::VectorXd more(matrix.cols());
    for (double& v : more) v = 0.5 + static_cast<double>(random() % 1000003) / 1000003;
    moved_ = Eigen::VectorXd::Unit(matrix.cols(), matrix.cols() - 1) + kMove * (basis_of(basis) * more);
    waiting_.push_back(basis);
    std::sort(waiting_.back().begin(), waiting_.back().end());
    seen_.insert(waiting_.back());
  }

  bool run() {
    for (std::size_t i = 0; i < waiting_.size(); ++i)
      if (waiting_.size() > kMostBases || !visit(std::vector<int>(waiting_[i]))) return false;
    return true;
  }

  std::vector<ForceVertex> vertices() const {
    std::vector<ForceVertex> out;
    for (const auto& [rows, shares] : found_) out.push_back({rows, shares});
    return out;
  }

 private:
  Eigen::MatrixXd basis_of(const std::vector<int>& rows) const {
    Eigen::MatrixXd b(matrix_.cols(), matrix_.cols());
    for (std::size_t i = 0; i < rows.size(); ++i)
      b.col(static_cast<Eigen::Index>(i)) = matrix_.row(rows[i]).transpose();
    return b;
  }

  bool visit(const std::vector<int>& rows) {
    const Eigen::MatrixXd inverse = basis_of(rows).partialPivLu().inverse();
    const Eigen::VectorXd value = inverse * moved_;
    if (!(value.minCoeff() > kDoubt)) return false;
    if (!keep(rows, inverse.rightCols(1))) return false;
    const Eigen::MatrixXd table = inverse * matrix_.transpose();
    for (int q = 0; q < static_cast<int>(matrix_.rows()); ++q)
      if (!std::binary_search(rows.begin(), rows.end(), q)) exchange(rows, value, table.col(q), q);
    return true;
  }

  void exchange(std::vector<int> rows, const Eigen::VectorXd& value, const Eigen::VectorXd& change, int q) {
    Eigen::Index out = -1;
    for (Eigen::Index i = 0; i < change.size(); ++i)
      if (change[i] > kPivot && (out < 0 || value[i] * change[out] < value[out] * change[i])) out = i;
    if (out < 0) return;  // cannot be: forces that add up to 1 are bounded
    rows[out] = q;
    std::sort(rows.begin(), rows.end());
    if (seen_.insert(rows).second) waiting_.push_back(std::move(rows));
  }

  bool keep(const std::vector<int>& rows, const Eigen::VectorXd& share) {
    ForceVertex v;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (share[i] < -kShare) return false;  // a vertex of the moved polytope alone
      if (share[i] > kShare) v.rows.push_back(rows[i]), v.shares.push_back(share[i]);
    }
    found_.emplace(std::move(v.rows), std::move(v.shares));
    return true;
  }

  const Eigen::MatrixXd& matrix_;
  Eigen::VectorXd moved_;
  std::vector<std::vector<int>> waiting_;
  std::set<std::vector<int>> seen_;
  std::map<std::vector<int>, std::vector<double>> found_;
};

}  // namespace

std::optional<std::vector<ForceVertex>> enumerate_vertices(const Eigen::MatrixXd& matrix,
                                                           const std::vector<int>& basis) {
  Enumeration e(matrix, basis);
  if (!e.run()) return std::nullopt;
  return e.vertices();
}

}  // namespace stickwright
