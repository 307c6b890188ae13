// six_sticks_groups.h - which groups of the six sticks can slide, all of them at once as bits of a word.
#pragma once
#include <array>
#include <cstdint>

#include "support/six_sticks_arrangement.h"

namespace stickwright::six_sticks {

// A set of groups: bit g stands for group g.
using Groups = std::uint64_t;

constexpr Groups groups_with(int stick) {
  Groups with = 0;
  for (Group g = 0; g <= kAllSticks; ++g) {
    if (holds(g, stick)) with |= Groups{1} << g;
  }
  return with;
}
inline constexpr std::array<Groups, kSticks> kWith = {groups_with(0), groups_with(1), groups_with(2),
                                                      groups_with(3), groups_with(4), groups_with(5)};

// The groups that may slide up when a cube of `lower` has one of `upper` above it: all but those that hold the lower
// stick and leave the upper one where it is.
constexpr Groups unhindered(int lower, int upper) {
  return ~(kWith[lower] & ~kWith[upper]);
}

// For each axis the groups that can slide up it. A group slides down when the rest of its part slides up.
using Slides = std::array<Groups, 3>;

// Every group of the part but none and all.
inline Slides all_slides(Group part) {
  Groups proper = 0;
  for (Group g = 1; g < part; ++g) {
    if ((g & ~part) == 0) proper |= Groups{1} << g;
  }
  return {proper, proper, proper};
}

}  // namespace stickwright::six_sticks
