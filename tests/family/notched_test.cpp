#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "family/family.h"
#include "support/known_designs.h"

namespace stickwright {
namespace {

TEST(Notched, TurnsCarryCubesToCubes) {
  for (const Turn& t : cube_rotations())
    for (Cell c : {Cell{0, 0, 0}, Cell{3, -2, 5}}) {
      const Isometry by{t, {1, 2, 3}};
      std::vector<Vec> turned;
      for (Vec p : notched().corners(c)) turned.push_back(by * p);
      std::vector<Vec> there = notched().corners(notched().moved(by, c));
      std::sort(turned.begin(), turned.end());
      std::sort(there.begin(), there.end());
      EXPECT_EQ(turned, there);
    }
}

struct Counts {
  std::size_t fixed = 0, one_sided = 0, free = 0;
};

// Face-connected sets of n cubes, grown cube by cube.
std::vector<Counts> count_polycubes(std::size_t most) {
  std::vector<Counts> out;
  std::set<Cells> fixed = {{{0, 0, 0}}};
  for (std::size_t n = 1; n <= most; ++n) {
    std::set<Cells> one_sided, free;
    for (const Cells& s : fixed) {
      const Shape shape = shape_of(notched(), s).shape;
      one_sided.insert(shape.cells);
      free.insert(std::min(shape, mirror_of(notched(), shape)).cells);
    }
    out.push_back({fixed.size(), one_sided.size(), free.size()});
    std::set<Cells> larger;
    for (const Cells& s : known::one_cell_larger(notched(), fixed))
      larger.insert(moved(notched(), {Turn{}, notched().shift_home(s.front())}, s));
    fixed = std::move(larger);
  }
  return out;
}

// OEIS A001931 (fixed), A000162 (one-sided), A038119 (free), n = 1..6.
TEST(Notched, CountsOfShapesMatchOeis) {
  const auto counts = count_polycubes(6);
  const std::size_t fixed[] = {1, 3, 15, 86, 534, 3481}, one_sided[] = {1, 1, 2, 8, 29, 166},
                    free[] = {1, 1, 2, 7, 23, 112};
  for (std::size_t i = 0; i < 6; ++i) {
    EXPECT_EQ(counts[i].fixed, fixed[i]);
    EXPECT_EQ(counts[i].one_sided, one_sided[i]);
    EXPECT_EQ(counts[i].free, free[i]);
  }
}

}  // namespace
}  // namespace stickwright
