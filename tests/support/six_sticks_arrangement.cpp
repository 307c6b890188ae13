#include "support/six_sticks_arrangement.h"

namespace stickwright::six_sticks {
namespace {

Cube stepped(Cube c, int axis, int by) {
  c[axis] += by;
  return c;
}

Cell cell(const Cube& c) {
  return {c[0], c[1], c[2]};
}

Stick make_stick(int number) {
  const int axis = number / 2;
  const unsigned other_axes = 7u & ~(1u << axis);
  const Symmetry place{axis, number % 2 != 0 ? other_axes : 0u};
  Stick stick;
  for (int along = -3; along < 3; ++along) {
    for (int across = -1; across < 1; ++across) {
      for (int deep = -2; deep < 0; ++deep) {
        const Cube c = place({along, across, deep});
        const bool under_near_pair = deep == -1 && -2 <= along && along < 2;
        const bool between_far_pair = -1 <= along && along < 1;
        stick.cubes.push_back(c);
        if (under_near_pair || between_far_pair) stick.loose.push_back(c);
      }
    }
  }
  return stick;
}

ContestedCube contested_cube(const Cube& c, Group owners) {
  ContestedCube cube{c, owners, {}};
  for (int i = 0; i < kSticks; ++i) {
    const auto& loose = sticks()[i].loose;
    cube.number[i] = static_cast<int>(std::find(loose.begin(), loose.end(), c) - loose.begin());
  }
  return cube;
}

Arrangement make_arrangement() {
  Arrangement made;
  made.contest.fill(kNobody);
  for (int i = 0; i < kSticks; ++i) {
    for (const Cube& c : sticks()[i].cubes) made.owners[box_index(c)] |= 1u << i;
  }
  for (const Stick& stick : sticks()) {
    for (const Cube& c : stick.loose) {
      const int b = box_index(c);
      if (made.contest[b] != kNobody) continue;
      made.contest[b] = static_cast<int>(made.contested.size());
      made.contested.push_back(contested_cube(c, made.owners[b]));
    }
  }
  for (int b = 0; b < kBox; ++b) {
    const Cube c{b / 36 - 3, b / 6 % 6 - 3, b % 6 - 3};
    for (int axis = 0; axis < 3; ++axis) {
      const Cube above = stepped(c, axis, 1);
      if (!in_box(above) || made.owners[b] == 0 || made.owners[box_index(above)] == 0) continue;
      const Touch touch{b, box_index(above), axis};
      made.touches.push_back(touch);
      for (int end : {touch.lower, touch.upper}) {
        if (made.contest[end] != kNobody) made.touches_of[made.contest[end]].push_back(touch);
      }
    }
  }
  return made;
}

}  // namespace

const std::array<Stick, kSticks>& sticks() {
  static const auto all = [] {
    std::array<Stick, kSticks> made;
    for (int i = 0; i < kSticks; ++i) made[i] = make_stick(i);
    return made;
  }();
  return all;
}

const Arrangement& arrangement() {
  static const Arrangement made = make_arrangement();
  return made;
}

std::vector<Cells> cells_of(const Part& part) {
  std::vector<Cells> out;
  for (int i = 0; i < kSticks; ++i) {
    if (!holds(part.sticks, i)) continue;
    out.emplace_back();
    for (const Cube& c : sticks()[i].cubes) {
      const int n = arrangement().contest[box_index(c)];
      if (n == kNobody || holds(part.kept[i], arrangement().contested[n].number[i])) out.back().push_back(cell(c));
    }
    std::sort(out.back().begin(), out.back().end());
  }
  return out;
}

Cells closed_burr() {
  Cells all;
  for (const Stick& stick : sticks())
    for (const Cube& c : stick.cubes) all.push_back(cell(c));
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

namespace {

// The loose cubes of the first stick under the symmetries that leave it in its place: turned over along (bit 0) and
// across (bit 1). As every stick was brought to its place by a turn, a symmetry of the burr does one of these to it.
const std::array<std::array<Kept, kLooseSets>, 4>& turned_over() {
  static const auto tables = [] {
    std::array<std::array<Kept, kLooseSets>, 4> made{};
    const auto& loose = sticks()[0].loose;
    for (unsigned over = 0; over < 4; ++over) {
      for (int k = 0; k < kLoose; ++k) {
        const auto to = std::find(loose.begin(), loose.end(), Symmetry{0, over}(loose[k])) - loose.begin();
        for (int kept = 0; kept < kLooseSets; ++kept) {
          if (holds(kept, k)) made[over][kept] |= static_cast<Kept>(1u << to);
        }
      }
    }
    return made;
  }();
  return tables;
}

Action make_action(const Symmetry& symmetry) {
  Action action{symmetry, {}, {}};
  for (int i = 0; i < kSticks; ++i) {
    Group to = kAllSticks;
    for (const Cube& c : sticks()[i].cubes) to &= arrangement().owners[box_index(symmetry(c))];
    action.to[i] = std::countr_zero(to);
    const auto& there = sticks()[action.to[i]].cubes;
    const auto corner = std::find(there.begin(), there.end(), symmetry(sticks()[i].cubes.front())) - there.begin();
    const Cube& first = sticks()[0].cubes.front();
    const Cube& as_first = sticks()[0].cubes[corner];
    action.over[i] = (as_first[0] != first[0] ? 1u : 0u) | (as_first[1] != first[1] ? 2u : 0u);
  }
  return action;
}

}  // namespace

const std::vector<Action>& actions() {
  static const auto all = [] {
    std::vector<Action> made;
    for (bool mirror : {false, true}) {
      for (int shift = 0; shift < 3; ++shift) {
        for (unsigned over = 0; over < 8; ++over) {
          if (const Symmetry s{shift, over}; s.mirrors() == mirror) made.push_back(make_action(s));
        }
      }
    }
    return made;
  }();
  return all;
}

Group moved(const Action& action, Group group) {
  Group to = 0;
  for (int i = 0; i < kSticks; ++i) {
    if (holds(group, i)) to |= 1u << action.to[i];
  }
  return to;
}
Burr moved(const Action& action, const Burr& burr) {
  Burr to{};
  for (int i = 0; i < kSticks; ++i) to[action.to[i]] = turned_over()[action.over[i]][burr[i]];
  return to;
}

Burr least_turned(const Burr& burr) {
  Burr least = burr;
  for (int k = 1; k < kTurns; ++k) least = std::min(least, moved(actions()[k], burr));
  return least;
}

Part least_image(const Part& part) {
  Part least = part;
  for (const Action& action : actions()) {
    least = std::min(least, Part{moved(action, part.sticks), moved(action, part.kept)});
  }
  return least;
}
}  // namespace stickwright::six_sticks
