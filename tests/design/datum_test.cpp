// The faces of a piece that the plates of the glue jig hold.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdint>

#include "design/mistake.h"

namespace stickwright {
namespace {

const std::string kHead = "format = 1\nname = \"d\"\nfamily = \"mitered\"\n";  // three lines

std::string octahedron(const std::string& datum, const std::string& more = "") {
  return "[[piece]]\nname = \"p\"\ndatum = " + datum + "\n" + more + "blocks = [{ shape = \"squat octahedron\" }]\n";
}

TEST(Datum, IsReadInTheOrderGiven) {
  const auto d = parse_design(kHead + octahedron("[\"+x+y\", \"-x+z\", \"-x-y\", \"+x+z\"]"), "d");
  ASSERT_TRUE(d) << d.problem().say;  // four faces, but three directions
  EXPECT_EQ(d.value().pieces[0].datum, (std::vector<Vec>{{1, 1, 0}, {-1, 0, 1}, {-1, -1, 0}, {1, 0, 1}}));
}

TEST(Datum, MayBeLeftOutOrEmpty) {
  const auto without = parse_design(kHead + "[[piece]]\nname = \"p\"\ncells = [[4, 2, 0]]\n", "d");
  ASSERT_TRUE(without);
  EXPECT_TRUE(without.value().pieces[0].datum.empty());
  const auto empty = parse_design(kHead + octahedron("[]"), "d");
  ASSERT_TRUE(empty);
  EXPECT_TRUE(empty.value().pieces[0].datum.empty());
}

// Whether the cells have an outer face with that normal.
bool shows(const Cells& cells, Vec normal) {
  for (Cell c : cells) {
    const auto planes = mitered().planes(c);
    for (std::size_t i = 0; i < planes.size(); ++i)
      if (planes[i].n == normal && !std::binary_search(cells.begin(), cells.end(), mitered().neighbors(c)[i]))
        return true;
  }
  return false;
}

constexpr const char* kFaces[] = {"+x+y", "+x-y", "-x+y", "-x-y", "+y+z", "+y-z",
                                  "-y+z", "-y-z", "+x+z", "+x-z", "-x+z", "-x-z"};

TEST(Datum, APieceDrawnAsCellsHasItAmongTheFacesOfItsCells) {
  int taken = 0;
  for (const char* face : kFaces) {
    const auto d =
        parse_design(kHead + "[[piece]]\nname = \"p\"\ncells = [[4, 2, 0]]\ndatum = [\"" + face + "\"]\n", "d");
    taken += static_cast<bool>(d);
    if (d) {
      EXPECT_TRUE(shows({{4, 2, 0}}, d.value().pieces[0].datum.front())) << face;
    } else {
      EXPECT_EQ(d.problem().code, "bad_face") << face;
    }
  }
  EXPECT_EQ(taken, 4);  // a tetrahedron
}

TEST(Datum, OfAMirroredCopyIsMirroredLikeItsCells) {
  // A left-handed prism block has faces in few directions, so a normal that is not mirrored would show.
  const std::string text = kHead +
                           "[goal]\nsolid = \"rhombic dodecahedron\"\n[[piece]]\nname = \"p\"\ncopies = 4\n"
                           "mirrored_copies = 4\nblocks = [{ shape = \"prism block\", hand = \"left\" }]\n";
  const auto plain = parse_design(text, "d");
  ASSERT_TRUE(plain) << plain.problem().say;
  const Cells cells = plain.value().pieces[0].cells;
  int told_apart = 0;
  for (const char* name : kFaces) {
    const auto d = parse_design(text + "datum = [\"" + name + "\"]\n", "d");
    if (!d) continue;
    const std::vector<MadePiece> made = made_pieces(d.value());
    ASSERT_EQ(made.size(), 2u);
    EXPECT_EQ(made[0].datum, d.value().pieces[0].datum);
    ASSERT_EQ(made[1].datum.size(), 1u);
    EXPECT_TRUE(shows(made[1].cells, made[1].datum[0])) << name;
    told_apart += !shows(made[1].cells, made[0].datum[0]);
  }
  EXPECT_GT(told_apart, 0);  // else the test would not notice a normal left as it is
}

TEST(Datum, StaysWithThePiecesThatAnAssemblyUses) {
  const auto d = parse_design(kHead + octahedron("[\"+x+y\"]"), "d");
  ASSERT_TRUE(d);
  const Design used = settled(d.value(), {1}, d.value().goal);
  ASSERT_EQ(used.pieces.size(), 1u);
  EXPECT_EQ(used.pieces[0].datum, (std::vector<Vec>{{1, 1, 0}}));
}

// In the example every block of the arm has both faces, each in one plane with those of the others: they lie in a V.
TEST(Datum, TheFacesOfTheExampleAreSharedByAllItsBlocks) {
  const auto d = load_design(STICKWRIGHT_SOURCE "/examples/wrenfield/star.toml");
  ASSERT_TRUE(d) << d.problem().say;
  const Piece& arm = d.value().pieces[0];
  ASSERT_EQ(arm.datum.size(), 2u);
  EXPECT_EQ(dot(arm.datum[0], arm.datum[1]), 0);  // at right angles
  for (Vec normal : arm.datum) {
    std::int64_t furthest = INT64_MIN;
    for (Cell c : arm.cells)
      for (Vec corner : mitered().corners(c)) furthest = std::max(furthest, dot(normal, corner));
    int cells_on_plate = 0;
    for (Cell c : arm.cells)
      for (const HalfSpace& f : mitered().planes(c)) cells_on_plate += f == HalfSpace{normal, furthest};
    EXPECT_EQ(cells_on_plate, 3);  // these triangles of the octahedron and the pyramids are single faces of cells
  }
}

class BadDatum : public testing::TestWithParam<Mistake> {};

TEST_P(BadDatum, GetsOneClearErrorAtItsPlace) {
  expect_one_clear_error(kHead, GetParam());
}

const Mistake kMistakes[] = {
    {"NotAList", octahedron("\"+x+y\""), "wrong_type", "6:9", "a list in brackets"},
    {"NotAFace", octahedron("[\"+x+y\", \"top\"]"), "bad_face", "6:18", "no face \"top\". Its faces are \"-x-y\""},
    {"AFaceOfNoBlock", octahedron("[\"+y+z\"]"), "bad_face", "6:10", "Its faces are"},
    {"SlipOfThePen", octahedron("[\"+x+yy\"]"), "bad_face", "6:10", "did you mean \"+x+y\""},
    {"ANumber", octahedron("[3]"), "wrong_type", "6:10", "a text in quotes"},
    {"FaceTwice", octahedron("[\"+x+y\", \"-x-y\", \"+x+y\"]"), "face_twice", "6:26", "Leave one out"},
    {"FourDirections", octahedron("[\"+x+y\", \"+x-y\", \"+x+z\", \"-x+z\"]"), "bad_count", "6:34",
     "at most 3 directions"},
    {"Misspelt", octahedron("[\"+x+y\"]", "datums = 1\n"), "unknown_key", "7:1", "did you mean \"datum\""},
};

INSTANTIATE_TEST_SUITE_P(Designs, BadDatum, testing::ValuesIn(kMistakes),
                         [](const auto& param_info) { return std::string(param_info.param.name); });

TEST(Datum, IsForGluedPieces) {
  const std::string head = "format = 1\nname = \"d\"\nfamily = \"notched\"\n";
  expect_one_clear_error(head, {"", "[[piece]]\nname = \"p\"\ncells = [[0, 0, 0]]\ndatum = [\"+x+y\"]\n",
                                "wrong_family", "7:1", "no `datum`"});
}

}  // namespace
}  // namespace stickwright
