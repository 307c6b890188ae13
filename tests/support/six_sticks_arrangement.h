// six_sticks_arrangement.h - the closed six-stick burr: its sticks, who wants which of its cubes, how it can be turned.
#pragma once
#include <algorithm>
#include <array>
#include <bit>
#include <compare>
#include <cstdint>
#include <vector>

#include "family/family.h"

namespace stickwright::six_sticks {

// A cube is named by its least corner. The origin is the middle of the burr, so turning an axis over takes c to -1 - c.
using Cube = std::array<int, 3>;

inline constexpr int kSticks = 6;
inline constexpr int kSpan = 6;    // the burr fits a box of 6 x 6 x 6
inline constexpr int kBox = 216;   // cubes of that box
inline constexpr int kLoose = 12;  // cubes of a stick that other sticks want as well
inline constexpr int kLooseSets = 1 << kLoose;
inline constexpr int kContested = 32;  // cubes of the burr that lie in two or three sticks
inline constexpr int kNobody = -1;

using Group = std::uint32_t;  // a set of sticks, one bit each
using Kept = std::uint16_t;   // which of its loose cubes a stick keeps, one bit each
using Burr = std::array<Kept, kSticks>;

inline constexpr Group kAllSticks = (1u << kSticks) - 1;

constexpr bool holds(std::uint32_t set, int member) {
  return (set >> member & 1u) != 0;
}

inline bool in_box(const Cube& c) {
  return std::all_of(c.begin(), c.end(), [](int v) { return -3 <= v && v < 3; });
}
inline int box_index(const Cube& c) {
  return ((c[0] + 3) * kSpan + c[1] + 3) * kSpan + c[2] + 3;
}

// Takes axis a to axis a + shift, then turns the axes in `over` over. It mirrors when their number is odd.
struct Symmetry {
  int shift = 0;
  unsigned over = 0;
  bool mirrors() const { return std::popcount(over) % 2 != 0; }
  int axis(int a) const { return (a + shift) % 3; }
  Cube operator()(const Cube& c) const {
    Cube to{};
    for (int a = 0; a < 3; ++a) to[axis(a)] = holds(over, axis(a)) ? -1 - c[a] : c[a];
    return to;
  }
};

// The first stick lies along axis 0, two wide along axis 1, and on the low side of axis 2: its cubes are named
// (along, across, deep) with -3 <= along < 3, -1 <= across < 1, -2 <= deep < 0.
// Stick 2a + s lies along axis a, on the low (s = 0) or high side of axis a + 2. It is the first one turned into its
// place, and its cubes keep their order; so one set of tables serves all six.
struct Stick {
  std::vector<Cube> cubes, loose;
};
const std::array<Stick, kSticks>& sticks();

struct ContestedCube {
  Cube at;
  Group owners = 0;                   // the sticks that contain it
  std::array<int, kSticks> number{};  // among the loose cubes of each owner
};

// Two cubes of the burr, one next above the other; by box index.
struct Touch {
  int lower, upper, axis;
};

struct Arrangement {
  std::array<Group, kBox> owners{};  // by box index
  std::array<int, kBox> contest{};   // by box index: which contested cube it is, or kNobody
  std::vector<ContestedCube> contested;
  std::vector<Touch> touches;
  std::array<std::vector<Touch>, kContested> touches_of;
};
const Arrangement& arrangement();

// Some sticks of a burr with the loose cubes that each keeps; nothing is kept by the others.
struct Part {
  Group sticks = 0;
  Burr kept{};
  friend auto operator<=>(const Part&, const Part&) = default;
};

// The cubes of the sticks of a part, as cells of the notched family.
std::vector<Cells> cells_of(const Part& part);
// All cubes of the closed burr.
Cells closed_burr();

// What a symmetry does to the sticks: where each goes, and how it lies there.
struct Action {
  Symmetry symmetry;
  std::array<int, kSticks> to{};
  std::array<unsigned, kSticks> over{};
};

// The twelve turns of the arrangement, then the twelve that mirror it.
inline constexpr int kTurns = 12;
const std::vector<Action>& actions();

Group moved(const Action& action, Group group);
Burr moved(const Action& action, const Burr& burr);

// Stands for all twelve ways to hold a burr. Mirror images count apart.
Burr least_turned(const Burr& burr);
// Stands for a part and all its images, mirrored ones too: they come apart alike.
Part least_image(const Part& part);

}  // namespace stickwright::six_sticks
