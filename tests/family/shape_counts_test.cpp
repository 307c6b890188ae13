#include "support/shape_counts.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "support/family_cells.h"
#include "support/known_designs.h"
#include "support/published_counts.h"

namespace stickwright {
namespace {

TEST_P(PublishedShapes, AreAsManyAsCounted) {
  expect_published(GetParam(), GetParam().quick);
}

// The same numbers by the program's own canonical poses, grown cell by cell.
TEST_P(PublishedShapes, AreAsManyAsTheCanonicalPosesOfTheProgram) {
  const Family& family = *GetParam().family;
  std::vector<ShapeCounts> counts;
  std::set<Cells> level;
  for (Cell c : home_cells(family)) level.insert({c});
  for (int n = 1; n <= 5; ++n) {
    std::set<Cells> one_sided, free;
    for (const Cells& s : level) {
      const Shape shape = shape_of(family, s).shape;
      one_sided.insert(shape.cells);
      free.insert(std::min(shape, mirror_of(family, shape)).cells);
    }
    counts.push_back({0, std::ssize(one_sided), std::ssize(free)});
    level = known::one_cell_larger(family, one_sided);
  }
  expect_published(GetParam().one_sided, counts, &ShapeCounts::one_sided);
  expect_published(GetParam().free, counts, &ShapeCounts::free);
}

}  // namespace
}  // namespace stickwright
