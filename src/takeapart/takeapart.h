// takeapart.h - how an assembled puzzle comes apart: groups of pieces sliding in straight lines, swept exactly.
#pragma once
#include <atomic>
#include <cstdint>
#include <optional>
#include <vector>

#include "family/family.h"
#include "quantity/result.h"
#include "takeapart/first_motion.h"
#include "takeapart/sweep.h"

namespace stickwright {

// Pieces that slide together.
struct Glide {
  std::vector<int> pieces;  // ascending
  Vec direction;
  friend auto operator<=>(const Glide&, const Glide&) = default;
};

// One move: a group of pieces slides along a straight line, the rest of the same part is held. In a coordinated move
// further groups slide at the same time, each along its own direction and as many times that far.
struct Step {
  std::vector<int> moves;  // pieces that slide, ascending
  std::vector<int> from;   // pieces that they slide away from, held still
  Vec direction;           // lattice units
  Reach distance;          // times the direction; free: the groups leave each other for good
  std::vector<Glide> also = {};
  std::vector<Glide> gliding() const;                              // the groups that move, `moves` first
  int hands() const { return 2 + static_cast<int>(also.size()); }  // groups that move against each other
  friend bool operator==(const Step&, const Step&) = default;
};

// Why pieces stay together, when they do.
enum class Proof {
  none,         // not proven, or nothing to prove
  certificate,  // balanced forces: nothing can start to move
  exhausted     // everything that can be reached has been looked at
};

struct TakeApart {
  Verdict verdict = Verdict::stopped;
  std::vector<Step> steps;    // when found: until every piece is alone
  int moves_to_first = 0;     // when found: steps up to the first parting, the fewest there are with two hands
  bool fewest = false;        // when found: no other way in such slides of two hands has fewer steps in all
  Proof proof = Proof::none;  // when none exists
  std::vector<int> stuck;     // when none exists: pieces that stay together, whatever else can be taken off
  std::optional<Certificate> certificate;  // with Proof::certificate; contacts count within `stuck`
  std::int64_t states = 0;                 // positions looked at
  std::int64_t tests = 0;                  // groups tried along a direction
  bool coordinated() const;                // some step needs more than two hands
};

struct TakeApartLimits {
  std::int64_t states = 100'000;
  bool alike = false;        // take parts that are turned or mirrored copies of each other apart the same way
  bool certificates = true;  // prove with forces where nothing can start to move; else by exhaustion only
  const std::atomic<bool>* cancel = nullptr;
};

// Takes the pieces apart, group by group.
//   pieces   where they stand in the assembly; no two overlap; at most kMostPieces
//   returns  found, with the fewest slides to the first parting: slides along Family::edge_directions() that end at
//            stops or are endless, since a slide along another line might save a step; none_exists with a proof;
//            stopped at a limit, or where the search is no proof: docs/derivations/taking-apart.md says when that is
//   exact    every slide is swept with integers, breadth first over positions
TakeApart take_apart(const Family& family, const std::vector<Cells>& pieces, const TakeApartLimits& limits = {});

// True when the steps take all pieces apart without one entering another. Knows only the rules: it tests moving pairs
// of convex cells with separating axes made from their own faces and edges.
bool check_take_apart(const Family& family, const std::vector<Cells>& pieces, const std::vector<Step>& steps);

}  // namespace stickwright
