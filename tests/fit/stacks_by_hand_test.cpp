// Plays derived by hand, against the whole way from cells through blocks, cut programs and gluing to the fit.
//
// The vise. Squat octahedra stand in a row along n = (1,1,0)/sqrt 2 between the jaws of one piece, which touch the two
// outer ones on parallel planes and nothing else. A force through all contacts along n balances alone, so that each of
// k contacts carries 1/k, and the play is what the jaws are farther apart than the octahedra are thick, over k.
//
// The star. Arm A is an octahedron with a pyramid on two sides, whose bases go on beside the octahedron and embrace the
// octahedra of two neighbors. With arms called by where they point, ±x embrace ±z, these embrace ±y, these embrace ±x:
// twelve contacts. The other twelve are between octahedra. Let all arms go outwards by u: the gaps between octahedra
// open by sqrt 2 u, those of the embraces stay. Balanced forces do no work in that, so none acts between octahedra. Let
// f(A,B) be the force with which A embraces B. Along B's stick, at B's own bases: f(B,C) = f(B,-C); across: f(A,B) =
// f(-A,B); outwards: both pairs the same. So all twelve are equal, 1/12 each, and faces that shift without turning give
//   play = the mean over the twelve of: how far the base goes off, less how far the embraced face comes out.
// A base lies on the joint's plane, a glue line above the octahedron's own face, whatever the pyramid is like.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "support/fit_puzzles.h"
#include "support/star_pieces.h"

namespace stickwright {
namespace {

using std::numbers::sqrt2;
constexpr double kRounding = 1e-9;  // mm
constexpr double kOff = 0.03;       // mm

const Cells kOctahedron = {{4, -2, 0}, {4, 0, -2}, {4, 0, 2}, {4, 2, 0}};          // 0 < x±y < 2, 0 < x±z < 2
const Cells kNextOctahedron = {{-2, -4, 0}, {0, -4, -2}, {0, -4, 2}, {2, -4, 0}};  // -2 < y±x < 0, -2 < y±z < 0

// The shortest ways around from x + y = 2 to x + y = 0, and to x + y = -2, found by breadth first search.
const Cells kJaws = {{2, -4, 0},  {4, -8, -2}, {4, -6, 0}, {6, -8, -4}, {6, 4, 0},  {8, -6, -4},
                     {8, -4, -6}, {8, -2, -4}, {8, 2, -4}, {8, 4, -2},  {10, 0, -4}};
const Cells kWiderJaws = {{-4, -8, -2}, {-4, -6, 0}, {-2, -8, -4}, {0, -10, -4}, {2, -8, -4}, {4, -8, -6}, {4, -6, -8},
                          {6, -4, -8},  {6, 4, 0},   {8, -4, -6},  {8, -2, -4},  {8, 2, -4},  {8, 4, -2},  {10, 0, -4}};

struct Stack {
  known::FitPuzzle p;
  FitProgram program;
  std::vector<double> values;
  explicit Stack(const std::vector<Cells>& pieces)
      : p(known::fit_puzzle("stack", pieces)), program(p.gaps.rows), values(known::no_errors(p)) {}

  // Every number of that name, or whose key is that, is so much off.
  int off(const std::string& name, double by) {
    int count = 0;
    for (std::size_t k = 0; k < p.errors.numbers.size(); ++k)
      if (p.errors.numbers[k].name == name || p.errors.numbers[k].key == name) values[k + 1] = by, ++count;
    p.errors.derive(values);
    return count;
  }
  void stop_off(int shape, int stop, double by) {
    for (const StopNumber& s : p.errors.stops)
      if (s.shape == shape && s.stop == stop) values[static_cast<std::size_t>(s.number)] = by;
    p.errors.derive(values);
  }
  double play() const { return known::linear_fit(p, program, values).play_mm; }
  const StandingBlock& block(int b) const { return p.puzzle.blocks[static_cast<std::size_t>(b)]; }
};

// How the octahedron is cut, on which the derivations rest: rolled half a turn between all of its cuts; between the
// start and cut 1, and between cuts 2 and 3, a mitered stop that a whole face touches; before cut 2 a square stop that
// the tip touches.
void expect_the_cuts_derived_for(const Program& p) {
  ASSERT_EQ(p.cuts.size(), 3u);
  EXPECT_EQ(p.cuts[0].contact, Seating::face);
  EXPECT_EQ(p.cuts[1].contact, Seating::point);
  EXPECT_EQ(p.cuts[2].contact, Seating::face);
  EXPECT_EQ(p.stops[static_cast<std::size_t>(p.cuts[1].stop)].face, StopFace::square);
  EXPECT_EQ(p.cuts[0].stop, p.cuts[2].stop);
}

int octahedron_shape(const Stack& s) {
  for (std::size_t k = 0; k < s.p.shop.shape_names.size(); ++k)
    if (s.p.shop.shape_names[k] == "squat octahedron") return static_cast<int>(k);
  return -1;
}

TEST(Vise, TwoPiecesWithAnOctahedronTooThickAreTightByHalf) {
  Stack s({kJaws, kOctahedron});
  const int shape = octahedron_shape(s);
  expect_the_cuts_derived_for(s.p.shop.programs[static_cast<std::size_t>(shape)]);
  // The planes x + y = 2 and 0 are cuts 2 and 3, the mitered stop between them. Too far by d along the axis, at which
  // the planes lean by 45 degrees, it makes the octahedron thicker by d / sqrt 2.
  s.stop_off(shape, 0, kOff);
  EXPECT_NEAR(s.play(), -kOff / sqrt2 / 2, kRounding);
  s.stop_off(shape, 0, 0);
  EXPECT_NEAR(s.play(), 0, kRounding);
  // A chip of thickness d before the last cut makes it thinner by as much.
  ASSERT_EQ(s.off("seating at cut 3 of block 0 of piece 1", kOff), 1);
  EXPECT_NEAR(s.play(), kOff / sqrt2 / 2, kRounding);
}

TEST(Vise, ThreePiecesWithBothOctahedraTooThickAreTightByTwoThirds) {
  Stack s({kWiderJaws, kOctahedron, kNextOctahedron});
  const int shape = octahedron_shape(s);
  expect_the_cuts_derived_for(s.p.shop.programs[static_cast<std::size_t>(shape)]);
  s.stop_off(shape, 0, kOff);  // the other one lies with start and cut 1 in the vise: the same stop
  EXPECT_NEAR(s.play(), -2 * kOff / sqrt2 / 3, kRounding);
}

// A glue line moves all that hangs on it along the joint's normal m, by m.n of it along n. From jaw to jaw the normals
// outwards from the middle block are (0,1,1) to one and (0,1,-1), (-1,1,0) to the other.
TEST(Vise, GlueLinesMoveTheJawsByTheirShareAlongTheRow) {
  Stack s({kJaws, kOctahedron});
  ASSERT_EQ(s.off("glue line", kOff), 3);
  EXPECT_NEAR(s.play(), 0, kRounding);  // 1/2 against 1/2 + 0
  Stack wider({kWiderJaws, kOctahedron, kNextOctahedron});
  // (1,-1,0), (0,1,-1), (0,1,1), (-1,1,0), all towards the one jaw: 0 + 1/2 + 1/2 + 0, over three contacts.
  ASSERT_EQ(wider.off("glue line", kOff), 4);
  EXPECT_NEAR(wider.play(), kOff / 3, kRounding);
}

// All twelve bases are a glue line farther off: the glue loosens the star by its whole thickness.
TEST(Star, GlueLineAloneIsThePlay) {
  Stack s(known::star_pieces());
  ASSERT_EQ(s.off("glue line", kOff), 12);
  EXPECT_NEAR(s.play(), kOff, kRounding);
}

TEST(Star, OneGlueLineIsATwelfthOfIt) {
  Stack s(known::star_pieces());
  for (std::size_t k = 0; k < s.p.errors.numbers.size(); ++k)
    if (s.p.errors.numbers[k].name == "glue line") {
      s.values = known::no_errors(s.p);
      s.values[k + 1] = kOff;
      s.p.errors.derive(s.values);
      EXPECT_NEAR(s.play(), kOff / 12, kRounding);
    }
}

// How often faces of octahedra made by that cut have a pyramid glued on, less how often they are embraced.
int glued_less_embraced(const Stack& s, int octahedron, int made_by, int piece = -1) {
  int count = 0;
  const auto is = [&](int block, int face) {
    const StandingBlock& b = s.block(block);
    return b.shape == octahedron && (piece < 0 || b.piece == piece) &&
           b.faces[static_cast<std::size_t>(face)].made_by == made_by;
  };
  for (const StandingPieceParts& p : s.p.puzzle.pieces)
    for (const StandingJoint& j : p.joints) count += is(j.a, j.face_a) + is(j.b, j.face_b);
  for (const BlockContact& c : s.p.contacts)
    if (s.block(c.from).shape != s.block(c.to).shape) count -= is(c.from, c.from_face) + is(c.to, c.to_face);
  return count;
}

// One block too long: a chip of thickness d before its last cut brings that cut's face in by d / sqrt 2. Where a
// pyramid sits on it, the base comes in with it; where it is embraced, the embrace gets room; where it faces another
// octahedron it does not matter.
TEST(Star, OneBlockTooShortCountsATwelfthByWhatItsFaceDoes) {
  Stack s(known::star_pieces());
  const int octahedron = octahedron_shape(s);
  expect_the_cuts_derived_for(s.p.shop.programs[static_cast<std::size_t>(octahedron)]);
  std::vector<int> met;
  for (int piece = 0; piece < 6; ++piece) {
    s.values = known::no_errors(s.p);
    ASSERT_EQ(s.off("seating at cut 3 of block 0 of piece " + std::to_string(piece), kOff), 1);
    const int way = glued_less_embraced(s, octahedron, 3, piece);
    EXPECT_NEAR(s.play(), -way * kOff / sqrt2 / 12, kRounding);
    met.push_back(way);
  }
  EXPECT_TRUE(std::any_of(met.begin(), met.end(), [](int way) { return way != 0; }));
}

// All sticks d too thick, the stops as planned. Sides come out by d/2. The start, and cut 1 by a stop that its whole
// face touches, stay. At cut 2 the tip reaches d / sqrt 2 nearer to the stop, half the diagonal having grown by that:
// the cut comes in by d/2; and cut 3, whose whole face touches, goes out by d/2 with it. Pyramids do not matter.
TEST(Star, SticksTooThickMoveSidesOutAndTheTipCutIn) {
  Stack s(known::star_pieces());
  const int octahedron = octahedron_shape(s);
  expect_the_cuts_derived_for(s.p.shop.programs[static_cast<std::size_t>(octahedron)]);
  ASSERT_GT(s.off("stick width 1", kOff) + s.off("stick width 2", kOff), 0);
  double sum = 0;
  for (int side = 0; side < 4; ++side) sum += kOff / 2 * glued_less_embraced(s, octahedron, stick_side(side));
  sum -= kOff / 2 * glued_less_embraced(s, octahedron, 2);
  sum += kOff / 2 * glued_less_embraced(s, octahedron, 3);
  EXPECT_NEAR(s.play(), sum / 12, kRounding);
}

// Sticks and stops all larger by one share make a larger star, which is as snug.
TEST(Star, LargerSticksWithLargerStopsLeaveNoPlay) {
  constexpr double kShare = 0.002;
  Stack s(known::star_pieces());
  for (const StopNumber& n : s.p.errors.stops) {
    const Stop& stop = s.p.shop.programs[static_cast<std::size_t>(n.shape)].stops[static_cast<std::size_t>(n.stop)];
    s.values[static_cast<std::size_t>(n.number)] = kShare * s.p.puzzle.unit_mm * static_cast<double>(stop.distance);
  }
  EXPECT_GT(std::abs(s.play()), 1e-3);  // larger stops alone do not
  const double side = s.p.puzzle.unit_mm * sqrt2;
  s.off("stick width 1", kShare * side);
  s.off("stick width 2", kShare * side);
  EXPECT_NEAR(s.play(), 0, kRounding);
}

}  // namespace
}  // namespace stickwright
