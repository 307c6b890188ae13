// two_hands.h - which group of touching pieces can start to slide, all of it along one direction.
#pragma once
#include <cstdint>
#include <vector>

#include "takeapart/contacts.h"

namespace stickwright {

inline constexpr int kMostPieces = 64;  // of one puzzle: groups of pieces are kept as bits of a word

// Who is in whose way along one direction: bit j of [i] says that i would run into j.
using BlockingGraph = std::vector<std::uint64_t>;

//   assumes  at most kMostPieces pieces
//   source   R. H. Wilson and J.-C. Latombe, "Geometric reasoning about mechanical assembly", Artificial Intelligence
//   71
//            (1994)
BlockingGraph blocking_graph(const Touching& touching, Vec direction);

// The least groups of pieces that run into nobody outside, as bits: closed sets of the graph that hold no smaller one.
//   returns  none when only all pieces together could move: each is then in the way of each other, if indirectly
std::vector<std::uint64_t> movable_groups(const BlockingGraph& graph);

// These pieces can start to slide along the direction, the others staying where they are.
struct Parting {
  Vec direction;
  std::vector<int> moves;  // ascending
  friend auto operator<=>(const Parting&, const Parting&) = default;
};

// Every least group for every direction in which touching cells of the family can start to slide differently.
//   returns  in the order of family.slide_directions(); empty: two hands cannot start to part the pieces
//   exact    a piece that is in the way in some direction is so in all near it, and each class of directions is
//            represented by one in which fewest are in the way: what starts anywhere in the class starts there
std::vector<Parting> partings(const Family& family, const Touching& touching);

}  // namespace stickwright
