// Pieces that may be left out, cells that may stay empty, and how many pieces are used.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include "design/mistake.h"

namespace stickwright {
namespace {

const std::string kHead = "format = 1\nname = \"d\"\nfamily = \"notched\"\n";  // three lines
const std::string kCube = "cells = [[0, 0, 0]]\n";
const std::string kDomino = "cells = [[0, 0, 0], [1, 0, 0]]\n";
const std::string kStrip = "[goal]\nbox = [4, 1, 1]\n";  // two lines

std::string piece(const std::string& name, const std::string& rest) {
  return fmt::format("[[piece]]\nname = \"{}\"\n{}", name, rest);
}

TEST(Options, AreRead) {
  const auto d = parse_design(kHead + "[goal]\ncells = [[2, 0, 0], [1, 0, 0]]\npieces = 2\n" +
                                  "may_stay_empty = [[3, 0, 0], [0, 0, 0]]\n" + piece("must", kCube) +
                                  piece("may", "optional = true\ncopies = 3\nmirrored_copies = 2\n" + kDomino) +
                                  piece("must too", "optional = false\n" + kCube),
                              "d.toml");
  ASSERT_TRUE(d) << d.problem().say;
  EXPECT_EQ(d.value().goal, (Cells{{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {3, 0, 0}}));
  EXPECT_EQ(d.value().may_stay_empty, (Cells{{0, 0, 0}, {3, 0, 0}}));
  EXPECT_EQ(d.value().pieces_used, 2);
  EXPECT_FALSE(d.value().pieces[0].optional);
  EXPECT_TRUE(d.value().pieces[1].optional);
  EXPECT_FALSE(d.value().pieces[2].optional);
}

TEST(Options, LeftOutMeanThatEverythingIsUsedAndFilled) {
  const auto d = parse_design(kHead + kStrip + piece("p", "copies = 2\n" + kDomino), "d.toml");
  ASSERT_TRUE(d) << d.problem().say;
  EXPECT_TRUE(d.value().all_used());
  EXPECT_TRUE(d.value().may_stay_empty.empty());
  EXPECT_EQ(d.value().pieces_used, std::nullopt);
}

TEST(Options, CellsMayStayEmptyBesidesANamedSolid) {
  const auto d = parse_design(
      "format = 1\nname = \"d\"\nfamily = \"mitered\"\n[goal]\nsolid = \"rhombic dodecahedron\"\n"
      "may_stay_empty = [[4, 6, 0]]\n" +
          piece("p", "copies = 24\ncells = [[4, 2, 0]]\n"),
      "d.toml");
  ASSERT_TRUE(d) << d.problem().say;
  EXPECT_EQ(d.value().goal.size(), 25u);
}

TEST(Options, TheBoundsOfWhatFitsAreTaken) {
  // Just as many cells as must be filled; just as many as there are.
  const std::string goal = "[goal]\nbox = [3, 1, 1]\nmay_stay_empty = [[3, 0, 0]]\n";
  EXPECT_TRUE(parse_design(kHead + goal + piece("p", "copies = 3\n" + kCube), "d"));
  EXPECT_TRUE(parse_design(kHead + goal + piece("p", "copies = 4\n" + kCube), "d"));
  EXPECT_TRUE(parse_design(kHead + kStrip + "pieces = 2\n" + piece("p", "copies = 2\n" + kDomino), "d"));
}

// Pieces that may be left out: so many tables of so many copies each.
std::string many(int tables, int copies) {
  std::string text;
  for (int i = 0; i < tables; ++i)
    text += piece(fmt::format("p{}", i), fmt::format("optional = true\ncopies = {}\n", copies) + kCube);
  return text;
}

TEST(Options, ManyPiecesAreSuppliedWhenFewAreUsed) {
  const std::string goal = "[goal]\nbox = [8, 8, 8]\npieces = 64\n";
  EXPECT_TRUE(parse_design(kHead + goal + many(20, 50), "d"));
  EXPECT_TRUE(parse_design(kHead + "[goal]\nbox = [8, 8, 1]\n" + many(20, 50), "d"));
}

class BadOption : public testing::TestWithParam<Mistake> {};

TEST_P(BadOption, GetsOneClearErrorAtItsPlace) {
  expect_one_clear_error(kHead, GetParam());
}

const Mistake kMistakes[] = {
    {"OptionalWithoutGoal", piece("p", "optional = true\n" + kCube), "optional_needs_goal", "6:12", "so add one"},
    {"OptionalIsNoWord", kStrip + piece("p", "optional = \"yes\"\n" + kCube), "wrong_type", "8:12", "true or false"},
    {"NoPiecesUsed", kStrip + "pieces = 0\n" + piece("p", kCube), "out_of_range", "6:10", "pieces"},
    {"TooManyPiecesUsed", kStrip + "pieces = 65\n" + piece("p", kCube), "out_of_range", "6:10", "64"},
    {"PiecesIsNoWord", kStrip + "pieces = \"all\"\n" + piece("p", kCube), "wrong_type", "6:10", "whole number"},
    {"FewerPiecesThanMustBeUsed", kStrip + "pieces = 3\n" + piece("p", "copies = 4\n" + kCube), "wrong_count", "6:10",
     "4 pieces must be used, so give at least that number"},
    {"MorePiecesThanAreSupplied",
     kStrip + "pieces = 5\n" + piece("p", "copies = 2\n" + kCube) + piece("q", "optional = true\ncopies = 2\n" + kCube),
     "wrong_count", "6:10", "the pieces supplied number 4, so give no more"},
    {"EmptyCellIsNoTriple", kStrip + "may_stay_empty = [[4, 0]]\n" + piece("p", kCube), "bad_count", "6:19", ""},
    {"NoEmptyCells", kStrip + "may_stay_empty = []\n" + piece("p", kCube), "bad_count", "6:18", "at least one"},
    {"EmptyCellTwice", kStrip + "may_stay_empty = [[4, 0, 0], [4, 0, 0]]\n" + piece("p", kCube), "cell_twice", "6:30",
     "[4, 0, 0] stands here twice"},
    {"EmptyCellOfTheCells",
     "[goal]\ncells = [[0, 0, 0], [1, 0, 0]]\nmay_stay_empty = [[2, 0, 0], [1, 0, 0]]\n" + piece("p", kCube),
     "must_be_filled", "6:30", "cell [1, 0, 0] is one of those that must be filled, so leave it out"},
    {"EmptyCellOfTheBox", kStrip + "may_stay_empty = [[3, 0, 0]]\n" + piece("p", kCube), "must_be_filled", "6:19",
     "[3, 0, 0]"},
    {"EmptyCellAwayFromTheGoal", kStrip + "may_stay_empty = [[6, 0, 0]]\n" + piece("p", "copies = 4\n" + kCube),
     "piece_in_parts", "4:1", "the goal is not in one part"},
    {"OnlyEmptyCells", "[goal]\nmay_stay_empty = [[3, 0, 0]]\n" + piece("p", kCube), "missing_key", "4:1", "cells"},
    {"PiecesThatMustBeUsedAreTooLarge",
     kStrip + piece("p", "copies = 5\n" + kCube) + piece("q", "optional = true\n" + kCube), "wrong_volume", "4:1",
     "that must be used have 5 cells and the goal has 4, so make more of them optional"},
    {"TooLargeEvenForTheCellsThatMayStayEmpty",
     kStrip + "may_stay_empty = [[4, 0, 0]]\n" + piece("p", "copies = 3\n" + kDomino), "wrong_volume", "4:1",
     "have 6 cells and the goal has 5"},
    {"AllTogetherCannotFill", kStrip + piece("p", kCube) + piece("q", "optional = true\n" + kDomino), "wrong_volume",
     "4:1", "4 cells must be filled and all supplied pieces together have 3, so supply more pieces"},
    {"AllTogetherCannotFillWhatMustBeFilled",
     kStrip + "may_stay_empty = [[4, 0, 0]]\n" + piece("p", "copies = 3\n" + kCube), "wrong_volume", "4:1",
     "4 cells must be filled"},
    {"NothingOptionalIsToldAsBefore", kStrip + "pieces = 3\n" + piece("p", "copies = 3\n" + kCube), "wrong_volume",
     "4:1", "the goal has 4 cells, the pieces have 3 in all"},
    {"TooManyThatMustBeUsed",
     "[goal]\nbox = [8, 8, 8]\n" + piece("p", "copies = 64\n" + kCube) + piece("q", kCube) + many(1, 1), "too_large",
     "4:1", "65 pieces"},
    {"TooManySupplied", "[goal]\nbox = [8, 8, 1]\n" + many(20, 50) + piece("q", kCube), "too_large", "4:1",
     "1001 pieces are supplied and at most 1000 can be, so take some away"},
    {"RoomForTooMany", "[goal]\nbox = [8, 9, 1]\n" + many(2, 50), "too_large", "4:1",
     "room for 72 of the pieces and at most 64 can be checked, so add here how many are used: pieces = 64"},
    {"GoalTooLargeWithItsEmptyCells", "[goal]\nbox = [8, 8, 8]\nmay_stay_empty = [[8, 0, 0]]\n" + piece("p", kCube),
     "too_large", "4:1", "513 cells"},
};

INSTANTIATE_TEST_SUITE_P(Designs, BadOption, testing::ValuesIn(kMistakes),
                         [](const auto& param_info) { return std::string(param_info.param.name); });

TEST(BadOption, CellThatMayStayEmptyIsNoCell) {
  const auto d = parse_design(
      "format = 1\nname = \"d\"\nfamily = \"mitered\"\n[goal]\ncells = [[4, 2, 0]]\nmay_stay_empty = [[4, 1, 0]]\n" +
          piece("p", "cells = [[4, 2, 0]]\n"),
      "d.toml");
  ASSERT_FALSE(d);
  EXPECT_EQ(d.problem().code, "not_a_cell");
  EXPECT_EQ(d.problem().where, "d.toml:6:19");
}

TEST(Settled, KeepsWhatIsUsedAndNothingOptional) {
  const auto d = parse_design(kHead + "[goal]\nbox = [5, 1, 1]\nmay_stay_empty = [[5, 0, 0]]\npieces = 4\n" +
                                  piece("cube", "copies = 1\n" + kCube) + piece("spare", "optional = true\n" + kCube) +
                                  piece("domino", "optional = true\ncopies = 3\nmirrored_copies = 2\n" + kDomino),
                              "d.toml");
  ASSERT_TRUE(d) << d.problem().say;
  ASSERT_EQ(made_pieces(d.value()).size(), 4u);
  const Cells filled = {{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {3, 0, 0}, {4, 0, 0}};
  const Design s = settled(d.value(), {1, 0, 0, 2}, filled);
  EXPECT_EQ(s.name, d.value().name);
  EXPECT_EQ(s.family, d.value().family);
  EXPECT_EQ(s.goal, filled);
  EXPECT_TRUE(s.all_used());
  EXPECT_TRUE(s.may_stay_empty.empty());
  EXPECT_EQ(s.pieces_used, std::nullopt);
  ASSERT_EQ(s.pieces.size(), 2u);
  EXPECT_EQ(s.pieces[0].name, "cube");
  EXPECT_EQ(s.pieces[0].copies, 1);
  EXPECT_EQ(s.pieces[1].name, "domino");
  EXPECT_EQ(s.pieces[1].copies, 0);
  EXPECT_EQ(s.pieces[1].mirrored_copies, 2);
  EXPECT_EQ(s.pieces[1].cells, d.value().pieces[2].cells);
}

}  // namespace
}  // namespace stickwright
