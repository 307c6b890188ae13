// Numbers of assemblies against published counts.
#include <gtest/gtest.h>

#include <algorithm>

#include "assembly/assembly.h"
#include "support/known_designs.h"

namespace stickwright {
namespace {

Design box_design(std::int64_t x, std::int64_t y, std::int64_t z, std::vector<Piece> pieces) {
  Design d{"box", &notched(), {}, std::move(pieces)};
  for (std::int64_t i = 0; i < x; ++i)
    for (std::int64_t j = 0; j < y; ++j)
      for (std::int64_t k = 0; k < z; ++k) d.goal.push_back({i, j, k});
  return d;
}

// The seven nonconvex shapes of three and four cubes fill a cube of side 3 in 240 ways up to rotation and reflection
// (D. E. Knuth, The Art of Computer Programming 7.2.2.1). The set holds one mirror pair and else shapes that are their
// own mirror images, so reflections pair the assemblies up: 480 up to rotation.
TEST(Published, SevenPolycubesFillTheCubeIn240WaysUpToReflection) {
  const std::vector<Cells> shapes = {{{0, 0, 0}, {0, 1, 0}, {1, 0, 0}},
                                     {{0, 0, 0}, {0, 1, 0}, {1, 0, 0}, {2, 0, 0}},
                                     {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {2, 0, 0}},
                                     {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {2, 1, 0}},
                                     {{0, 0, 0}, {0, 1, 0}, {0, 1, 1}, {1, 0, 0}},
                                     {{0, 0, 0}, {0, 1, 0}, {1, 0, 0}, {1, 0, 1}},
                                     {{0, 0, 0}, {0, 0, 1}, {0, 1, 0}, {1, 0, 0}}};
  std::vector<Piece> pieces;
  for (const Cells& s : shapes)
    pieces.push_back({"piece " + std::to_string(pieces.size() + 1), 1, 0, known::sorted(s), {}});
  const Assemblies a = find_assemblies(box_design(3, 3, 3, pieces));
  EXPECT_EQ(a.verdict, Verdict::found);
  EXPECT_EQ(a.count, 480);
}

}  // namespace
}  // namespace stickwright
