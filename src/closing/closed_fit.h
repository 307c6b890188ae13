// closed_fit.h - how snug the closed puzzle is: the play that is left when every piece stands where it fits best.
//
// The play s is the greatest number such that the pieces can stand with every gap at least s; below 0 it is what has to
// be squeezed or taken off. Only the vector h of gap_rows.h differs from one puzzle to the next. Derivation and proof:
// docs/derivations/closed-fit.md.
#pragma once
#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "closing/gap_rows.h"

namespace stickwright {

struct ContactForce {
  int row = 0;
  double share = 0;  // of all contact forces; > 0
};

struct Twist {
  Point slide, turn;  // mm, rad about the body's center
};

struct ClosedFit {
  double play_mm = 0;                // endless when the contacts cannot bind
  std::vector<ContactForce> forces;  // that balance on every body and keep the play from growing; they add up to 1
  std::vector<Twist> moved;          // [bodies]; body 0 stands still; empty when the play is endless
};

struct BalanceMatrix;
struct BindingParts;

// The part of the question that all puzzles of one design have in common. Cannot be changed; threads may share it.
class FitProgram {
 public:
  // Some milliseconds: what cannot bind is set aside, and small parts of what can are solved for good.
  //   throws   runtime_error: rounding leaves open which contacts can bind
  //   assumes  bodies >= 1, one center a body; every row's bodies exist and differ; normals of length 1
  explicit FitProgram(GapRows rows);

  // False when no forces between the pieces balance: they always go together, with any play, however bad the errors.
  bool can_bind() const;
  std::size_t rows() const;
  const GapRows& geometry() const;

  // A solution from nothing, by the linear solver: shares no step with VertexWalk.
  //   h        mm, [rows]
  //   returns  the play to 1e-9 mm
  //   throws   runtime_error: the solver gives up, or the forces and positions it found do not prove the play
  ClosedFit solve(std::span<const double> h) const;

  const BalanceMatrix& balance() const;  // for VertexWalk, as is the next
  const BindingParts& parts() const;

 private:
  std::shared_ptr<const BalanceMatrix> balance_;
  std::shared_ptr<const BindingParts> parts_;
};

struct WalkCounts {
  std::uint64_t samples = 0, pivots = 0;
  std::uint64_t fresh_solves = 0;  // by the linear solver, where the walk did not end or was not proved
  std::size_t vertices = 0;        // known now; of small parts, all there are
};

// Answers one sample after another, remembering sets of balanced forces, which depend on the geometry alone: a sample
// starts from the one that binds it most, and is seldom many steps from its answer. One per thread.
//   exact    each answer is proved, to 1e-9 mm: by forces and positions of equal value, or, where all sets of balanced
//            forces there are have been listed, as the least of them. So it depends neither on the samples before nor
//            on the machine by more than that
//   assumes  h of some mm at most; not NaN
//   throws   as FitProgram::solve does; length_error: more than some 8000 rows in one part
class VertexWalk {
 public:
  // Keeps a share in the program.
  //   most_bytes  about the most that it remembers; at least one set of forces a part is. Beyond it, or when so many
  //   are
  //               known that looking at them takes too long, the half that was used less is forgotten
  explicit VertexWalk(const FitProgram& program, std::size_t most_bytes = std::size_t{64} << 20);
  ~VertexWalk();
  VertexWalk(VertexWalk&&) noexcept;
  VertexWalk& operator=(VertexWalk&&) noexcept;

  double play(std::span<const double> h);
  // Many at once is faster: eight side by side.
  //   h    mm, sample after sample [samples][rows]
  //   out  [samples]
  void play(std::span<const double> h, std::size_t samples, std::span<double> out);
  ClosedFit fit(std::span<const double> h);  // with forces and positions; takes longer

  WalkCounts counts() const;

 private:
  struct Memory;
  std::unique_ptr<Memory> memory_;
};

}  // namespace stickwright
