#include "takeapart/contacts.h"

#include <gtest/gtest.h>

#include <map>
#include <random>
#include <set>

#include "support/random_pieces.h"
#include "support/star_pieces.h"
#include "takeapart/cell_axes.h"
#include "takeapart/first_motion.h"
#include "takeapart/hindrance.h"
#include "takeapart/two_hands.h"

namespace stickwright {
namespace {

bool overlap(const Corners& a, const Corners& b) {
  const auto axes = cell_axes(a, b);
  return std::all_of(axes.begin(), axes.end(), [&](Vec n) { return gap(a, b, n) < 0; });
}

// Computed independently of this program, by hand and by script: 12 pairs touch, 24 distinct (i, j, n).
TEST(Contacts, OfTheSixPieceStarAre24Among12Pairs) {
  const auto pieces = known::star_pieces();
  std::set<std::pair<int, int>> pairs;
  const auto touch = contacts(mitered(), {pieces});
  for (const Contact& c : touch) pairs.insert({c.from, c.to});
  EXPECT_EQ(touch.size(), 24u);
  EXPECT_EQ(pairs.size(), 12u);
}

// Two cubes that share a face: one contact, four corners. A block of two by one faces another: the seam inside
// vanishes.
TEST(ContactCorners, AreTheHullOfAllThatTwoPiecesShareOfAPlane) {
  const std::vector<Cells> cubes = {{{0, 0, 0}}, {{1, 0, 0}}};
  const auto square = contact_corners(notched(), {cubes});
  ASSERT_EQ(square.size(), 4u);
  EXPECT_EQ(square[0].normal, (Vec{1, 0, 0}));
  const std::vector<Cells> blocks = {{{0, 0, 0}, {0, 1, 0}}, {{1, 0, 0}, {1, 1, 0}}};
  std::set<Spot> corners;
  for (const Contact& c : contact_corners(notched(), {blocks})) corners.insert(c.at);
  const std::set<Spot> expected = {{{1, 0, 0}, 1}, {{1, 2, 0}, 1}, {{1, 0, 1}, 1}, {{1, 2, 1}, 1}};
  EXPECT_EQ(corners, expected);
}

// Oracle: a fine grid of points strictly inside one triangle, looked up in the planes of the other cell.
TEST(Contacts, SeeFacesThatOverlapInPartOnly) {
  std::mt19937 rng(3);
  int touching_faces = 0, in_part = 0;
  for (int k = 0; k < 2000; ++k) {
    const Cell a{0, 4, 2}, b = mitered().neighbors(a)[rng() % 4];
    const HalfSpace plane = [&] {
      for (std::size_t f = 0; f < 4; ++f)
        if (mitered().neighbors(a)[f] == b) return mitered().planes(a)[f];
      return HalfSpace{};
    }();
    Vec shift;
    do shift = {std::int64_t(rng() % 5) - 2, std::int64_t(rng() % 5) - 2, std::int64_t(rng() % 5) - 2};
    while (dot(shift, plane.n) != 0);
    std::vector<Vec> face;
    for (Vec p : mitered().corners(a))
      if (dot(plane.n, p) == plane.c) face.push_back(p);
    bool shared = false, whole = true;
    constexpr std::int64_t kFine = 24;
    for (std::int64_t i = 1; i < kFine; ++i)
      for (std::int64_t j = 1; i + j < kFine; ++j) {
        const Vec p = i * face[0] + j * face[1] + (kFine - i - j) * face[2];
        bool inside = true;
        for (const HalfSpace& h : mitered().planes(b))
          inside &= h.n == -plane.n || dot(h.n, p - kFine * shift) < kFine * h.c;
        shared |= inside, whole &= inside;
      }
    const std::vector<Cells> pieces = {{a}, {b}};
    const std::vector<Vec> at = {{}, shift};
    const auto found = contacts(mitered(), {pieces, at});
    SCOPED_TRACE(k);
    ASSERT_EQ(found.size(), shared ? 1u : 0u);
    touching_faces += shared, in_part += shared && !whole;
  }
  EXPECT_GT(touching_faces, 100);
  EXPECT_GT(in_part, 50);
}

// An edge hinders, too: moved diagonally, one cube would pass through the other.
TEST(Touching, OfTwoCubesThatShareAnEdgeOnly) {
  const std::vector<Cells> cubes = {{{0, 0, 0}}, {{1, 1, 0}}};
  const Touching t = touching(notched(), {cubes});
  EXPECT_TRUE(t.faces.empty());
  ASSERT_EQ(t.edges.size(), 1u);
  EXPECT_EQ(t.edges[0].normals, (std::vector<Vec>{{1, 0, 0}, {0, 1, 0}}));
  EXPECT_NE(hindering_edge(t, {{{1, 1, 0}, {0, 0, 0}}, {}}), nullptr);
  EXPECT_EQ(hindering_edge(t, {{{1, 0, 0}, {0, 0, 0}}, {}}), nullptr);
  EXPECT_EQ(hindering_edge(t, {{{1, -1, 0}, {0, 0, 0}}, {}}), nullptr);
}

bool touching_allows(const Touching& t, const Motion& m) {
  return hindering_edge(t, m) == nullptr && std::all_of(t.faces.begin(), t.faces.end(), [&](const Contact& c) {
           return dot(c.normal, m.slide[c.to] - m.slide[c.from]) >= 0;
         });
}

// The rule in the header against separating axes, on pairs of small bodies that stand anywhere next to each other.
TEST(Touching, DecidesLikeSeparatingAxesDo) {
  std::mt19937 rng(8);
  std::map<bool, int> seen;
  int by_edges = 0;
  for (int k = 0; k < 15000; ++k) {
    const Family& family = k % 3 == 0 ? notched() : mitered();
    const Cell home = k % 3 == 0 ? Cell{} : Cell{0, 4, 2};
    const auto near = family.neighbors(home);
    std::vector<Cells> pieces = {known::sorted({home, near[rng() % near.size()]}),
                                 known::sorted({home, near[rng() % near.size()]})};
    const auto some = [&](int most) { return std::int64_t(rng() % (2 * most + 1)) - most; };
    const std::vector<Vec> at = {{}, {some(3), some(3), some(3)}};
    bool apart = true;
    for (Cell a : pieces[0])
      for (Cell b : pieces[1]) apart &= !overlap(shifted_corners(family, a, at[0]), shifted_corners(family, b, at[1]));
    if (!apart) continue;
    const Touching t = touching(family, {pieces, at});
    const Motion m{{{}, {some(2), some(2), some(2)}}, {}};
    if (m.slide[1] == Vec{}) continue;
    SCOPED_TRACE(k);
    const bool allowed = check_motion(family, {pieces, at}, m);
    ASSERT_EQ(touching_allows(t, m), allowed);
    ++seen[allowed];
    by_edges += hindering_edge(t, m) != nullptr;
  }
  EXPECT_GT(seen[true], 300);
  EXPECT_GT(seen[false], 200);
  EXPECT_GT(by_edges, 50);
}

// Whatever stands where: in the direction that represents a class nobody is in the way who is not in the whole class.
TEST(BlockingGraph, OfAClassIsLeastInItsRepresentative) {
  std::mt19937 rng(6);
  const auto signs = [](Vec d) {
    std::vector<int> out;
    for (const auto& p : mitered().cut_planes()) out.push_back(dot(p.n, d) > 0 ? 1 : dot(p.n, d) < 0 ? -1 : 0);
    return out;
  };
  std::map<std::vector<int>, Vec> representative;
  for (Vec d : mitered().slide_directions()) representative[signs(d)] = d;
  int more = 0;
  for (int k = 0; k < 2000; ++k) {
    const auto some = [&](int most) { return std::int64_t(rng() % (2 * most + 1)) - most; };
    const Cell home{0, 4, 2};
    const std::vector<Cells> pieces = {{home}, {home}};
    const std::vector<Vec> at = {{}, {some(2), some(2), some(2)}};
    if (overlap(mitered().corners(home), shifted_corners(mitered(), home, at[1]))) continue;
    const Vec d{some(9), some(9), some(9)};
    if (d == Vec{}) continue;
    const Touching t = touching(mitered(), {pieces, at});
    const BlockingGraph least = blocking_graph(t, representative.at(signs(d))), any = blocking_graph(t, d);
    for (std::size_t i = 0; i < 2; ++i) EXPECT_EQ(least[i] & ~any[i], 0u);
    more += least != any;
  }
  EXPECT_GT(more, 0);
}

}  // namespace
}  // namespace stickwright
