// nonlinear.h - one puzzle worked out twice: to first order, and by real blocks, real gluing, real motions.
#pragma once
#include <algorithm>
#include <cmath>

#include "design/solids.h"
#include "support/fit_puzzles.h"
#include "support/real_closing.h"

namespace stickwright {

inline const known::FitPuzzle& planned_star() {
  static const known::FitPuzzle p = known::planned_fit_puzzle(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml", 0);
  return p;
}

// The rhombic dodecahedron, cut at random into pieces that bind.
inline known::FitPuzzle cut_core(int pieces, std::uint64_t seed) {
  return known::fit_puzzle("core in " + std::to_string(pieces) + " pieces",
                           known::binding_pieces(*named_solid("rhombic dodecahedron", 1), pieces, seed));
}

struct BothWays {
  double linear_mm = 0, real_mm = 0;
  double confirmed_mm = 0;      // the smallest separation of whole blocks in the position found
  double still_to_gain_mm = 0;  // what a linear program there still promises
  double face_mm = 0;           // by how much a corner of a face lies elsewhere
};

inline double face_difference(const known::FitPuzzle& p, const std::vector<double>& values,
                              const std::vector<real::RealBlock>& blocks) {
  double most = 0;
  for (std::size_t b = 0; b < blocks.size(); ++b)
    for (std::size_t f = 0; f < blocks[b].planes.size(); ++f) {
      const StandingFace& face = p.puzzle.blocks[b].faces[f];
      const Plane& plane = blocks[b].planes[f];
      const Point n = direction(face.plane.n);
      for (Vec v : face.loop) {
        const Point x = in_mm({v, 1}, p.puzzle.unit_mm);
        const double outward = (plane.c - dot(plane.n, x)) / dot(plane.n, n);
        most = std::max(most, std::abs(outward - p.errors.faces[b][f].at(x)(values)));
      }
    }
  return most;
}

// The pieces may be moved as far as the linear answer moves them, and at least by reach_mm: a puzzle that comes apart
// has no best position of all, it can be opened.
inline BothWays both_ways(const known::FitPuzzle& p, const FitProgram& program, const std::vector<double>& values,
                          double reach_mm) {
  const std::vector<real::RealBlock> blocks = real::real_puzzle(p.puzzle, p.shop, p.errors, values);
  const ClosedFit linear = known::linear_fit(p, program, values);
  std::vector<Placement> there;
  for (std::size_t k = 0; k < linear.moved.size(); ++k) {
    const Twist& t = linear.moved[k];
    Placement m = real::turn_about(p.gaps.rows.center[k], t.turn);
    m.shift = m.shift + t.slide;
    there.push_back(m);
    for (double x : {t.slide.a, t.slide.b, t.slide.t}) reach_mm = std::max(reach_mm, std::abs(x));
    for (double x : {t.turn.a, t.turn.b, t.turn.t}) reach_mm = std::max(reach_mm, real::kTurnArm * std::abs(x));
  }
  const real::Closing from_exact = real::close_up(p.puzzle, p.contacts, blocks, reach_mm);
  const real::Closing from_linear = real::close_up(p.puzzle, p.contacts, blocks, reach_mm, there);
  const real::Closing& best = from_exact.play_mm > from_linear.play_mm ? from_exact : from_linear;
  BothWays out{linear.play_mm, best.play_mm, 0, best.still_to_gain_mm, face_difference(p, values, blocks)};
  out.confirmed_mm = real::smallest_separation(p.puzzle, p.contacts, blocks, best.pieces);
  return out;
}

}  // namespace stickwright
