// part_search.h - every position that the pieces of one part can reach with two hands, breadth first.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "takeapart/slide_table.h"

namespace stickwright {

// Pieces of one part as bits: bit k is part[k].
using Group = std::uint64_t;

// A slide that ends in another position (stops > 0) or parts the group from the rest (stops == kFreeStops).
struct Slide {
  Group group = 0;
  int direction = 0;  // of the slide table
  std::int16_t stops = 0;
};

// A part: pieces that have not been separated from each other yet, and where they stand.
struct StandingPart {
  std::vector<int> pieces;
  std::vector<Stand> at;
  friend auto operator<=>(const StandingPart&, const StandingPart&) = default;
};

class PartSearch {
 public:
  // The position of the part is position 0; positions are relative to its first piece.
  PartSearch(SlideTable& table, const StandingPart& part);

  std::size_t positions() const { return from_.size(); }
  std::vector<Stand> at(std::size_t position) const;
  int moves_to(std::size_t position) const { return depth_[position]; }
  // The position that this one was reached from, and how.
  std::size_t before(std::size_t position) const { return static_cast<std::size_t>(from_[position]); }
  Slide by(std::size_t position) const { return by_[position]; }

  // Ways to part the pieces that stand at this position, smaller groups first: only the least groups around each piece,
  // or all groups.
  enum class Which { least, all };
  std::vector<Slide> ways_out(std::size_t position, Which which);
  // Adds the positions that one slide leads to from this one.
  void expand(std::size_t position);
  // Adds a position that was reached in another way.   returns  whether it is new
  bool add(const std::vector<Stand>& at, std::size_t from, const Slide& by);

  std::int64_t tests() const { return tests_; }
  // Memory in use for all positions, with the room to grow.
  std::size_t bytes() const;
  // Some slide met another piece between two stops, or a position had more groups than were tried.
  bool left_something_out() const { return left_out_; }

 private:
  using Blocks = std::vector<Group>;  // [direction * pieces + piece]: who is in the way

  // Who is in whose way at a position: of the next stop, and of leaving for good.
  void look(std::size_t position);
  template <class Visit>
  void for_each_group(const Blocks& blocks, Which which, const Visit& visit);
  std::int16_t stops_of(Group group, int direction) const;
  // At this place of two pieces a slide along the direction crosses a plane in which their obstacles can end.
  bool crosses_a_plane(Stand offset, int direction) const;
  bool may_stop(const std::vector<Stand>& at, Group group, int direction) const;

  SlideTable& table_;
  std::vector<int> pieces_;
  std::size_t n_;
  std::vector<Stand> at_;  // [position * pieces + piece]
  std::vector<std::int32_t> from_, depth_;
  std::vector<Slide> by_;
  std::vector<std::int32_t> slots_;
  std::vector<const Passing*> passing_;  // of the position looked at, [i * pieces + j], i < j
  Blocks near_, ever_;
  std::vector<Group> groups_, closures_;
  std::size_t looked_at_ = SIZE_MAX;
  std::int64_t tests_ = 0;
  bool left_out_ = false;
};

}  // namespace stickwright
