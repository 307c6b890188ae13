// Numbers of assemblies against published counts.
//   D. E. Knuth, The Art of Computer Programming, 7.2.2.1: the seven polycubes; pentomino rectangles and boxes (the
//   rectangles were first counted by C. B. Haselgrove and J. Haselgrove, 1960).
#include <gtest/gtest.h>

#include "assembly/assembly.h"
#include "support/polycubes.h"

namespace stickwright {
namespace {

struct Box {
  std::int64_t x, y, z;
  std::int64_t published;
};

class Pentominoes : public testing::TestWithParam<Box> {};

TEST_P(Pentominoes, FillBoxesInThePublishedNumberOfWays) {
  const Box b = GetParam();
  const Design d = known::fill(known::box(b.x, b.y, b.z), known::pentominoes());
  const Assemblies a = find_assemblies(d, {.keep = 20, .up_to = UpTo::reflections});
  EXPECT_EQ(a.verdict, Verdict::found);
  EXPECT_EQ(a.count, b.published);
  for (const Assembly& one : a.kept) EXPECT_TRUE(check_assembly(d, one));
}

INSTANTIATE_TEST_SUITE_P(Published, Pentominoes,
                         testing::Values(Box{6, 10, 1, 2339}, Box{5, 12, 1, 1010}, Box{4, 15, 1, 368}, Box{3, 20, 1, 2},
                                         Box{3, 4, 5, 3940}, Box{2, 5, 6, 264}, Box{2, 3, 10, 12}),
                         [](const auto& test) {
                           const Box& b = test.param;
                           return std::to_string(b.x) + "x" + std::to_string(b.y) + "x" + std::to_string(b.z);
                         });

// 240 up to rotation and reflection. The set holds one mirror pair and else shapes that are their own mirror images, so
// reflections pair the assemblies up: 480 up to rotation alone, 11,520 with turned copies counted apart.
TEST(Published, SevenPolycubesFillTheCubeIn240WaysUpToReflection) {
  const Design d = known::fill(known::box(3, 3, 3), known::seven_polycubes());
  const Assemblies up_to_reflections = find_assemblies(d, {.up_to = UpTo::reflections});
  const Assemblies up_to_rotations = find_assemblies(d);
  EXPECT_EQ(up_to_reflections.count, 240);
  EXPECT_EQ(up_to_rotations.count, 480);
  EXPECT_EQ(up_to_reflections.total, 11520);
  EXPECT_EQ(up_to_rotations.total, 11520);
  ASSERT_EQ(up_to_rotations.kept.size(), 480u);
  for (const Assembly& one : up_to_rotations.kept) EXPECT_TRUE(check_assembly(d, one));
}

}  // namespace
}  // namespace stickwright
