#include "takeapart/takeapart.h"

#include <gtest/gtest.h>

#include <bit>
#include <random>
#include <set>

#include "support/star_pieces.h"
#include "takeapart/sweep.h"

namespace stickwright {
namespace {

TEST(Directions, OneForEachOfThe74Classes) {
  // 24 chambers, 36 arcs, 14 rays of the arrangement of the planes x±y, y±z, z±x = 0 (Coxeter complex of A3).
  std::set<std::vector<int>> classes;
  for (Vec d : mitered().slide_directions()) {
    std::vector<int> signs;
    for (const auto& p : mitered().cut_planes()) {
      const std::int64_t side = dot(p.n, d);
      signs.push_back(side > 0 ? 1 : side < 0 ? -1 : 0);
    }
    classes.insert(signs);
  }
  EXPECT_EQ(classes.size(), 74u);
  EXPECT_EQ(mitered().slide_directions().size(), 74u);
}

// Fogel and Halperin (WAFR 2008; IEEE T-ASE 10, 2013) report for this solid that it can be parted in exactly eight
// directions, the body diagonals; geometry.md: always three pieces against three.
TEST(Star, PartsInExactlyTheEightBodyDiagonalsThreeAgainstThree) {
  const auto pieces = known::star_pieces();
  std::vector<SweepBody> bodies;
  for (const Cells& c : pieces) bodies.push_back(sweep_body(mitered(), c));
  std::set<Vec> ways;
  for (Vec d : mitered().slide_directions())
    for (unsigned group = 1; group < 63; ++group) {
      bool free = true;
      for (int i = 0; i < 6 && free; ++i)
        for (int j = 0; j < 6 && free; ++j)
          if ((group >> i & 1) && !(group >> j & 1)) free = reach(mitered(), bodies[i], bodies[j], {}, d).free();
      if (!free) continue;
      ways.insert(d);
      EXPECT_EQ(std::popcount(group), 3);
    }
  std::set<Vec> diagonals;
  for (std::int64_t x : {-1, 1})
    for (std::int64_t y : {-1, 1})
      for (std::int64_t z : {-1, 1}) diagonals.insert({x, y, z});
  EXPECT_EQ(ways, diagonals);
}

TEST(Star, ComesApartAndTheCheckerAgrees) {
  const auto pieces = known::star_pieces();
  const TakeApart t = take_apart(mitered(), pieces);
  ASSERT_EQ(t.verdict, Verdict::found);
  ASSERT_EQ(t.steps.size(), 5u);
  EXPECT_EQ(t.steps[0].moves.size(), 3u);
  EXPECT_TRUE(check_take_apart(mitered(), pieces, t.steps));
}

TEST(CheckTakeApart, RefusesStepsThatRunIntoSomething) {
  const auto pieces = known::star_pieces();
  auto steps = take_apart(mitered(), pieces).steps;
  auto wrong = steps;
  wrong[0].direction = {1, 0, 0};
  EXPECT_FALSE(check_take_apart(mitered(), pieces, wrong));
  wrong = steps;
  wrong.pop_back();  // two pieces left together
  EXPECT_FALSE(check_take_apart(mitered(), pieces, wrong));
  wrong = steps;
  std::swap(wrong[0], wrong[1]);  // its part does not exist yet
  EXPECT_FALSE(check_take_apart(mitered(), pieces, wrong));
}

TEST(TakeApart, ARingAroundACoreCannotComeApart) {
  // One cell shut in by everything within two neighbors of it.
  Cells shell;
  std::set<Cell> around;
  const Cell core = {0, 4, 2};
  for (Cell a : mitered().neighbors(core))
    for (Cell b : mitered().neighbors(a)) {
      around.insert(a);
      around.insert(b);
    }
  around.erase(core);
  shell.assign(around.begin(), around.end());
  const TakeApart t = take_apart(mitered(), {{core}, shell});
  EXPECT_EQ(t.verdict, Verdict::none_exists);
}

TEST(TakeApart, ALimitIsReportedAsStopped) {
  EXPECT_EQ(take_apart(mitered(), known::star_pieces(), {.states = 0}).verdict, Verdict::stopped);
}

// Independent of sweep.cpp: the checker's separating axes, made from the cells' own faces and edges, decide.
TEST(Reach, AgreesWithTheCheckerOnRandomPairsOfPieces) {
  std::mt19937 rng(11);
  int stopped = 0;
  for (int k = 0; k < 300; ++k) {
    std::vector<Cells> pieces(2);
    std::set<Cell> used;
    for (int p = 0; p < 2; ++p) {
      Cell c =
          p == 0 ? Cell{0, 4, 2} : Cell{0, 4, 2} + 8 * Vec{std::int64_t(rng() % 3) - 1, std::int64_t(rng() % 3) - 1, 1};
      for (int n = 0; n < 5; ++n, c = mitered().neighbors(c)[rng() % 4])
        if (used.insert(c).second) pieces[p].push_back(c);
      if (pieces[p].empty()) pieces[p] = {c};
      pieces[p] = known::sorted(pieces[p]);
    }
    const Vec d = mitered().slide_directions()[rng() % 74];
    const Reach r = reach(mitered(), sweep_body(mitered(), pieces[0]), sweep_body(mitered(), pieces[1]), {}, d);
    SCOPED_TRACE(k);
    EXPECT_EQ(check_take_apart(mitered(), pieces, {{{0}, {1}, d, Reach{}}}), r.free());
    // There and back again, then away in a direction that is free: legal exactly when the way there is.
    const SweepBody a = sweep_body(mitered(), pieces[0]), b = sweep_body(mitered(), pieces[1]);
    const auto away = std::find_if(mitered().slide_directions().begin(), mitered().slide_directions().end(),
                                   [&](Vec f) { return reach(mitered(), a, b, {}, f).free(); });
    if (r.free() || away == mitered().slide_directions().end()) continue;
    const auto there_and_back = [&](Reach far) {
      return check_take_apart(mitered(), pieces, {{{0}, {1}, d, far}, {{0}, {1}, -d, far}, {{0}, {1}, *away, Reach{}}});
    };
    EXPECT_EQ(there_and_back(r), r.top > 0);
    EXPECT_FALSE(there_and_back({100 * r.top + 1, 100 * r.bottom}));
    ++stopped;
  }
  EXPECT_GT(stopped, 30);
}

}  // namespace
}  // namespace stickwright
