#include "closing/enumerate_vertices.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <numeric>

namespace stickwright {
namespace {

constexpr std::size_t kMostRays = 4000;               // at any time
constexpr std::size_t kMostComparisons = 40'000'000;  // of sets of rows: some tenths of a second
constexpr double kZero = 1e-11, kDoubt = 1e-7;        // of forces whose magnitudes add up to 1
constexpr double kBalance = 1e-11;

// An extreme ray of the cone as far as it is cut. Forces on rows not cut yet may have any sign.
struct ForceRay {
  Eigen::VectorXd force;
  RowSet none;  // rows cut (or free) that carry no force
};

class DoubleDescription {
 public:
  explicit DoubleDescription(const FreeForces& f) : dimension_(f.free.size()), left_(f.following) {
    for (std::size_t i = 0; i < f.free.size(); ++i) {
      ForceRay ray{f.forces.col(static_cast<Eigen::Index>(i)), {}};
      ray.force /= ray.force.lpNorm<1>();
      for (const int r : f.free) ray.none[r] = r != f.free[i];
      rays_.push_back(std::move(ray));
    }
  }

  // False when it was given up.
  bool run() {
    while (!left_.empty()) {
      const auto next = cheapest();
      const int row = *next;
      left_.erase(next);
      if (!cut(row)) return false;
    }
    return true;
  }

  const std::vector<ForceRay>& rays() const { return rays_; }

 private:
  // The row that makes the fewest pairs: the order decides whether there are a thousand rays on the way or a million.
  std::vector<int>::iterator cheapest() {
    const auto pairs = [this](int row) {
      std::size_t above = 0, below = 0;
      for (const ForceRay& ray : rays_) (ray.force[row] > kZero ? above : below) += std::abs(ray.force[row]) > kZero;
      return above * below;
    };
    std::vector<std::size_t> cost;
    for (const int row : left_) cost.push_back(pairs(row));
    return left_.begin() + (std::min_element(cost.begin(), cost.end()) - cost.begin());
  }

  bool cut(int row) {
    std::vector<const ForceRay*> above, below;
    std::vector<ForceRay> kept;
    for (ForceRay& ray : rays_) {
      const double force = ray.force[row];
      if (std::abs(force) > kZero && std::abs(force) < kDoubt) return false;
      if (force > kZero) above.push_back(&ray);
      if (force < -kZero) below.push_back(&ray);
      if (force >= -kZero) kept.push_back(ray);
      if (std::abs(force) <= kZero) kept.back().force[row] = 0, kept.back().none[row] = true;
    }
    for (const ForceRay* a : above)
      for (const ForceRay* b : below) {
        if (neighbors(*a, *b)) kept.push_back(between(*a, *b, row));
        if (kept.size() > kMostRays || comparisons_ > kMostComparisons) return false;
      }
    rays_ = std::move(kept);
    return true;
  }

  // Two extreme rays span a face of dimension 2 when no third one lies in the least face that holds both.
  bool neighbors(const ForceRay& a, const ForceRay& b) {
    const RowSet both = a.none & b.none;
    ++comparisons_;
    if (both.count() + 2 < dimension_) return false;
    comparisons_ += rays_.size();
    return std::none_of(rays_.begin(), rays_.end(),
                        [&](const ForceRay& c) { return &c != &a && &c != &b && (both & ~c.none).none(); });
  }

  // The ray between two neighbors that has no force on the row.
  static ForceRay between(const ForceRay& above, const ForceRay& below, int row) {
    ForceRay ray{above.force[row] * below.force - below.force[row] * above.force, above.none & below.none};
    ray.none[row] = true;
    for (Eigen::Index r = 0; r < ray.force.size(); ++r)
      if (ray.none[static_cast<std::size_t>(r)]) ray.force[r] = 0;
    ray.force /= ray.force.lpNorm<1>();
    return ray;
  }

  std::size_t dimension_, comparisons_ = 0;
  std::vector<int> left_;
  std::vector<ForceRay> rays_;
};

}  // namespace

FreeForces free_forces(const Eigen::MatrixXd& conditions) {
  const Eigen::Index rows = conditions.rows(), rank = conditions.cols();
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(conditions.transpose());
  const Eigen::MatrixXd right = qr.matrixR().topRightCorner(rank, rows - rank);
  const Eigen::MatrixXd follow = qr.matrixR().topLeftCorner(rank, rank).triangularView<Eigen::Upper>().solve(right);
  const auto& order = qr.colsPermutation().indices();
  FreeForces f;
  f.following.assign(order.data(), order.data() + rank);
  std::vector<Eigen::Index> column(static_cast<std::size_t>(rows - rank));
  std::iota(column.begin(), column.end(), 0);
  std::sort(column.begin(), column.end(), [&](auto a, auto b) { return order[rank + a] < order[rank + b]; });
  f.forces = Eigen::MatrixXd::Zero(rows, rows - rank);
  for (Eigen::Index i = 0; i < rows - rank; ++i) {
    f.free.push_back(order[rank + column[i]]);
    f.forces(f.free.back(), i) = 1;
    for (Eigen::Index k = 0; k < rank; ++k) f.forces(f.following[k], i) = -follow(k, column[i]);
  }
  return f;
}

std::optional<std::vector<ForceVertex>> enumerate_vertices(const Eigen::MatrixXd& matrix) {
  if (matrix.rows() > static_cast<Eigen::Index>(kMostListedRows)) return std::nullopt;
  DoubleDescription cone(free_forces(matrix.leftCols(matrix.cols() - 1)));
  if (!cone.run()) return std::nullopt;
  const Eigen::VectorXd wanted = Eigen::VectorXd::Unit(matrix.cols(), matrix.cols() - 1);
  std::vector<ForceVertex> all;
  for (const ForceRay& ray : cone.rays()) {
    const Eigen::VectorXd share = ray.force / ray.force.sum();
    if (!((matrix.transpose() * share - wanted).lpNorm<Eigen::Infinity>() <= kBalance)) return std::nullopt;
    ForceVertex v;
    for (int r = 0; r < static_cast<int>(share.size()); ++r) {
      if (ray.none[r]) continue;
      if (!(share[r] >= kLeastShare)) return std::nullopt;
      v.rows.push_back(r), v.shares.push_back(share[r]);
    }
    all.push_back(std::move(v));
  }
  std::sort(all.begin(), all.end(), [](const ForceVertex& a, const ForceVertex& b) { return a.rows < b.rows; });
  return all;
}

}  // namespace stickwright
