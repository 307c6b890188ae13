#include "fit/neighbor_walk.h"

#include <algorithm>
#include <limits>

#include "fit/row_table.h"

namespace stickwright {
namespace {

constexpr int kTogether = 8;
constexpr int kMostStarts = 256;  // looked at for each sample

}  // namespace
}  // namespace stickwright

#define STICKWRIGHT_LOOPS "fit/neighbor_loops.h"
#include "fit/register_widths.h"

namespace stickwright {
namespace {

FreeTable free_table(const BindingPart& part, const FreeForces& f) {
  FreeTable t{part.rows, padded(static_cast<int>(f.free.size())), {}};
  t.values.assign(t.rows.size() * t.height, 0);
  for (Eigen::Index r = 0; r < f.forces.rows(); ++r)
    for (Eigen::Index i = 0; i < f.forces.cols(); ++i) t.values[r * t.height + i] = f.forces(r, i);
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
void VertexTable::add(int name, const double* free) {
  const int lane = count % kTogether;
  if (lane == 0) shares.resize(shares.size() + static_cast<std::size_t>(height) * kTogether);
  double* block = shares.data() + shares.size() - static_cast<std::size_t>(height) * kTogether;
  for (int i = 0; i < height; ++i)
    for (int j = lane; j < kTogether; ++j) block[i * kTogether + j] = free[i];
  names.resize(static_cast<std::size_t>(count) - lane + kTogether, name);
  std::fill(names.begin() + count, names.end(), name);
  ++count;
}

NeighborWalk::NeighborWalk(const BindingPart& part, std::size_t most_bytes) : part_(&part), most_bytes_(most_bytes) {
  const FreeForces f = free_forces(part.matrix);
  free_ = free_table(part, f);
  const std::vector<ForceVertex>& all = *part.all_vertices;
  std::vector<int> place(part.rows.size(), -1);
  for (std::size_t i = 0; i < f.free.size(); ++i) place[f.free[i]] = static_cast<int>(i);
  shares_.assign(all.size() * free_.height, 0);
  for (std::size_t v = 0; v < all.size(); ++v) {
    carrying_.emplace_back();
    for (std::size_t i = 0; i < all[v].rows.size(); ++i) {
      const int r = all[v].rows[i];
      carrying_.back()[r] = true;
      if (place[r] >= 0) shares_[v * free_.height + place[r]] = all[v].shares[i];
    }
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
      if (moved && starts_.count < kMostStarts) starts_.add(vertex, shares_.data() + vertex * free_.height);
      return here.value;
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
  VertexTable t{free_.height, 0, {}, {}};
  for (const int v : names) t.add(v, shares_.data() + static_cast<std::size_t>(v) * free_.height);
  return t;
}

void NeighborWalk::forget() {
  starts_ = table({0});
  near_.assign(carrying_.size(), VertexTable{});
  bytes_ = 0;
}

}  // namespace stickwright
