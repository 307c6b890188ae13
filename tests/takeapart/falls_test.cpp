#include "takeapart/falls.h"

#include <gtest/gtest.h>

#include <random>

#include "support/known_designs.h"
#include "support/random_pieces.h"

namespace stickwright {
namespace {

constexpr Vec kDown = {0, 0, -1};
using Numbers = std::vector<int>;

Touching cubes(const std::vector<Cell>& cells) {
  std::vector<Cells> pieces;
  for (Cell c : cells) pieces.push_back({c});
  return touching(notched(), {pieces});
}

TEST(Falls, WhatStandsOnSomethingHeldRestsAndWhatHangsFalls) {
  const Touching tower = cubes({{0, 0, 0}, {0, 0, 1}, {0, 0, 2}});
  const Falls rests = falls(tower, {0}, kDown);
  EXPECT_EQ(rests.verdict, Verdict::none_exists);
  EXPECT_EQ(rests.force, (std::vector<std::int64_t>{2 * rests.unit, rests.unit}));  // two cubes, then one
  EXPECT_EQ(falls(tower, {2}, kDown).pieces, (Numbers{0, 1}));
  EXPECT_EQ(falls(tower, {1}, kDown).pieces, (Numbers{0}));
  EXPECT_EQ(falls(tower, {}, kDown).pieces, (Numbers{0, 1, 2}));
  EXPECT_EQ(falls(tower, {0}, {1, 0, 0}).pieces, (Numbers{1, 2}));  // laid on its side, nothing is below the others
}

TEST(Falls, WithoutFrictionNothingIsHeldFromTheSidesOrByAnEdge) {
  EXPECT_EQ(falls(cubes({{0, 0, 0}, {1, 0, 0}, {2, 0, 0}}), {0, 2}, kDown).pieces, (Numbers{1}));
  EXPECT_EQ(falls(cubes({{0, 0, 0}, {1, 0, 1}}), {0}, kDown).pieces, (Numbers{1}));
}

// A cell of the mitered family on two held neighbors rests in the groove; on one of them it slides off.
TEST(Falls, InAGrooveNothingFallsOnASlopeItDoes) {
  const Cell top{0, 4, 2};
  std::vector<Cells> pieces = {{top}};
  Vec down;
  for (std::size_t f : {0, 2}) {
    pieces.push_back({mitered().neighbors(top)[f]});
    down = down + mitered().planes(top)[f].n;
  }
  const Touching groove = touching(mitered(), {pieces});
  EXPECT_EQ(falls(groove, {1, 2}, down).verdict, Verdict::none_exists);
  EXPECT_EQ(falls(groove, {1}, down).pieces, (Numbers{0, 2}));
}

// Going down diagonally, an upper cube would cut through the edge of a held one; straight down it passes.
TEST(Falls, GoesAroundAnEdge) {
  const Touching t = cubes({{0, 0, 1}, {1, 0, 0}});
  const Falls f = falls(t, {1}, {1, 0, -1});
  EXPECT_EQ(f.pieces, (Numbers{0}));
  const std::vector<Cells> pieces = {{{0, 0, 1}}, {{1, 0, 0}}};
  EXPECT_TRUE(check_motion(notched(), {pieces}, f.motion));
}

// Balance of heights: a heavy piece may lift a light one, the other way round nothing moves.
TEST(Falls, WeighsThePiecesAgainstEachOther) {
  std::mt19937 rng(2);
  int fell = 0, rested = 0;
  for (int k = 0; k < 600; ++k) {
    const bool boxes = k % 2 == 0;
    const Family& family = boxes ? notched() : mitered();
    const auto pieces = known::cut_at_random(family, boxes ? known::cube_of_cubes(4) : known::rhombic_dodecahedron(2),
                                             boxes ? 6 : 4, rng);
    std::vector<std::int64_t> weight;
    for (const Cells& c : pieces) weight.push_back(static_cast<std::int64_t>(c.size()));
    const Touching t = touching(family, {pieces});
    const Vec down = family.slide_directions()[rng() % family.slide_directions().size()];
    const Falls f = falls(t, {0}, down, weight);
    SCOPED_TRACE(k);
    ASSERT_NE(f.verdict, Verdict::stopped);
    if (f.verdict == Verdict::found) {
      std::int64_t height = 0;
      for (std::size_t i = 0; i < pieces.size(); ++i) height += weight[i] * dot(down, f.motion.slide[i]);
      EXPECT_GT(height, 0);
      EXPECT_EQ(f.motion.slide[0], Vec{});
      EXPECT_TRUE(check_motion(family, {pieces}, f.motion));
      ++fell;
    } else if (!f.force.empty()) {
      std::vector<Vec> sum;
      for (std::size_t i = 0; i < pieces.size(); ++i) sum.push_back(f.unit * (weight[i] * down));
      for (std::size_t c = 0; c < t.faces.size(); ++c) {
        EXPECT_GE(f.force[c], 0);
        sum[t.faces[c].to] = sum[t.faces[c].to] + f.force[c] * t.faces[c].normal;
        sum[t.faces[c].from] = sum[t.faces[c].from] - f.force[c] * t.faces[c].normal;
      }
      for (std::size_t i = 1; i < pieces.size(); ++i) EXPECT_EQ(sum[i], Vec{});
      ++rested;
    }
  }
  EXPECT_GT(fell, 50);
  EXPECT_GT(rested, 10);
}

}  // namespace
}  // namespace stickwright
