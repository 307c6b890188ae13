// The take-apart search against a second, deliberately plain one, on thousands of designs.
#include "support/plain_search.h"

#include <gtest/gtest.h>

#include <numeric>

#include "support/polycubes.h"
#include "support/random_pieces.h"
#include "support/random_walk.h"
#include "takeapart/takeapart.h"

namespace stickwright {
namespace {

struct Tally {
  int compared = 0, several_moves = 0, locked = 0, rattle = 0, not_fewest = 0;
};

std::vector<int> first_numbers(std::size_t n) {
  std::vector<int> out(n);
  std::iota(out.begin(), out.end(), 0);
  return out;
}

void expect_same_way(const Family& family, const std::vector<Cells>& pieces, const TakeApart& t,
                     const plain::Answer& answer, Tally& tally) {
  EXPECT_TRUE(check_take_apart(family, pieces, t.steps));
  if (t.coordinated()) {
    EXPECT_FALSE(answer.apart);
    return;
  }
  ASSERT_TRUE(answer.apart);
  EXPECT_EQ(t.moves_to_first, answer.first);
  const int steps = static_cast<int>(t.steps.size());
  EXPECT_TRUE(steps == answer.all || (!t.fewest && steps > answer.all)) << steps << " " << answer.all;
  tally.several_moves += t.moves_to_first > 1;
  tally.not_fewest += !t.fewest;
}

// Forces prove it when the pieces that stay together have a single position, and only then.
void expect_same_proof(const Family& family, const std::vector<Cells>& pieces, const TakeApart& t,
                       plain::Search& search, Tally& tally) {
  const plain::Answer stuck = search.take_apart(t.stuck);
  if (stuck.gave_up) return;
  EXPECT_EQ(stuck.first, 0);
  EXPECT_EQ(t.proof, stuck.positions == 1 ? Proof::certificate : Proof::exhausted);
  (t.proof == Proof::certificate ? tally.locked : tally.rattle)++;
  if (!t.certificate) return;
  std::vector<Cells> left;
  for (int i : t.stuck) left.push_back(pieces[i]);
  EXPECT_TRUE(check_certificate(family, {left}, *t.certificate));
}

plain::Answer expect_same(const Family& family, const std::vector<Cells>& pieces, plain::Limits limits, Tally& tally) {
  plain::Search search(&family == &notched() ? plain::cubes(pieces) : plain::mitered_cells(pieces), limits);
  const plain::Answer answer = search.take_apart(first_numbers(pieces.size()));
  if (answer.gave_up) return answer;
  ++tally.compared;
  const TakeApart t = take_apart(family, pieces);
  EXPECT_NE(t.verdict, Verdict::stopped);
  if (t.verdict == Verdict::found) expect_same_way(family, pieces, t, answer, tally);
  if (t.verdict == Verdict::none_exists) {
    EXPECT_FALSE(answer.apart);
    expect_same_proof(family, pieces, t, search, tally);
  }
  return answer;
}

// Along a walk of so many designs.
void expect_same_along(const Family& family, const Cells& goal, const std::vector<Cells>& start, int designs,
                       plain::Limits limits, Tally& tally) {
  known::RandomWalk walk(family, goal, start, 5);
  for (int k = 0; k < designs && !testing::Test::HasFailure(); ++k) {
    SCOPED_TRACE(k);
    walk.next(expect_same(family, walk.pieces(), limits, tally));
  }
}

struct Walks {
  Cells goal;
  int pieces, designs;
  plain::Limits limits;
};

Tally expect_same_along_all(const Family& family, const std::vector<Walks>& all) {
  Tally tally;
  std::mt19937 rng(8);
  for (const Walks& w : all)
    for (int start = 0; start < 2; ++start)
      expect_same_along(family, w.goal, known::cut_in_snakes(family, w.goal, w.pieces, rng), w.designs, w.limits,
                        tally);
  return tally;
}

TEST(PlainSearch, OfTwoOrThreeNotchedPiecesAgrees) {
  const Tally tally = expect_same_along_all(notched(), {{known::box(3, 3, 3), 2, 1000, {.box = 3}},
                                                        {known::box(4, 3, 3), 2, 1000, {.box = 3}},
                                                        {known::box(3, 3, 3), 3, 300, {.box = 2, .positions = 1500}},
                                                        {known::box(4, 4, 2), 3, 300, {.box = 2, .positions = 1500}}});
  EXPECT_GT(tally.compared, 4500);
  EXPECT_GT(tally.several_moves, 20);
  EXPECT_GT(tally.locked, 20);
  EXPECT_GT(tally.rattle, 20);
  EXPECT_EQ(tally.not_fewest, 0);
}

TEST(PlainSearch, OfFourOrFiveNotchedPiecesAgrees) {
  const Tally tally = expect_same_along_all(notched(), {{known::box(3, 3, 3), 4, 300, {.box = 0, .positions = 300}},
                                                        {known::box(4, 3, 3), 4, 300, {.box = 0, .positions = 300}},
                                                        {known::box(3, 3, 3), 5, 60, {.box = 0, .positions = 200}}});
  EXPECT_GT(tally.compared, 1100);
  EXPECT_GT(tally.locked, 20);
}

TEST(PlainSearch, OfTwoOrThreeMiteredPiecesAgrees) {
  const Tally tally = expect_same_along_all(mitered(), {{known::rhombic_dodecahedron(2), 2, 300, {.box = 2}},
                                                        {known::rhombic_dodecahedron(2), 3, 300, {.box = 1}}});
  EXPECT_GT(tally.compared, 1100);
  EXPECT_GT(tally.locked, 20);
}

// Found by a long walk of this kind: one slide to get free, another to leave.
TEST(PlainSearch, OfMiteredPiecesThatNeedTwoMovesAgrees) {
  const std::vector<Cells> start = {
      {{-6, 0, -4},
       {-4, -2, 0},
       {-4, 0, -2},
       {-4, 2, 0},
       {-4, 6, 0},
       {-2, 4, 0},
       {0, 2, 4},
       {0, 4, 2},
       {2, 0, 4},
       {4, 0, 6},
       {6, 0, 4}},
      {{-6, 0, 4},  {-4, -6, 0}, {-4, 0, -6}, {-4, 0, 2},  {-4, 0, 6}, {-2, -4, 0}, {-2, 0, -4}, {-2, 0, 4},
       {0, -6, -4}, {0, -6, 4},  {0, -4, -6}, {0, -4, -2}, {0, -4, 2}, {0, -2, -4}, {0, -2, 4},  {0, 2, -4},
       {0, 4, -6},  {0, 4, -2},  {2, 0, -4},  {4, -2, 0},  {4, 0, -2}, {6, 0, -4}}};
  Tally tally;
  expect_same_along(mitered(), known::rhombic_dodecahedron(3), start, 400, {.box = 2}, tally);
  EXPECT_GT(tally.several_moves, 20);
}

}  // namespace
}  // namespace stickwright
