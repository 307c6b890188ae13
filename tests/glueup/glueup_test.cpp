#include "glueup/glueup.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <random>
#include <set>

#include "support/known_designs.h"

namespace stickwright {
namespace {

MadePiece made(Cells cells) {
  return {0, false, "piece", 1, std::move(cells), {}};
}

// geometry.md: a star's piece is a squat octahedron with a rhombic pyramid glued on either side.
TEST(Split, StarArmIsASquatOctahedronAndTwoRhombicPyramids) {
  const Split s = split_pieces({made(known::star_arm())});
  EXPECT_EQ(s.verdict, Verdict::found);
  ASSERT_EQ(s.pieces[0].blocks.size(), 3u);
  std::multiset<std::string> names;
  for (const PlacedBlock& b : s.pieces[0].blocks) names.insert(s.shapes[b.shape].shape);
  EXPECT_EQ(names, (std::multiset<std::string>{"rhombic pyramid block", "rhombic pyramid block", "squat octahedron"}));
  ASSERT_EQ(s.pieces[0].joints.size(), 2u);
  // A triangle with sides 2, sqrt 3, sqrt 3 has height sqrt 2, so area sqrt 2.
  for (const Joint& j : s.pieces[0].joints) EXPECT_NEAR(j.area_units(), std::sqrt(2.0), 1e-12);
  EXPECT_TRUE(check_glue_up(s.pieces[0], s.shapes, known::star_arm()));
}

TEST(Split, APieceThatOneBlockMakesIsOneBlock) {
  for (const Block& b : block_catalogue(15)) {
    const Split s = split_pieces({made(b.cells)});
    ASSERT_EQ(s.pieces[0].blocks.size(), 1u) << b.full_name();
    EXPECT_EQ(s.shapes[0].full_name(), b.full_name());
    EXPECT_TRUE(s.pieces[0].joints.empty());
  }
}

Cells random_piece(std::mt19937& rng, std::size_t cells) {
  Cells piece = {{0, 4, 2}};
  while (piece.size() < cells) {
    const Cell next = mitered().neighbors(piece[rng() % piece.size()])[rng() % 4];
    if (std::find(piece.begin(), piece.end(), next) == piece.end()) piece.push_back(next);
  }
  return known::sorted(piece);
}

// Fewest blocks by plain recursion over all sets of blocks, without bounds.
std::size_t fewest_by_brute_force(const Cells& piece) {
  std::vector<Cells> blocks;
  for_each_block_within(piece, [&](const Cells& b) { blocks.push_back(b); });
  std::size_t best = piece.size();
  std::set<Cell> filled;
  const std::function<void(std::size_t)> fill = [&](std::size_t used) {
    if (filled.size() == piece.size()) best = std::min(best, used);
    if (filled.size() == piece.size() || used + 1 > best) return;
    const Cell cell = *std::find_if(piece.begin(), piece.end(), [&](Cell c) { return !filled.contains(c); });
    for (const Cells& b : blocks) {
      if (!std::binary_search(b.begin(), b.end(), cell)) continue;
      if (std::any_of(b.begin(), b.end(), [&](Cell c) { return filled.contains(c); })) continue;
      filled.insert(b.begin(), b.end());
      fill(used + 1);
      for (Cell c : b) filled.erase(c);
    }
  };
  fill(0);
  return best;
}

TEST(Split, IsLegalAndFewestOnRandomPieces) {
  std::mt19937 rng(3);
  for (int k = 0; k < 150; ++k) {
    const Cells piece = random_piece(rng, 2 + rng() % 11);
    const Split s = split_pieces({made(piece)});
    SCOPED_TRACE(k);
    EXPECT_TRUE(check_glue_up(s.pieces[0], s.shapes, piece));
    EXPECT_EQ(s.pieces[0].blocks.size(), fewest_by_brute_force(piece));
  }
}

TEST(Split, SharesShapesOverAllPiecesOfTheBatch) {
  std::mt19937 rng(9);
  int shared = 0;
  for (int k = 0; k < 60; ++k) {
    const Cells p = random_piece(rng, 9), q = random_piece(rng, 9);
    const Split both = split_pieces({made(p), made(q)}), first = split_pieces({made(p)}),
                second = split_pieces({made(q)});
    EXPECT_EQ(both.pieces[0].blocks.size(), first.pieces[0].blocks.size());
    EXPECT_EQ(both.pieces[1].blocks.size(), second.pieces[0].blocks.size());
    std::set<Cells> apart;
    for (const Split* s : {&first, &second})
      for (const Block& b : s->shapes) apart.insert(b.cells);
    EXPECT_LE(both.shapes.size(), apart.size());
    shared += both.shapes.size() < apart.size();
  }
  EXPECT_GT(shared, 0);
}

TEST(Split, OwnBlocksAreKept) {
  MadePiece p = made(known::star_arm());
  for (Cell c : p.cells) p.own_blocks.push_back({c});
  EXPECT_EQ(split_pieces({p}).pieces[0].blocks.size(), 8u);
}

TEST(Grain, RunsAlongTheStickAxisThatTheBlockIsCutFrom) {
  Split s = split_pieces({made(known::star_arm())});
  std::vector<int> axis;
  for (const Block& b : s.shapes) axis.push_back(b.stick_axes.front());
  run_grain(s, axis);
  for (const PlacedBlock& b : s.pieces[0].blocks) {
    // Whatever the direction, the placed block lies in one stick along it.
    const auto found = find_block(s.shapes, b.cells);
    bool fits = false;
    for (int a : found->block->stick_axes) {
      const Vec v = found->pose.turn * axis_vec(a);
      fits |= v[b.grain_axis] != 0;
    }
    EXPECT_TRUE(fits);
  }
}

TEST(CheckGlueUp, RefusesGapsOverlapsAndForgottenJoints) {
  const Split s = split_pieces({made(known::star_arm())});
  GlueUp g = s.pieces[0];
  g.joints.pop_back();
  EXPECT_FALSE(check_glue_up(g, s.shapes, known::star_arm()));
  g = s.pieces[0];
  g.blocks.pop_back();
  EXPECT_FALSE(check_glue_up(g, s.shapes, known::star_arm()));
  g = s.pieces[0];
  g.blocks[0].pose.shift = g.blocks[0].pose.shift + Vec{2, 0, 0};
  EXPECT_FALSE(check_glue_up(g, s.shapes, known::star_arm()));
}

}  // namespace
}  // namespace stickwright
