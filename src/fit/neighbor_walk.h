// neighbor_walk.h - the least play of one part of which all sets of forces are known, but too many to look at each.
// For VertexWalk.
//
// Work is linear, so a vertex that is not above any of its neighbors in the polytope of balanced forces is the least
// of all. Neighbors are found once and remembered, vertex by vertex, as samples come by.
#pragma once
#include <cstdint>
#include <vector>

#include "fit/aligned.h"
#include "fit/enumerate_vertices.h"

namespace stickwright {

// Which of the vertices share an edge with vertex k.
//   carrying  the rows with a force of every vertex of the polytope
std::vector<int> neighbors(const std::vector<RowSet>& carrying, int k);

// The gaps of a part, taken together to as many numbers as there are free forces: a gap in a row that follows is spread
// over the free ones that it follows from. Then work is a sum over the free forces alone.
struct FreeTable {
  std::vector<int> rows;  // of the program
  int height = 0;         // number of free forces, padded
  Doubles values;         // [rows][height]
};

// Vertices by their free forces, eight abreast: [count / 8, rounded up][height][8].
struct VertexTable {
  int height = 0, count = 0;
  std::vector<int> names;
  Doubles shares;
  void add(int name, const double* free);  // [height]
};

struct LeastValue {
  double value;
  std::int64_t which;  // in the table
};

class NeighborWalk {
 public:
  // part must outlive it and have its vertices listed; most_bytes: about what it may remember
  NeighborWalk(const BindingPart& part, std::size_t most_bytes);

  // The play of the part.
  //   h        [rows of the program]
  //   exact    as the list of vertices is whole. Rounding, some 1e-16 of the gaps, counts 1 / kLeastShare times at most
  double play(const double* h);

  std::uint64_t steps() const { return steps_; }
  std::size_t known() const { return starts_.names.size(); }

 private:
  const VertexTable& near(int vertex);
  VertexTable table(const std::vector<int>& names) const;
  void forget();

  const BindingPart* part_;
  FreeTable free_;
  std::vector<RowSet> carrying_;
  Doubles shares_;                 // [vertices][height]
  VertexTable starts_;             // that samples have ended at
  std::vector<VertexTable> near_;  // [vertices]; empty where not asked for yet
  Doubles gathered_;
  std::size_t most_bytes_, bytes_ = 0;
  std::uint64_t steps_ = 0;
};

}  // namespace stickwright
