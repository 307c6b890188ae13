#include "takeapart/first_motion.h"

#include <gtest/gtest.h>

#include <bit>
#include <random>
#include <set>

#include "support/hard_designs.h"
#include "support/random_pieces.h"
#include "support/star_pieces.h"
#include "takeapart/coordinated.h"

namespace stickwright {
namespace {

// Rhombic dodecahedra cut into three like pieces around a diagonal, found by trying pieces at random.
std::vector<Cells> locked() {
  return known::three_around_a_diagonal(
      {{0, -4, -2}, {0, -2, -4}, {0, -2, 4}, {2, -4, 0}, {2, 0, -4}, {2, 0, 4}, {4, -2, 0}, {4, 0, 2}});
}
// Its faces leave a motion, its edges do not.
std::vector<Cells> locked_by_edges() {
  return known::three_around_a_diagonal({{-6, 0, 4},
                                         {-4, 0, 6},
                                         {-2, -4, 0},
                                         {-2, 0, 4},
                                         {0, -6, -4},
                                         {0, -6, 4},
                                         {0, -4, -6},
                                         {0, -4, -2},
                                         {0, -4, 2},
                                         {0, -4, 6},
                                         {0, -2, 4},
                                         {2, 0, 4},
                                         {4, 0, 2}});
}

Motion slide_of(std::uint64_t group, std::size_t pieces, Vec d) {
  Motion m;
  for (std::size_t i = 0; i < pieces; ++i) m.slide.push_back(group >> i & 1 ? d : Vec{});
  return m;
}

// E. Fogel and D. Halperin, "Polyhedral assembly partitioning with infinite translations, or the importance of being
// exact", IEEE T-ASE 10 (2013), report for this solid the same eight directions.
TEST(Partings, OfTheSixPieceStarAreTheEightBodyDiagonalsThreeAgainstThree) {
  const auto pieces = known::star_pieces();
  const Touching t = touching(mitered(), {pieces});
  std::set<Vec> ways;
  for (const Parting& p : partings(mitered(), t)) {
    EXPECT_TRUE(ways.insert(p.direction).second);
    EXPECT_EQ(p.moves.size(), 3u);
  }
  const std::vector<Vec> diagonals = all_turns_of({{1, 1, 1}});
  EXPECT_EQ(ways, std::set<Vec>(diagonals.begin(), diagonals.end()));
  int closed = 0;
  for (Vec d : mitered().slide_directions()) closed += movable_groups(blocking_graph(t, d)).empty();
  EXPECT_EQ(closed, 66);
}

// The checker of motions decides for each pair whether one is in the other's way; all groups of pieces are tried.
void expect_least_groups(const Family& family, const std::vector<Cells>& pieces) {
  const std::uint64_t n = pieces.size();
  std::set<std::pair<Vec, std::uint64_t>> expected, found;
  for (Vec d : family.slide_directions()) {
    std::vector<std::uint64_t> in_way(n);
    for (std::uint64_t i = 0; i < n; ++i)
      for (std::uint64_t j = 0; j < n; ++j) {
        const std::vector<Cells> pair = {pieces[i], pieces[j]};
        if (i != j && !check_motion(family, {pair}, {{d, {}}, {}})) in_way[i] |= std::uint64_t{1} << j;
      }
    std::vector<std::uint64_t> movable;
    for (std::uint64_t group = 1; group + 1 < (std::uint64_t{1} << n); ++group) {
      bool moves = true;
      for (std::uint64_t i = 0; i < n; ++i) moves &= !(group >> i & 1) || (in_way[i] & ~group) == 0;
      const auto holds = [&](std::uint64_t less) { return (less & group) == less; };
      if (moves && std::none_of(movable.begin(), movable.end(), holds)) movable.push_back(group);
    }
    // Counting upward meets every group after its parts.
    for (std::uint64_t group : movable) expected.insert({d, group});
  }
  for (const Parting& p : partings(family, touching(family, {pieces}))) {
    std::uint64_t group = 0;
    for (int i : p.moves) group |= std::uint64_t{1} << i;
    found.insert({p.direction, group});
  }
  EXPECT_EQ(found, expected);
}

TEST(Partings, AreTheLeastGroupsOfAllSubsets) {
  std::mt19937 rng(21);
  for (int k = 0; k < 4; ++k)
    expect_least_groups(mitered(), known::cut_at_random(mitered(), known::rhombic_dodecahedron(2), 5, rng));
  for (int k = 0; k < 8; ++k)
    expect_least_groups(notched(), known::cut_at_random(notched(), known::cube_of_cubes(3), 5, rng));
}

TEST(FirstMotion, OfPiecesThatTwoHandsCannotPartButThatOpenTogether) {
  const auto pieces = known::opening_together();
  for (std::uint64_t group = 1; group < 7; ++group)
    for (Vec d : mitered().slide_directions()) EXPECT_FALSE(check_motion(mitered(), {pieces}, slide_of(group, 3, d)));
  const FirstMotion m = first_motion(mitered(), {pieces});
  EXPECT_TRUE(m.partings.empty());
  ASSERT_EQ(m.verdict, Verdict::found);
  EXPECT_TRUE(check_motion(mitered(), {pieces}, *m.motion));
  const CoordinatedMotions c = coordinated_motions(mitered(), touching(mitered(), {pieces}));
  ASSERT_EQ(c.verdict, Verdict::found);
  EXPECT_EQ(c.motions.size(), c.rays);
  for (const Motion& ray : c.motions) EXPECT_TRUE(check_motion(mitered(), {pieces}, ray));
}

// Speeds of cubes' contacts do not mix the axes: of any motion, the pieces fastest along one axis can go alone.
TEST(FirstMotion, OfNotchedPiecesIsAlwaysOneOfTwoHands) {
  std::mt19937 rng(4);
  std::set<Verdict> seen;
  for (int k = 0; k < 150; ++k) {
    const auto pieces = known::cut_at_random(notched(), known::cube_of_cubes(4), 3, rng);
    const FirstMotion m = first_motion(notched(), {pieces});
    EXPECT_EQ(m.verdict, m.partings.empty() ? Verdict::none_exists : Verdict::found);
    EXPECT_EQ(coordinated_motions(notched(), touching(notched(), {pieces})).verdict, Verdict::none_exists);
    seen.insert(m.verdict);
  }
  EXPECT_EQ(seen.size(), 2u);
}

TEST(FirstMotion, IsEitherAMotionOrACertificate) {
  std::mt19937 rng(17);
  int none = 0, found = 0;
  for (int k = 0; k < 300; ++k) {
    const bool cubes = k % 2 == 0;
    const Family& family = cubes ? notched() : mitered();
    // Any connected part of the symmetric goal with its turns around the diagonal: these lock more often.
    auto pieces = known::cut_at_random(family, cubes ? known::cube_of_cubes(4) : known::rhombic_dodecahedron(2),
                                       cubes ? 3 : 2 + k % 5, rng);
    if (k % 10 == 1) pieces = locked();
    if (k % 10 == 3) pieces = known::opening_together();
    if (k % 10 == 5) pieces = locked_by_edges();
    SCOPED_TRACE(k);
    const FirstMotion m = first_motion(family, {pieces});
    ASSERT_NE(m.verdict, Verdict::stopped);
    ASSERT_EQ(m.motion.has_value(), m.verdict == Verdict::found);
    ASSERT_EQ(m.certificate.has_value(), m.verdict == Verdict::none_exists);
    EXPECT_TRUE(m.motion ? check_motion(family, {pieces}, *m.motion)
                         : check_certificate(family, {pieces}, *m.certificate));
    ++(m.motion ? found : none);
    const FirstMotion t = first_motion(family, {pieces}, {.turning = true});
    ASSERT_NE(t.verdict, Verdict::stopped);
    if (!t.certificate) continue;
    EXPECT_TRUE(check_certificate(family, {pieces}, *t.certificate));
    EXPECT_TRUE(m.certificate);  // what can neither slide nor turn cannot slide
  }
  EXPECT_GT(found, 100);
  EXPECT_GT(none, 50);
}

TEST(CheckCertificate, RefusesForcesThatWereTamperedWith) {
  const auto pieces = locked();
  for (bool turning : {false, true}) {
    const Standing standing{pieces};
    const Certificate good = first_motion(mitered(), standing, {turning}).certificate.value();
    ASSERT_TRUE(check_certificate(mitered(), standing, good));
    Certificate bad = good;
    ++bad.force[0];  // out of balance
    EXPECT_FALSE(check_certificate(mitered(), standing, bad));
    bad = good;
    for (std::int64_t& f : bad.force) f = -f;  // pulling
    EXPECT_FALSE(check_certificate(mitered(), standing, bad));
    bad = good;
    bad.force.pop_back();
    EXPECT_FALSE(check_certificate(mitered(), standing, bad));
    bad = good;
    bad.contacts[0].inside.top = bad.contacts[0].inside.top + bad.contacts[0].normal;  // off the face
    EXPECT_FALSE(check_certificate(mitered(), standing, bad));
    EXPECT_FALSE(check_certificate(mitered(), standing, {turning, {}, {}, {}, {}}));  // in balance, but fixes nothing
    auto moved = pieces;
    moved[0] = {};
    EXPECT_FALSE(check_certificate(mitered(), {moved}, good));
  }
  // What excludes sliding says nothing about turning.
  Certificate sliding = first_motion(mitered(), {pieces}).certificate.value();
  sliding.turning = true;
  EXPECT_FALSE(check_certificate(mitered(), {pieces}, sliding));
}

TEST(CheckCertificate, KnowsWhereEdgesHaveToHelp) {
  const auto pieces = locked_by_edges();
  const Certificate good = first_motion(mitered(), {pieces}).certificate.value();
  ASSERT_TRUE(good.edge);
  ASSERT_TRUE(check_certificate(mitered(), {pieces}, good));
  Certificate bad = good;
  bad.cases.pop_back();  // a way around the edge is left out
  EXPECT_FALSE(check_certificate(mitered(), {pieces}, bad));
  bad.edge->normals.pop_back();
  EXPECT_FALSE(check_certificate(mitered(), {pieces}, bad));
  bad = good;
  std::swap(bad.edge->from_cell, bad.edge->to_cell);  // no such cells in these pieces
  EXPECT_FALSE(check_certificate(mitered(), {pieces}, bad));
  const Certificate* leaf = &good;
  while (leaf->edge) leaf = &leaf->cases[0];
  EXPECT_FALSE(check_certificate(mitered(), {pieces}, *leaf));  // its supposed contact is no face contact
}

TEST(CheckMotion, RefusesWhatRunsIntoSomethingOrStandsStill) {
  const auto pieces = known::star_pieces();
  const Motion good = first_motion(mitered(), {pieces}).motion.value();
  ASSERT_TRUE(check_motion(mitered(), {pieces}, good));
  Motion bad = good;
  for (Vec& v : bad.slide) v = -v;
  EXPECT_FALSE(check_motion(mitered(), {pieces}, bad));
  EXPECT_FALSE(check_motion(mitered(), {pieces}, {std::vector<Vec>(6, Vec{1, 2, 3}), {}}));
}

// A rod in a square tube: it slides to and fro, keeping all contacts. A cube in a box: locked.
TEST(FirstMotion, SeesSlidesThatKeepAllContacts) {
  Cells tube = known::cube_of_cubes(3), box = tube;
  std::erase_if(tube, [](Cell c) { return c.x == 1 && c.y == 1; });
  std::erase(box, Cell{1, 1, 1});
  const std::vector<Cells> rod_in_tube = {tube, {{1, 1, 0}, {1, 1, 1}, {1, 1, 2}}};
  const FirstMotion slide = first_motion(notched(), {rod_in_tube});
  ASSERT_EQ(slide.verdict, Verdict::found);
  EXPECT_EQ(slide.motion->slide[1].x, 0);
  EXPECT_NE(slide.motion->slide[1].z, 0);
  EXPECT_EQ(slide.partings.size(), 4u);  // up or down, tube or rod
  EXPECT_EQ(coordinated_motions(notched(), touching(notched(), {rod_in_tube})).slides, 1);
  const std::vector<Cells> cube_in_box = {box, {{1, 1, 1}}};
  EXPECT_EQ(first_motion(notched(), {cube_in_box}, {.turning = true}).verdict, Verdict::none_exists);
}

// At first order a cube between two plates can turn about the axis across them, and it cannot about any other.
TEST(FirstMotion, WithTurningOfACubeHeldBetweenTwoWalls) {
  Cells walls;
  for (Cell c : known::cube_of_cubes(3))
    if (c.z != 1 || c == Cell{0, 0, 1}) walls.push_back(c);
  const std::vector<Cells> pieces = {walls, {{1, 1, 1}}};
  const FirstMotion m = first_motion(notched(), {pieces}, {.turning = true});
  ASSERT_EQ(m.verdict, Verdict::found);
  EXPECT_EQ(m.motion->turn[1].x, 0);
  EXPECT_EQ(m.motion->turn[1].y, 0);
}

TEST(FirstMotion, OfOnePieceIsNoneAndOfPiecesApartIsFound) {
  const std::vector<Cells> one = {{{0, 0, 0}}}, apart = {{{0, 0, 0}}, {{5, 0, 0}}};
  EXPECT_EQ(first_motion(notched(), {one}).verdict, Verdict::none_exists);
  EXPECT_EQ(first_motion(notched(), {apart}).verdict, Verdict::found);
}

// The eight directions are four motions and their opposites; as many again need more than two hands.
TEST(CoordinatedMotions, OfTheSixPieceStarAreFourBesideTheFourOfTwoHands) {
  const auto pieces = known::star_pieces();
  const CoordinatedMotions c = coordinated_motions(mitered(), touching(mitered(), {pieces}));
  EXPECT_EQ(c.rays, 8u);
  EXPECT_EQ(c.slides, 0);
  ASSERT_EQ(c.motions.size(), 4u);
  for (const Motion& m : c.motions) {
    EXPECT_TRUE(check_motion(mitered(), {pieces}, m));
    EXPECT_GT(std::set<Vec>(m.slide.begin(), m.slide.end()).size(), 2u);
  }
}

TEST(CoordinatedMotions, StopAtTheLimit) {
  const auto pieces = known::star_pieces();
  const Touching t = touching(mitered(), {pieces});
  EXPECT_EQ(coordinated_motions(mitered(), t, {.columns = 14}).verdict, Verdict::stopped);
  EXPECT_EQ(coordinated_motions(mitered(), t, {.rays = 3}).verdict, Verdict::stopped);
}

}  // namespace
}  // namespace stickwright
