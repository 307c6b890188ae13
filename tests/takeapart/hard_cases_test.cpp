// Single designs whose answer can be told by hand, and places where a search is easily wrong.
#include <gtest/gtest.h>

#include <atomic>

#include "support/hard_designs.h"
#include "support/random_walk.h"
#include "takeapart/coordinated.h"
#include "takeapart/part_search.h"
#include "takeapart/takeapart.h"

namespace stickwright {
namespace {

// Why whole units are enough for two pieces: by Cramer's rule, for all planes n.x = k * step near the origin.
TEST(Planes, OfTwoPiecesMeetInWholePlaces) {
  for (const Family* family : {&mitered(), &notched()})
    for (Vec a : family->separators())
      for (Vec b : family->separators())
        for (Vec c : family->separators()) {
          const std::int64_t det = dot(a, cross(b, c));
          if (det <= 0) continue;
          const std::int64_t sa = family->separator_step(a), sb = family->separator_step(b),
                             sc = family->separator_step(c);
          // The corner is a sum of such vectors over det, one multiple of each.
          for (Vec v : {sa * cross(b, c), sb * cross(c, a), sc * cross(a, b)})
            EXPECT_TRUE(v.x % det == 0 && v.y % det == 0 && v.z % det == 0);
        }
}

TEST(TakeApart, CountsTheTurnsOfATunnel) {
  const auto one_turn = known::cube_in_a_tunnel(known::box(3, 3, 4), {{1, 1, 1}, {1, 1, 2}, {0, 1, 2}});
  const auto two_turns = known::cube_in_a_tunnel(known::box(4, 3, 4), {{1, 1, 1}, {1, 1, 2}, {2, 1, 2}, {2, 0, 2}});
  for (const auto& [pieces, moves] : {std::pair(one_turn, 2), std::pair(two_turns, 3)}) {
    const TakeApart t = take_apart(notched(), pieces);
    ASSERT_EQ(t.verdict, Verdict::found);
    EXPECT_EQ(t.moves_to_first, moves);
    EXPECT_EQ(static_cast<int>(t.steps.size()), moves);
    EXPECT_TRUE(t.fewest);
    EXPECT_TRUE(check_take_apart(notched(), pieces, t.steps));
  }
}

TEST(TakeApart, OfACubeThatRattlesInABoxIsExhausted) {
  const auto pieces = known::cube_in_a_tunnel(known::box(3, 3, 4), {{1, 1, 1}, {1, 1, 2}});
  const TakeApart t = take_apart(notched(), pieces);
  EXPECT_EQ(t.verdict, Verdict::none_exists);
  EXPECT_EQ(t.proof, Proof::exhausted);
  EXPECT_EQ(t.stuck, (std::vector<int>{0, 1}));
  EXPECT_EQ(t.states, 2);
  EXPECT_FALSE(t.certificate);
}

// Mitered pieces rattle to places at half units, too, from where some slides end between two stops; of two pieces the
// proof holds all the same.
TEST(TakeApart, OfACellThatRattlesInADodecahedronIsExhausted) {
  Cells shell = known::rhombic_dodecahedron(4);
  const Cells hole = known::rhombic_dodecahedron(2);
  std::erase_if(shell, [&](Cell c) { return std::binary_search(hole.begin(), hole.end(), c); });
  const TakeApart t = take_apart(mitered(), {shell, {hole[0]}});
  EXPECT_EQ(t.verdict, Verdict::none_exists);
  EXPECT_EQ(t.proof, Proof::exhausted);
  EXPECT_EQ(t.stuck, (std::vector<int>{0, 1}));
  EXPECT_GT(t.states, 10);
}

TEST(TakeApart, NamesTheRestThatStaysLockedWhenAPieceComesOff) {
  auto pieces = known::cube_in_a_tunnel(known::box(3, 3, 3), {{1, 1, 1}});
  pieces.insert(pieces.begin(), {{1, 1, 3}});  // lies on top
  const TakeApart t = take_apart(notched(), pieces);
  EXPECT_EQ(t.verdict, Verdict::none_exists);
  EXPECT_EQ(t.proof, Proof::certificate);
  EXPECT_EQ(t.stuck, (std::vector<int>{1, 2}));
  const std::vector<Cells> stuck = {pieces[1], pieces[2]};
  EXPECT_TRUE(check_certificate(notched(), {stuck}, t.certificate.value()));
  const TakeApart exhausted = take_apart(notched(), pieces, {.certificates = false});
  EXPECT_EQ(exhausted.proof, Proof::exhausted);
  EXPECT_EQ(exhausted.stuck, t.stuck);
}

TEST(TakeApart, OfLockedMiteredPiecesHasACertificateThatHolds) {
  const auto pieces = known::three_around_a_diagonal(
      {{0, -4, -2}, {0, -2, -4}, {0, -2, 4}, {2, -4, 0}, {2, 0, -4}, {2, 0, 4}, {4, -2, 0}, {4, 0, 2}});
  const TakeApart t = take_apart(mitered(), pieces);
  EXPECT_EQ(t.verdict, Verdict::none_exists);
  EXPECT_EQ(t.proof, Proof::certificate);
  EXPECT_EQ(t.stuck, (std::vector<int>{0, 1, 2}));
  EXPECT_TRUE(check_certificate(mitered(), {pieces}, t.certificate.value()));
}

void expect_three_hands(const std::vector<Cells>& pieces) {
  const TakeApart t = take_apart(mitered(), pieces);
  ASSERT_EQ(t.verdict, Verdict::found);
  EXPECT_EQ(t.steps[0].hands(), 3);
  EXPECT_TRUE(t.coordinated());
  EXPECT_TRUE(check_take_apart(mitered(), pieces, t.steps));
}

TEST(TakeApart, FindsThePiecesThatOpenAllAtOnce) {
  expect_three_hands(known::opening_together());
}

// Their cone of motions has no extreme ray: the motion keeps all contacts.
TEST(TakeApart, FindsTheBarsThatPushEachOtherAroundACorner) {
  const auto pieces = known::bars_around_a_corner();
  const CoordinatedMotions c = coordinated_motions(mitered(), touching(mitered(), {pieces}));
  EXPECT_EQ(c.rays, 0u);
  EXPECT_EQ(c.slides, 1);
  ASSERT_EQ(c.motions.size(), 2u);
  for (const Motion& m : c.motions) EXPECT_TRUE(check_motion(mitered(), {pieces}, m));
  expect_three_hands(pieces);
}

TEST(TakeApart, StopsAtALimitOrWhenCancelled) {
  const auto pieces = known::cube_in_a_tunnel(known::box(3, 3, 4), {{1, 1, 1}, {1, 1, 2}, {0, 1, 2}});
  EXPECT_EQ(take_apart(notched(), pieces, {.states = 1}).verdict, Verdict::stopped);
  const std::atomic<bool> cancel = true;
  EXPECT_EQ(take_apart(notched(), pieces, {.cancel = &cancel}).verdict, Verdict::stopped);
}

std::vector<Cells> mirrored(const Family& family, std::vector<Cells> pieces) {
  for (Cells& cells : pieces) cells = moved(family, {family.reflections()[0], {}}, cells);
  return pieces;
}

TEST(TakeApart, OfMirrorImagesIsTheSame) {
  std::mt19937 rng(3);
  std::set<std::pair<Verdict, std::size_t>> kinds;
  for (int k = 0; k < 60; ++k) {
    const Family& family = k % 2 == 0 ? notched() : mitered();
    const Cells goal = k % 2 == 0 ? known::box(4, 3, 3) : known::rhombic_dodecahedron(2);
    const auto pieces = known::cut_in_snakes(family, goal, 2 + k % 3, rng);
    const TakeApart a = take_apart(family, pieces), b = take_apart(family, mirrored(family, pieces));
    EXPECT_EQ(a.verdict, b.verdict);
    EXPECT_EQ(a.moves_to_first, b.moves_to_first);
    EXPECT_EQ(a.steps.size(), b.steps.size());
    EXPECT_EQ(a.proof, b.proof);
    kinds.insert({a.verdict, a.steps.size()});
  }
  EXPECT_GE(kinds.size(), 4u);
}

// Thirteen pegs in a plate: eleven stand free, two have one of these on top of them. What may leave upward is any set
// of pegs with each that lies on one of them: 3 * 3 * 2^9 - 1 groups, and they are more than are tried.
TEST(PartSearch, SaysSoWhenItLeavesGroupsOut) {
  Cells plate = known::box(23, 3, 3);
  std::vector<Cells> pegs(13);
  for (std::int64_t k = 0; k < 11; ++k) {
    pegs[k] = {{2 * k + 1, 1, 2}};
    std::erase(plate, pegs[k][0]);
  }
  for (std::int64_t k = 0; k < 2; ++k) {
    pegs[11 + k] = {{2 * k + 1, 1, 1}};
    std::erase(plate, pegs[11 + k][0]);
  }
  std::vector<Cells> pieces = {plate};
  pieces.insert(pieces.end(), pegs.begin(), pegs.end());
  StandingPart part;
  for (int i = 0; i < 14; ++i) part.pieces.push_back(i), part.at.push_back({});
  SlideTable table(notched(), pieces);
  PartSearch search(table, part);
  const std::size_t groups = search.ways_out(0, PartSearch::Which::all).size();
  EXPECT_TRUE(groups == 4607 || search.left_something_out()) << groups;
}

// Three like pieces: with `alike` the sides of a parting that are turned copies are taken apart the same way.
TEST(TakeApart, OfTurnedCopiesIsLegalAndNoLonger) {
  std::mt19937 rng(9);
  int found = 0;
  for (int k = 0; k < 300; ++k) {
    const Cells piece = known::cut_in_snakes(mitered(), known::rhombic_dodecahedron(2), 4, rng)[0];
    const auto pieces = known::three_around_a_diagonal(piece);
    std::set<Cell> cells;
    for (const Cells& p : pieces) cells.insert(p.begin(), p.end());
    if (cells.size() != 3 * piece.size()) continue;
    const TakeApart plain = take_apart(mitered(), pieces), alike = take_apart(mitered(), pieces, {.alike = true});
    EXPECT_EQ(plain.verdict, alike.verdict);
    EXPECT_EQ(plain.steps.size(), alike.steps.size());
    if (alike.verdict != Verdict::found) continue;
    EXPECT_TRUE(check_take_apart(mitered(), pieces, alike.steps));
    ++found;
  }
  EXPECT_GT(found, 3);
}

}  // namespace
}  // namespace stickwright
