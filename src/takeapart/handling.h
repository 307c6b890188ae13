// handling.h - the steps of a take-apart as a person does them: which are the same again, and what falls meanwhile.
#pragma once
#include <optional>
#include <vector>

#include "takeapart/takeapart.h"

namespace stickwright {

struct Handling {
  std::optional<int> like;  // an earlier step that this one is a turned or mirrored copy of
  bool mirrored = false;    // only a mirror image of it
  std::vector<int> grips;   // one piece for each group of the step, held ones first: what a hand takes hold of
  std::optional<Vec> down;  // which way to turn down, so that the least falls; nothing: not looked into
  std::vector<int> falls;   // pieces that slip even so, unless something else holds them
  int hands = 2;            // the groups of the step, and one more when something falls
};

// One for each step of a way apart that was found.
//   exact    what falls is found without friction and before the groups start to move:
//   docs/derivations/first-motion.md.
//            Positions between lattice points are not looked into
std::vector<Handling> handling_of(const Family& family, const std::vector<Cells>& pieces,
                                  const std::vector<Step>& steps);

}  // namespace stickwright
