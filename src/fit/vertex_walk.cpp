#include <Eigen/LU>
#include <algorithm>
#include <limits>
#include <map>
#include <stdexcept>
#include <unordered_map>

#include "fit/balance_matrix.h"
#include "fit/closed_fit.h"

namespace stickwright {
namespace {

constexpr double kSlack = 2e-10;  // mm: a gap short by less is none
constexpr double kPivot = 1e-9;   // an entry of the ratio test below it is none
constexpr double kTie = 1e-11;    // ratios closer than this are equal
constexpr int kMostSteps = 400;   // from one sample's first vertex

struct Vertex {
  std::vector<int> rows;              // ascending
  Eigen::MatrixXd inverse;            // of the matrix whose columns are those rows
  std::unordered_map<int, int> next;  // by entering row
};

}  // namespace

struct VertexWalk::Memory {
  const FitProgram* program;
  const BalanceMatrix* m;
  std::size_t most = 0;  // vertices
  std::vector<Vertex> vertices;
  std::map<std::vector<int>, int> by_rows;
  int at = 0;
  WalkCounts counts;

  int vertex(std::vector<int> rows) {
    const auto [found, fresh] = by_rows.try_emplace(std::move(rows), static_cast<int>(vertices.size()));
    if (!fresh) return found->second;
    Eigen::MatrixXd basis(m->size(), m->size());
    for (int i = 0; i < m->size(); ++i) basis.col(i) = m->rows.row(found->first[i]);
    vertices.push_back({found->first, basis.partialPivLu().inverse(), {}});
    return found->second;
  }

  // The row that leaves when `entering` comes in; -1 where rounding leaves none.
  int leaving(const Vertex& v, int entering) const {
    const Eigen::VectorXd change = v.inverse * m->rows.row(entering).transpose();
    int best = -1;
    double least = std::numeric_limits<double>::infinity();
    for (int i = 0; i < m->size(); ++i) {
      if (change[i] < kPivot) continue;
      const double ratio = std::max(0.0, v.inverse(i, m->size() - 1)) / change[i];
      if (ratio < least - kTie || (ratio < least + kTie && change[i] > change[best]))
        best = i, least = std::min(least, ratio);
    }
    return best;
  }

  int step(int from, int entering) {
    if (const auto known = vertices[from].next.find(entering); known != vertices[from].next.end()) return known->second;
    const int out = leaving(vertices[from], entering);
    if (out < 0) return -1;
    std::vector<int> rows = vertices[from].rows;
    rows[out] = entering;
    std::sort(rows.begin(), rows.end());
    if (vertices.size() >= most) {
      vertices.clear();
      by_rows.clear();
      return vertex(std::move(rows));
    }
    const int to = vertex(std::move(rows));
    vertices[from].next.emplace(entering, to);
    return to;
  }

  // Columns' values and the play, such that the gaps of the vertex's rows are just that.
  Eigen::VectorXd stand(const Vertex& v, const Eigen::VectorXd& h) const {
    Eigen::VectorXd of_rows(m->size());
    for (int i = 0; i < m->size(); ++i) of_rows[i] = h[v.rows[i]];
    return v.inverse.transpose() * of_rows;
  }

  // The vertex whose forces and positions prove each other for h; -1 when the walk gave up.
  int walk(const Eigen::VectorXd& h, Eigen::VectorXd& stands) {
    for (int steps = 0; at >= 0 && steps < kMostSteps; ++steps) {
      stands = stand(vertices[at], h);
      Eigen::Index worst = 0;
      if ((h - m->rows * stands).minCoeff(&worst) >= -kSlack) return at;
      ++counts.pivots;
      at = step(at, static_cast<int>(worst));
    }
    return -1;
  }

  void restart() {
    at = vertex(m->first_basis);
    ++counts.fresh_solves;
  }
};

VertexWalk::VertexWalk(const FitProgram& program, std::size_t most_bytes) : memory_(std::make_unique<Memory>()) {
  memory_->program = &program;
  memory_->m = &program.balance();
  const std::size_t size = memory_->m->size();
  memory_->most = std::max<std::size_t>(2, most_bytes / (8 * size * (size + 2) + 200));
  if (program.can_bind()) memory_->at = memory_->vertex(memory_->m->first_basis);
}

VertexWalk::~VertexWalk() = default;
VertexWalk::VertexWalk(VertexWalk&&) noexcept = default;
VertexWalk& VertexWalk::operator=(VertexWalk&&) noexcept = default;

ClosedFit VertexWalk::fit(std::span<const double> h) {
  Memory& k = *memory_;
  ++k.counts.samples;
  if (!k.program->can_bind()) return {std::numeric_limits<double>::infinity(), {}, {}};
  const Eigen::Map<const Eigen::VectorXd> gaps(h.data(), static_cast<Eigen::Index>(h.size()));
  Eigen::VectorXd stands;
  const int found = k.walk(gaps, stands);
  if (found < 0) {
    k.restart();
    return k.program->solve(h);
  }
  const Vertex& v = k.vertices[found];
  ClosedFit fit;
  fit.play_mm = stands[k.m->size() - 1];
  for (int i = 0; i < k.m->size(); ++i)
    if (const double share = v.inverse(i, k.m->size() - 1); share > 1e-11) fit.forces.push_back({v.rows[i], share});
  stands *= -1;
  fit.moved = twists(*k.m, {stands.data(), static_cast<std::size_t>(k.m->size() - 1)});
  return fit;
}

double VertexWalk::play(std::span<const double> h) {
  return fit(h).play_mm;
}

void VertexWalk::play(std::span<const double> h, std::size_t samples, std::span<double> out) {
  const std::size_t rows = memory_->program->rows();
  for (std::size_t i = 0; i < samples; ++i) out[i] = play(h.subspan(i * rows, rows));
}

WalkCounts VertexWalk::counts() const {
  WalkCounts c = memory_->counts;
  c.vertices = memory_->vertices.size();
  return c;
}

}  // namespace stickwright
