#include "block/catalogue.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "block/stick.h"
#include "support/known_designs.h"

namespace stickwright {
namespace {

const Block& named(const std::vector<Block>& all, const std::string& shape, Hand hand = Hand::none) {
  const auto at =
      std::find_if(all.begin(), all.end(), [&](const Block& b) { return b.shape == shape && b.hand == hand; });
  EXPECT_NE(at, all.end()) << shape;
  return *at;
}

// The table of geometry.md: cells -> shapes and faces.
TEST(Catalogue, SmallBlocksAreThoseOfTheTable) {
  const auto all = block_catalogue(6);
  std::map<std::size_t, int> shapes;
  for (const Block& b : all) ++shapes[b.cells.size()];
  EXPECT_EQ(shapes, (std::map<std::size_t, int>{{1, 1}, {2, 1}, {3, 2}, {4, 1}, {5, 1}, {6, 2}}));
  EXPECT_EQ(named(all, "tetrahedral block").body.faces.size(), 4u);
  EXPECT_EQ(named(all, "rhombic pyramid block").body.faces.size(), 5u);
  EXPECT_EQ(named(all, "prism block", Hand::left).body.faces.size(), 5u);
  EXPECT_EQ(named(all, "prism block", Hand::right).body.faces.size(), 5u);
  EXPECT_EQ(named(all, "squat octahedron").body.faces.size(), 8u);
  EXPECT_EQ(named(all, "5-cell block").body.faces.size(), 7u);
  EXPECT_EQ(named(all, "center block").body.faces.size(), 6u);
  EXPECT_EQ(named(all, "rhombohedral block").body.faces.size(), 6u);
}

TEST(Catalogue, EveryBlockIsConvexAndOfTwoThirdsAUnitPerCell) {
  for (const Block& b : block_catalogue(18)) {
    EXPECT_EQ(volume_times_6(b.body), 4 * static_cast<std::int64_t>(b.cells.size())) << b.full_name();
    EXPECT_TRUE(connected(mitered(), b.cells));
    EXPECT_FALSE(b.stick_axes.empty());
  }
}

// Brute force from the definition: every connected set of at most 6 cells whose convex hull holds no other cell is a
// convex set of cells; all of those that lie in one stick are blocks.
TEST(Catalogue, IsCompleteUpToSixCellsAgainstBruteForce) {
  std::set<Cells> level = {{{0, 4, 2}}}, blocks;
  for (int n = 1; n <= 6; ++n) {
    std::set<Cells> canonical;
    for (const Cells& s : level) canonical.insert(shape_of(mitered(), s).shape.cells);
    level = known::one_cell_larger(mitered(), canonical);
    for (const Cells& s : canonical) {
      const Polytope hull = body_of(s);  // bounded by the cells' own planes, so it holds the convex hull
      if (volume_times_6(hull) == 4 * static_cast<std::int64_t>(s.size()) && !stick_axes_of(s).empty())
        blocks.insert(s);
    }
  }
  std::set<Cells> catalogue;
  for (const Block& b : block_catalogue(6)) catalogue.insert(b.cells);
  EXPECT_EQ(catalogue, blocks);
}

TEST(Catalogue, MirrorImagesOfHandedBlocksHaveTheOtherHandAndTheSameName) {
  const auto all = block_catalogue(15);
  int pairs = 0;
  for (const Block& b : all) {
    const auto mirror = find_block(all, mirror_of(mitered(), {b.cells}).cells);
    ASSERT_TRUE(mirror);
    EXPECT_EQ(mirror->block->shape, b.shape);
    EXPECT_EQ(mirror->block == &b, b.hand == Hand::none);
    pairs += b.hand == Hand::left && mirror->block->hand == Hand::right;
  }
  EXPECT_EQ(pairs, 3);  // 3, 9 and 15 cells
}

TEST(Catalogue, NamesAreUniqueWithTheHand) {
  std::set<std::string> names;
  for (const Block& b : block_catalogue(24)) EXPECT_TRUE(names.insert(b.full_name()).second) << b.full_name();
}

TEST(FindBlock, GivesThePoseThatTakesTheBlockThere) {
  const auto all = block_catalogue(6);
  for (const Block& b : all)
    for (const Turn& t : cube_rotations()) {
      const Cells there = moved(mitered(), {t, {1, -3, 5}}, b.cells);
      const auto found = find_block(all, there);
      ASSERT_TRUE(found);
      EXPECT_EQ(found->block, &b);
      EXPECT_EQ(moved(mitered(), found->pose, b.cells), there);
    }
  EXPECT_FALSE(find_block(all, {{4, 0, -2}, {4, 0, 2}}));
}

TEST(BlocksWithin, AreCatalogueBlocksInsideThePiece) {
  Cells piece = {{4, -2, 0}, {4, 2, 0}, {4, 0, -2}, {4, 0, 2}, {4, 0, -6}, {4, 0, 6}, {6, 0, -4}, {6, 0, 4}};
  std::sort(piece.begin(), piece.end());
  const auto all = block_catalogue(8);
  std::set<Cells> seen;
  for_each_block_within(piece, [&](const Cells& block) {
    EXPECT_TRUE(seen.insert(block).second);
    EXPECT_TRUE(std::includes(piece.begin(), piece.end(), block.begin(), block.end()));
    EXPECT_TRUE(find_block(all, block));
  });
  EXPECT_TRUE(seen.contains(Cells{{4, -2, 0}, {4, 0, -2}, {4, 0, 2}, {4, 2, 0}}));  // its squat octahedron
  for (Cell c : piece) EXPECT_TRUE(seen.contains(Cells{c}));
}

}  // namespace
}  // namespace stickwright
