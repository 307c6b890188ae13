// What hangs on a joint, by hand.
#include "glueup/joint_load.h"

#include <gtest/gtest.h>

#include <cmath>

namespace stickwright {
namespace {

// A cell has the corners (-1,0,0), (1,0,0), (0,-1,1), (0,1,1). Its face opposite (0,-1,1) has its middle at (0, 1/3,
// 1/3) and the area sqrt 2; from there (0,-1,1) is sqrt(16/9 + 4/9) away, farther than (1,0,0) at sqrt(1 + 2/9).
TEST(JointLoad, OfTwoCellsIsAsReckonedByHand) {
  const Cell cell = {4, 0, 2};
  ASSERT_EQ(mitered().corners(cell), (std::vector<Vec>{{0, 0, 0}, {2, 0, 0}, {1, -1, 1}, {1, 1, 1}}));
  for (Cell other : mitered().neighbors(cell)) {
    const std::vector<Cells> blocks = {{cell}, {other}};
    const auto loads = joint_loads(blocks, joints_of(blocks));
    ASSERT_EQ(loads.size(), 1u);
    EXPECT_EQ(loads[0].cells, 1);
    EXPECT_NEAR(loads[0].lever, std::sqrt(20.0) / 3, 1e-12);
    EXPECT_NEAR(loads[0].width, std::pow(2.0, 0.25), 1e-12);
    EXPECT_FALSE(loads[0].weak());
  }
}

// Around an edge of length 2 lie four cells: as a ring, every joint can fail and the others still hold.
TEST(JointLoad, OfARingIsNothing) {
  const Cell first = {4, 0, 2};
  std::vector<Cells> ring = {{first}};
  for (Cell c : mitered().neighbors(first))
    for (Cell d : mitered().neighbors(c))
      for (Cell e : mitered().neighbors(d))
        if (e != c && d != first && ring.size() == 1)
          for (Cell f : mitered().neighbors(e))
            if (f == first) ring = {{first}, {c}, {d}, {e}};
  ASSERT_EQ(ring.size(), 4u);
  const auto joints = joints_of(ring);
  ASSERT_EQ(joints.size(), 4u);
  for (const JointLoad& load : joint_loads(ring, joints)) {
    EXPECT_EQ(load.cells, 0);
    EXPECT_FALSE(load.weak());
  }
}

// A chain of cells that goes on along x: in its middle hangs the half chain.
TEST(JointLoad, OfALongChainIsWeakInTheMiddleOnly) {
  std::vector<Cells> chain = {{{4, 0, 2}}};
  while (chain.size() < 30) {
    Cell best = chain.back()[0];
    for (Cell n : mitered().neighbors(chain.back()[0]))
      if (std::tuple(n.x, -std::abs(n.y) - std::abs(n.z)) > std::tuple(best.x, -std::abs(best.y) - std::abs(best.z)))
        best = n;
    ASSERT_NE(best, chain.back()[0]);
    chain.push_back({best});
  }
  const auto joints = joints_of(chain);
  const auto loads = joint_loads(chain, joints);
  EXPECT_FALSE(loads.front().weak());
  EXPECT_FALSE(loads.back().weak());
  EXPECT_EQ(loads[14].cells, 15);
  EXPECT_TRUE(loads[14].weak());
}

}  // namespace
}  // namespace stickwright
