#include "closing/neighbor_walk.h"

#include <algorithm>
#include <limits>

#include "closing/row_table.h"

namespace stickwright {
namespace {

constexpr int kTogether = 8;
constexpr int kMostStarts = 256;  // looked at for each sample

}  // namespace
}  // namespace stickwright

#define STICKWRIGHT_LOOPS "closing/neighbor_loops.h"
#include "closing/register_widths.h"

namespace stickwright {
namespace {

Eigen::VectorXd forces_of(const ForceVertex& v, Eigen::Index rows) {
  Eigen::VectorXd y = Eigen::VectorXd::Zero(rows);
  for (std::size_t i = 0; i < v.rows.size(); ++i) y[v.rows[i]] = v.shares[i];
  return y;
}

FreeTable free_table(const BindingPart& part, const FreeForces& f) {
  const auto free = static_cast<int>(f.free.size());
  FreeTable t{part.rows, free, padded(free + 1), {}};
  t.values.assign(t.rows.size() * t.height, 0);
  Eigen::VectorXd rest = forces_of(part.all_vertices->front(), f.forces.rows());
  rest -= f.forces * Eigen::VectorXd(rest(f.free));
  for (Eigen::Index r = 0; r < f.forces.rows(); ++r) {
    for (int i = 0; i < free; ++i) t.values[r * t.height + i] = f.forces(r, i);
    t.values[r * t.height + free] = rest[r];
  }
  return t;
}

}  // namespace

// The rows of a face are those that carry a force anywhere in it. An edge is a least face: of the faces that hold k and
// another vertex, one whose rows do not include all rows of another.
std::vector<int> neighbors(const std::vector<RowSet>& carrying, int k) {
  std::vector<std::vector<int>> by_rows(kMostListedRows + 1);
  for (int v = 0; v < static_cast<int>(carrying.size()); ++v)
    if (v != k) by_rows[(carrying[k] | carrying[v]).count()].push_back(v);
  std::vector<int> found;
  std::vector<RowSet> edges;
  for (const std::vector<int>& some : by_rows)
    for (const int v : some) {
      const RowSet face = carrying[k] | carrying[v];
      if (std::any_of(edges.begin(), edges.end(), [&](const RowSet& e) { return (e & ~face).none(); })) continue;
      found.push_back(v);
      edges.push_back(face);
    }
  return found;
}

// Lanes left over repeat the last vertex.
void VertexTable::add(int name, const double* forces) {
  const int lane = count % kTogether;
  const std::size_t block = static_cast<std::size_t>(count / kTogether) * free * kTogether;
  if (lane == 0) {
    shares.resize(block + static_cast<std::size_t>(free) * kTogether);
    names.resize(names.size() + kTogether);
  }
  for (int j = lane; j < kTogether; ++j) {
    for (int i = 0; i < free; ++i) shares[block + i * kTogether + j] = forces[i];
    names[count - lane + j] = name;
  }
  ++count;
}

NeighborWalk::NeighborWalk(const BindingPart& part, std::size_t most_bytes) : most_bytes_(most_bytes) {
  const FreeForces f = free_forces(part.matrix);
  free_ = free_table(part, f);
  for (const ForceVertex& v : *part.all_vertices) {
    carrying_.emplace_back();
    for (const int r : v.rows) carrying_.back()[r] = true;
    const Eigen::VectorXd forces = forces_of(v, part.matrix.rows());
    for (const int r : f.free) shares_.push_back(forces[r]);
  }
  gathered_.resize(free_.height);
  forget();
}

double NeighborWalk::play(const double* h) {
  static const auto gather = STICKWRIGHT_BEST(gather);
  static const auto least_value = STICKWRIGHT_BEST(least_value);
  gather(free_, h, gathered_.data());
  LeastValue here = least_value(starts_, gathered_.data());
  int vertex = starts_.names[here.which];
  for (bool moved = false;; moved = true) {
    const VertexTable& around = near(vertex);
    const LeastValue next = least_value(around, gathered_.data());
    if (!(next.value < here.value)) {
      if (moved && starts_.count < kMostStarts) starts_.add(vertex, forces(vertex));
      return here.value + gathered_[free_.free];
    }
    here = next;
    vertex = around.names[next.which];
    ++steps_;
  }
}

const VertexTable& NeighborWalk::near(int vertex) {
  if (near_[vertex].count == 0) {
    if (bytes_ > most_bytes_) forget();
    near_[vertex] = table(neighbors(carrying_, vertex));
    bytes_ += near_[vertex].shares.size() * sizeof(double) + near_[vertex].names.size() * sizeof(int);
  }
  return near_[vertex];
}

VertexTable NeighborWalk::table(const std::vector<int>& names) const {
  VertexTable t{free_.free, 0, {}, {}};
  for (const int v : names) t.add(v, forces(v));
  return t;
}

void NeighborWalk::forget() {
  starts_ = table({0});
  near_.assign(carrying_.size(), VertexTable{});
  bytes_ = 0;
}

}  // namespace stickwright
