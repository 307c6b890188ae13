// Mistakes in design files: each gets one clear error at its place.
#include <gtest/gtest.h>

#include "design/mistake.h"

namespace stickwright {
namespace {

const std::string kHead = "format = 1\nname = \"d\"\nfamily = \"mitered\"\n";  // three lines

class BadDesign : public testing::TestWithParam<Mistake> {};

TEST_P(BadDesign, GetsOneClearErrorAtItsPlace) {
  expect_one_clear_error(kHead, GetParam());
}

const char* const kPrism = "[[piece]]\nname = \"p\"\ncells = [[4, 0, -2], [4, 2, 0], [6, 0, -4]]\n";

const Mistake kMistakes[] = {
    {"CellOffTheLattice", "[[piece]]\nname = \"p\"\ncells = [[4, 0, -2], [4, 1, 0]]\n", "not_a_cell", "6:22",
     "four times the centroid"},
    {"CellOfTheWrongParity", "[[piece]]\nname = \"p\"\ncells = [[0, 0, 2]]\n", "not_a_cell", "6:10", "multiple"},
    {"CellTwice", "[[piece]]\nname = \"p\"\ncells = [[4, 2, 0], [4, 2, 0]]\n", "cell_twice", "6:21", "twice"},
    {"CellFarAway", "[[piece]]\nname = \"p\"\ncells = [[4, 2, 800000]]\n", "out_of_range", "6:10", ""},
    {"CellOfTwoNumbers", "[[piece]]\nname = \"p\"\ncells = [[4, 2]]\n", "bad_count", "6:10", ""},
    {"CellsNotAList", "[[piece]]\nname = \"p\"\ncells = \"all\"\n", "wrong_type", "6:9", ""},
    {"PieceInTwoParts", "[[piece]]\nname = \"p\"\ncells = [[4, 0, -2], [4, 0, 2]]\n", "piece_in_parts", "6:9",
     "share no face"},
    {"PiecesOverlap",
     "[[piece]]\nname = \"p\"\ncells = [[4, 0, -2], [4, 2, 0]]\n[[piece]]\nname = \"q\"\ncells = [[4, 2, 0]]\n",
     "pieces_overlap", "7:1", "both take cell [4, 2, 0]"},
    {"GoalTooLarge", "[goal]\nsolid = \"rhombic dodecahedron\"\n[[piece]]\nname = \"p\"\ncells = [[4, 2, 0]]\n",
     "wrong_volume", "4:1", "the goal has 24 cells, the pieces have 1"},
    {"GoalInTwoParts",
     "[goal]\ncells = [[4, 0, -2], [4, 0, 2]]\n[[piece]]\nname = \"p\"\ncopies = 2\ncells = [[4, 2, 0]]\n",
     "piece_in_parts", "4:1", "goal"},
    {"UnknownSolid", "[goal]\nsolid = \"rhombic dodecahedrom\"\n[[piece]]\nname = \"p\"\ncells = [[4, 2, 0]]\n",
     "unknown_solid", "5:9", "did you mean"},
    {"GoalWithBothForms",
     "[goal]\nsolid = \"rhombic dodecahedron\"\ncells = [[4, 2, 0]]\n[[piece]]\nname = \"p\"\ncells = [[4, 2, 0]]\n",
     "too_many_keys", "5:1", ""},
    {"CopiesWithoutGoal", "[[piece]]\nname = \"p\"\ncopies = 2\ncells = [[4, 2, 0]]\n", "copies_need_goal", "6:10",
     "[goal]"},
    {"MirroredCopiesWithoutGoal", "[[piece]]\nname = \"p\"\nmirrored_copies = 1\ncells = [[4, 2, 0]]\n",
     "copies_need_goal", "6:19", "[goal]"},
    {"NoCopyAtAll", "[[piece]]\nname = \"p\"\ncopies = 0\ncells = [[4, 2, 0]]\n", "out_of_range", "6:10", "no copy"},
    {"NegativeCopies", "[[piece]]\nname = \"p\"\ncopies = -1\ncells = [[4, 2, 0]]\n", "out_of_range", "6:10", ""},
    {"NameTwice", "[[piece]]\nname = \"p\"\ncells = [[4, 0, -2]]\n[[piece]]\nname = \"p\"\ncells = [[4, 2, 0]]\n",
     "name_twice", "8:8", "its own name"},
    {"NoPiece", "", "missing_key", "1:1", "piece"},
    {"PieceWithoutForm", "[[piece]]\nname = \"p\"\n", "missing_key", "4:1", "cells"},
    {"PieceWithTwoForms",
     "[[piece]]\nname = \"p\"\ncells = [[4, 2, 0]]\nblocks = [{ shape = \"prism block\", hand = \"left\" }]\n",
     "too_many_keys", "6:1", ""},
    {"NotchedStickInMiteredFamily", "[[piece]]\nname = \"p\"\nstick = \"2x2x6\"\n", "wrong_family", "6:1", "notched"},
    {"UnknownKeyInPiece", "[[piece]]\nname = \"p\"\ncels = [[4, 2, 0]]\n", "unknown_key", "6:1", "cells"},
    {"UnknownShape", "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"prysm block\" }]\n", "unknown_shape", "6:21",
     "prism block"},
    {"HandMissing", "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"prism block\" }]\n", "hand_needed", "6:21",
     "left- or right-handed"},
    {"HandTooMany", "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"center block\", hand = \"left\" }]\n",
     "hand_needed", "6:44", "has no hand"},
    {"HandMisspelt", "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"prism block\", hand = \"rigth\" }]\n",
     "bad_choice", "6:43", "right"},
    {"TurnTooHigh", "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"squat octahedron\", turn = 99 }]\n", "out_of_range",
     "6:48", ""},
    {"TurnTooHighForAGluedBlock",
     "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"squat octahedron\" }, { shape = \"rhombic pyramid block\", on = "
     "1, face = "
     "\"+x+z\", turn = 9 }]\n",
     "out_of_range", "6:108", ""},
    {"ShiftOffTheLattice", "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"squat octahedron\", at = [1, 0, 0] }]\n",
     "bad_shift", "6:46", "three even or three odd"},
    {"GluedOnABlockThatIsNotThere",
     "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"squat octahedron\" }, { shape = \"rhombic pyramid block\", on = "
     "2, face = \"+x+z\" }]\n",
     "out_of_range", "6:83", ""},
    {"GluedOnAFaceThatIsNotThere",
     "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"tetrahedral block\" }, { shape = \"tetrahedral block\", on = 1, "
     "face = \"+x+x\" }]\n",
     "bad_face", "6:90", "Its faces are"},
    {"SeveralWaysToGlue",
     "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"squat octahedron\" }, { shape = \"rhombic pyramid block\", on = "
     "1, face = \"+x+z\" }]\n",
     "several_ways", "6:53", "turn = 1 to"},
    {"BlocksOverlap",
     "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"squat octahedron\" }, { shape = \"squat octahedron\" }]\n",
     "blocks_overlap", "6:43", "an earlier block"},
    {"BlockWithUnknownKey", "[[piece]]\nname = \"p\"\nblocks = [{ shape = \"squat octahedron\", sape = 1 }]\n",
     "unknown_key", "6:41", "shape"},
};

INSTANTIATE_TEST_SUITE_P(Designs, BadDesign, testing::ValuesIn(kMistakes),
                         [](const auto& param_info) { return std::string(param_info.param.name); });

TEST(BadDesignHead, FamilyFormatAndSyntax) {
  const std::string tail = kPrism;
  EXPECT_EQ(parse_design("format = 1\nname = \"d\"\nfamily = \"hexagonal\"\n" + tail, "d").problem().code,
            "unknown_family");
  EXPECT_EQ(parse_design("format = 2\nname = \"d\"\nfamily = \"mitered\"\n" + tail, "d").problem().code, "bad_format");
  EXPECT_EQ(parse_design("format = 1\nname = \"d\"\nfamily = \"mitered\n" + tail, "d").problem().code, "bad_toml");
  EXPECT_EQ(parse_design("name = \"d\"\nfamily = \"mitered\"\n" + tail, "d").problem().code, "missing_key");
  EXPECT_EQ(load_design("no/such/file.toml").problem().code, "no_file");
}

TEST(Design, WithoutAGoalThePiecesStandWhereTheyBelong) {
  const auto d = parse_design(kHead + kPrism, "d");
  ASSERT_TRUE(d) << d.problem().say;
  EXPECT_EQ(d.value().goal, d.value().pieces[0].cells);
}

TEST(Design, ExamplesGivenAsBlocksAndAsCellsAreTheSamePieces) {
  const auto blocks = load_design(STICKWRIGHT_SOURCE "/examples/wrenfield/star.toml");
  const auto cells = load_design(STICKWRIGHT_SOURCE "/examples/cells/star.toml");
  ASSERT_TRUE(blocks && cells);
  EXPECT_EQ(blocks.value().goal, cells.value().goal);
  EXPECT_EQ(shape_of(mitered(), blocks.value().pieces[0].cells).shape,
            shape_of(mitered(), cells.value().pieces[0].cells).shape);
}

TEST(Design, KeptBlocksAreRemembered) {
  const auto d =
      parse_design(kHead +
                       "[[piece]]\nname = \"p\"\nkeep_blocks = true\nblocks = [{ shape = \"squat octahedron\" }, "
                       "{ shape = \"rhombic pyramid block\", on = 1, face = \"+x+z\", turn = 2 }]\n",
                   "d");
  ASSERT_TRUE(d) << d.problem().say;
  ASSERT_EQ(d.value().pieces[0].own_blocks.size(), 2u);
  EXPECT_EQ(d.value().pieces[0].own_blocks[1].size(), 2u);
}

}  // namespace
}  // namespace stickwright
