// neighbor_walk.h - the least play of one part of which all sets of forces are known, but too many to look at each.
// For VertexWalk.
//
// Work is linear, so a vertex that is not above any of its neighbors in the polytope of balanced forces is the least
// of all. Neighbors are found once and remembered, vertex by vertex, as samples come by.
#pragma once
#include <cstdint>
#include <vector>

#include "closing/aligned.h"
#include "closing/enumerate_vertices.h"

namespace stickwright {

// Which of the vertices share an edge with vertex k.
//   carrying  the rows with a force of every vertex of the polytope
std::vector<int> neighbors(const std::vector<RowSet>& carrying, int k);

// A part's gaps, taken together to as many numbers as forces are free when they balance and add up to 1: work is a sum
// over the free forces, plus what it is when all of these are 0.
struct FreeTable {
  std::vector<int> rows;     // of the program
  int free = 0, height = 0;  // height: free + 1, padded
  Doubles values;            // [rows][height]: a number for each free force, then one for the rest
};

// Vertices by their free forces, eight abreast: [count / 8, rounded up][free][8].
struct VertexTable {
  int free = 0, count = 0;
  std::vector<int> names;  // of whole eights
  Doubles shares;
  void add(int name, const double* forces);  // [free]
};

struct LeastValue {
  double value;
  std::int64_t which;  // in the table
};

class NeighborWalk {
 public:
  // part: with its vertices listed; most_bytes: about what it may remember
  NeighborWalk(const BindingPart& part, std::size_t most_bytes);

  // The play of the part.
  //   h        [rows of the program]
  //   exact    as the list of vertices is whole. Rounding, some 1e-16 of the gaps, counts 1 / kLeastShare times at most
  double play(const double* h);

  std::uint64_t steps() const { return steps_; }
  std::size_t known() const { return static_cast<std::size_t>(starts_.count); }

 private:
  const VertexTable& near(int vertex);
  const double* forces(int vertex) const { return shares_.data() + static_cast<std::size_t>(vertex) * free_.free; }
  VertexTable table(const std::vector<int>& names) const;
  void forget();

  FreeTable free_;
  std::vector<RowSet> carrying_;
  Doubles shares_;                 // [vertices][free]
  VertexTable starts_;             // that samples have ended at
  std::vector<VertexTable> near_;  // [vertices]; empty where not asked for yet
  Doubles gathered_;
  std::size_t most_bytes_, bytes_ = 0;
  std::uint64_t steps_ = 0;
};

}  // namespace stickwright
