// Designs that leave pieces out or cells empty, from the file to the design that one assembly settles.
#include <gtest/gtest.h>

#include "assembly/assembly.h"
#include "design/design_file.h"

namespace stickwright {
namespace {

Design parsed(const std::string& text) {
  auto d = parse_design("format = 1\nname = \"d\"\nfamily = \"notched\"\n" + text, "d.toml");
  EXPECT_TRUE(d) << d.problem().say;
  return d.take();
}

// A square of four cubes with one more beside it that may stay empty; a bar of two must be used.
const char* const kGoal = R"([goal]
box = [2, 2, 1]
may_stay_empty = [[2, 0, 0]]
)";
const char* const kPieces = R"(
[[piece]]
name = "bar"
cells = [[0, 0, 0], [1, 0, 0]]
[[piece]]
name = "spare bar"
optional = true
cells = [[5, 5, 5], [5, 5, 6]]
[[piece]]
name = "cube"
optional = true
copies = 3
cells = [[0, 0, 0]]
)";

Design square(const std::string& in_goal) {
  return parsed(kGoal + in_goal + kPieces);
}

// By hand. The cells are A B C in the lower row, C the one that may stay empty, and D E above A and B.
//   two bars, no cube      AB DE, AD BE                     C empty
//   two bars and a cube    AB DE C, AD BE C, BC DE A, BC AD E     C filled
//   one bar, two cubes     AB, DE, AD, BE                   C empty
//   one bar, three cubes   AB, DE, AD, BE, BC               C filled
TEST(OptionalPieces, AreUsedOrLeftOut) {
  const Design d = square("");
  const Assemblies a = find_assemblies(d);
  EXPECT_EQ(a.verdict, Verdict::found);
  EXPECT_EQ(a.total, 15);
  for (const Assembly& one : a.kept) EXPECT_TRUE(check_assembly(d, one));
}

TEST(OptionalPieces, AreCountedWhenTheGoalSaysHowManyAreUsed) {
  EXPECT_EQ(find_assemblies(square("pieces = 1")).verdict, Verdict::none_exists);
  EXPECT_EQ(find_assemblies(square("pieces = 2")).total, 2);
  EXPECT_EQ(find_assemblies(square("pieces = 3")).total, 8);
  EXPECT_EQ(find_assemblies(square("pieces = 4")).total, 5);
}

TEST(Settled, IsADesignWithoutOptionsThatTheSameAssemblyFills) {
  const Design d = square("");
  for (const Assembly& one : find_assemblies(d).kept) {
    const Design s = settled(d, one);
    EXPECT_TRUE(s.all_used());
    EXPECT_TRUE(s.may_stay_empty.empty());
    EXPECT_TRUE(check_assembly(s, one));
    int copies = 0;
    for (const Piece& p : s.pieces) copies += p.total_copies();
    EXPECT_EQ(static_cast<std::size_t>(copies), one.size());
    EXPECT_EQ(find_assemblies(s).verdict, Verdict::found);
  }
}

TEST(Settled, UsesThePieceThatMustBeUsedBeforeOneOfTheSameShape) {
  for (const Assembly& one : find_assemblies(square("pieces = 4")).kept)
    EXPECT_EQ(settled(square("pieces = 4"), one).pieces.front().name, "bar");
}

}  // namespace
}  // namespace stickwright
