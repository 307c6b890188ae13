// real_closing.h - the play of a puzzle of real convex blocks, by moving whole pieces: no expansion.
#pragma once
#include <span>
#include <vector>

#include "support/real_gluing.h"

namespace stickwright::real {

// How far apart two convex bodies are, below 0 how far they go into one another: the largest, over all directions, of
// what lies between them in that direction.
//   exact    to rounding: all faces' normals, and all crossed edges, when they go into one another; else every pair of
//            features that can be nearest
double separation(const Body& a, const Body& b);

struct Closing {
  double play_mm = 0;             // the smallest separation
  std::vector<Placement> pieces;  // [pieces] moved by; the first stands still
  double still_to_gain_mm = 0;    // what a linear program still promises from there
  double farthest_mm = 0;         // that a piece was moved: slide, or turn times kTurnArm
};

inline constexpr double kTurnArm = 20;  // mm

// Moves the pieces, none farther than `reach`, such that the smallest separation of blocks that touch in the exact
// puzzle is as large as can be: linear programs over the motions and a separating plane for each contact, one after
// another, each about where the one before has led.
//   start    [pieces] moved by at first; empty: none is
//   returns  the separations along the planes found, which separation() confirms
Closing close_up(const ClosedPuzzle& puzzle, std::span<const BlockContact> contacts, std::span<const RealBlock> blocks,
                 double reach_mm, std::vector<Placement> start = {});

// The smallest of separation() over the contacts.
double smallest_separation(const ClosedPuzzle& puzzle, std::span<const BlockContact> contacts,
                           std::span<const RealBlock> blocks, std::span<const Placement> pieces);

}  // namespace stickwright::real
