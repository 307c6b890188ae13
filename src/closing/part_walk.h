// part_walk.h - the least play of one part, sample after sample. For VertexWalk.
#pragma once
#include <cstdint>
#include <optional>
#include <set>
#include <vector>

#include "closing/pivots.h"

namespace stickwright {

// What is proved of a part's play: low <= play <= high.
struct PlayBounds {
  double low = 0, high = 0;
};

class PartWalk {
 public:
  // part must outlive it; most_bytes: about what it may remember
  PartWalk(const BindingPart& part, std::size_t most_bytes);

  const BindingPart& part() const { return *part_; }
  const RowTable& table() const { return table_; }
  // Whether look() looks at all vertices there are.
  bool complete() const { return complete_; }

  // The least of the known vertices, an upper bound; of complete parts, the play itself.
  //   gap8     [places][8]
  //   returns  names that hold until the next look
  void look(const double* gap8, LeastOfEight& out);

  // The play of the sample in work().gap, or, if it is proved to be at least `enough`, a lower bound of it only.
  //   start  a vertex as look() names it; of complete parts, 0
  PlayBounds solve(int start, double enough);

  PivotWork& work() { return work_; }  // after solve: its basis and slacks
  // After solve: the forces that prove `high`.
  ForceVertex forces() const;

  std::uint64_t pivots() const { return pivots_; }
  std::uint64_t fresh_solves() const { return fresh_solves_; }
  std::size_t known() const { return static_cast<std::size_t>(list_.count()); }

 private:
  // A vertex with fewer forces than its bases have rows has many bases. From which one the steps are fewest is found by
  // trying another in turn with it.
  struct Known {
    KnownBasis basis;
    std::optional<KnownBasis> rival;
    std::vector<int> carrying;  // places with a force, ascending
    std::uint64_t uses = 0, trials = 0, steps = 0, rival_steps = 0;
    std::uint64_t contests = 0;
  };
  Known vertex_from(const std::vector<int>& basis) const;
  void count_steps(Known& k, bool rival, std::uint64_t steps);
  KnownBasis known_from(const std::vector<int>& basis) const;
  PlayBounds bounds();
  PlayBounds solve_anew();
  bool full() const;
  void consider_learning(Known& k);
  void learn();
  void list(const Known& k);
  void forget_least_used();

  const BindingPart* part_;
  bool complete_ = false;
  RowTable table_;
  PivotWork work_;
  std::vector<Known> known_;
  ForceList list_;
  std::set<std::vector<int>> carrying_;  // the places with a force of each known vertex
  ForceVertex anew_;                     // of the last solve, when the steps did not end
  std::vector<double> left_over_;        // forces and moments
  std::size_t most_known_ = 0;
  std::uint64_t pivots_ = 0, fresh_solves_ = 0, samples_ = 0, learned_ = 0;
};

}  // namespace stickwright
