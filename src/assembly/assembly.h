// assembly.h - every way in which the pieces fill the goal.
#pragma once
#include <atomic>
#include <cstdint>
#include <functional>
#include <vector>

#include "assembly/cover.h"
#include "design/design.h"
#include "quantity/result.h"

namespace stickwright {

// Pieces of one shape, whatever their names: they are interchangeable.
struct Supply {
  Shape shape;
  int count = 0;          // supplied
  int at_least = 0;       // of which so many have to be used
  std::vector<int> made;  // index into made_pieces(design) of each copy, those that have to be used first; size `count`
};
std::vector<Supply> supplies_of(const Design& design);

struct PlacedPiece {
  int supply = 0;
  Cells cells;
  friend auto operator<=>(const PlacedPiece&, const PlacedPiece&) = default;
};
// Pieces in the order of their least cells.
using Assembly = std::vector<PlacedPiece>;

struct Assemblies {
  Verdict verdict = Verdict::stopped;
  std::int64_t count = 0;      // up to the rotations of the goal, or reflections too; a lower bound when stopped
  std::int64_t total = 0;      // turned copies counted apart; likewise
  std::vector<Assembly> kept;  // the first of them, one for each class
  std::int64_t nodes = 0;      // choices opened
  std::size_t branches_done = 0, branches = 0;  // of the search, in order: where to go on later
  std::int64_t count_done = 0, total_done = 0;  // found in these branches
};

// What counts as the same assembly.
enum class UpTo { rotations, reflections };

struct AssemblyLimits {
  std::int64_t nodes = 100'000'000;
  std::int64_t count = INT64_MAX;  // stop when so many are found
  std::size_t keep = 1000;
  UpTo up_to = UpTo::rotations;
  int threads = 0;               // 0: as many as the machine has
  std::size_t first_branch = 0;  // branches before this one were searched earlier
  const std::atomic<bool>* cancel = nullptr;
};

// Called from one thread at a time, in the order of the answer; `as_found` as in CoverListener.
struct AssemblyListener {
  std::function<void(const Assembly&)> on_assembly;
  std::function<void(const CoverProgress&)> on_progress;
  std::int64_t most = INT64_MAX;  // on_assembly hears of the first so many only
  bool as_found = false;
};

// Fills the goal with the supplied pieces, each turned but never mirrored. Docs: docs/derivations/assemblies.md.
//   returns  found or none_exists when the search was exhausted, else stopped; the same answer in the same order on any
//            number of threads
//   exact    up to rotations each class counts once; up to reflections, where the supply is its own mirror image, an
//            assembly and its mirror image count once
//   assumes  the goal has at most kMaxGoalCells cells (checked on load)
Assemblies find_assemblies(const Design& design, const AssemblyLimits& limits = {}, const AssemblyListener& tell = {});

// True when every piece stands in the goal, none overlaps another or is mirrored, none is used more often or less often
// than the design allows, and no cell is empty that must not be. Knows only the rules.
bool check_assembly(const Design& design, const Assembly& assembly);

// Which of made_pieces(design) each placed piece is: result[i] for assembly[i]. Copies are handed out in order.
std::vector<int> made_pieces_in(const Assembly& assembly, const std::vector<Supply>& supplies);

// The design reduced to what one of its assemblies uses. What numbers pieces in the assembly (supply, made pieces)
// holds for the design it was found for, not for this one.
Design settled(const Design& design, const Assembly& assembly);

}  // namespace stickwright
