// Convex parts in general position: what two hands can do with them, decided by the blocking graphs of all directions.
#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <numeric>
#include <random>
#include <set>

#include "takeapart/cell_axes.h"
#include "takeapart/two_hands.h"

namespace stickwright {
namespace {

Vec reduced(Vec v) {
  const std::int64_t g = std::gcd(std::gcd(v.x, v.y), v.z);
  return {v.x / g, v.y / g, v.z / g};
}

// The directions along which a, going on for ever, runs into b: the open cone of all differences q - p. Given by the
// normals of its faces, pointing inward; it holds d when n.d > 0 for all of them.
std::vector<Vec> collision_cone(const Corners& a, const Corners& b) {
  std::vector<Vec> rays;
  for (Vec p : a)
    for (Vec q : b) rays.push_back(q - p);
  std::set<Vec> normals;
  for (Vec u : rays)
    for (Vec v : rays) {
      const Vec n = cross(u, v);
      const auto beside = [&](Vec w) { return dot(n, w) >= 0; };
      if (n != Vec{} && std::all_of(rays.begin(), rays.end(), beside)) normals.insert(reduced(n));
    }
  return {normals.begin(), normals.end()};
}

class ConvexParts {
 public:
  explicit ConvexParts(const std::vector<Corners>& parts)
      : cones_(parts.size(), std::vector<std::vector<Vec>>(parts.size())) {
    for (std::size_t i = 0; i < parts.size(); ++i)
      for (std::size_t j = 0; j < parts.size(); ++j)
        if (i != j) cones_[i][j] = collision_cone(parts[i], parts[j]);
  }

  BlockingGraph graph(Vec d) const {
    BlockingGraph out(cones_.size());
    for (std::size_t i = 0; i < out.size(); ++i)
      for (std::size_t j = 0; j < out.size(); ++j)
        if (i != j && std::all_of(cones_[i][j].begin(), cones_[i][j].end(), [&](Vec n) { return dot(n, d) > 0; }))
          out[i] |= std::uint64_t{1} << j;
    return out;
  }

  // Where two of the planes n.d = 0 cross. Cones are open: near any of these directions at least as many parts are in
  // the way, and every direction is near one of them, with no plane between. So what can go anywhere can go here.
  std::set<Vec> critical_directions() const {
    std::set<Vec> planes = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, out;  // so that some cross, however few parts
    for (const auto& row : cones_)
      for (const auto& normals : row)
        for (Vec n : normals) planes.insert(std::max(n, -n));
    for (Vec n : planes)
      for (Vec m : planes)
        if (n != m) out.insert(reduced(cross(n, m)));
    return out;
  }

  // A group that can be taken away by one translation; 0 when there is none.
  std::uint64_t removable() const {
    for (Vec d : critical_directions())
      if (const auto groups = movable_groups(graph(d)); !groups.empty()) return groups.front();
    return 0;
  }

 private:
  std::vector<std::vector<std::vector<Vec>>> cones_;
};

// One thin tetrahedron and its images under the turns of a regular one, which takes it to six places. Found by trying
// small coordinates at random.
std::vector<Corners> six_tetrahedra() {
  std::vector<Corners> out;
  for (std::int64_t side : {1, -1}) {
    Corners part = {{1, 2, 3}, {1, -2, -3}, {2, 3, 4}, {2, -3, -4}};
    for (Vec& p : part) p = {side * p.x, p.y, side * p.z};
    for (int k = 0; k < 3; ++k) {
      out.push_back(part);
      for (Vec& p : part) p = {p.y, p.z, p.x};
    }
  }
  return out;
}

bool are_disjoint(const Corners& a, const Corners& b) {
  const auto axes = cell_axes(a, b);
  return std::any_of(axes.begin(), axes.end(), [&](Vec n) { return gap(a, b, n) >= 0; });
}

// Swept along d, a stays on its side of some plane: one with a normal that parts them now and does not lean towards b.
bool passes(const Corners& a, const Corners& b, Vec d) {
  std::set<Vec> axes = cell_axes(a, b);
  for (const Corners* body : {&a, &b})
    for (Vec p : *body)
      for (Vec q : *body)
        for (Vec n : {cross(q - p, d), cross(d, q - p)})
          if (n != Vec{}) axes.insert(n);
  return std::any_of(axes.begin(), axes.end(), [&](Vec n) { return gap(a, b, n) >= 0 && dot(n, d) <= 0; });
}

std::vector<Corners> chosen(const std::vector<Corners>& parts, std::uint64_t group) {
  std::vector<Corners> out;
  for (std::size_t i = 0; i < parts.size(); ++i)
    if (group >> i & 1) out.push_back(parts[i]);
  return out;
}

// J. Snoeyink and J. Stolfi, "Objects that cannot be taken apart with two hands", Discrete & Computational Geometry 12
// (1994): six convex objects can be such that no proper subset can be translated to infinity without disturbing the
// others. That it can happen is theirs; these six are our own.
TEST(ConvexParts, SixTetrahedraThatTwoHandsCannotTakeApart) {
  const auto parts = six_tetrahedra();
  for (const Corners& p : parts) EXPECT_NE(dot(cross(p[1] - p[0], p[2] - p[0]), p[3] - p[0]), 0);
  for (std::size_t i = 0; i < parts.size(); ++i)
    for (std::size_t j = i + 1; j < parts.size(); ++j) EXPECT_TRUE(are_disjoint(parts[i], parts[j]));
  const ConvexParts all(parts);
  EXPECT_GT(all.critical_directions().size(), 100u);
  EXPECT_EQ(all.removable(), 0u);
}

// The same paper: five or fewer convex objects can always be taken apart so.
TEST(ConvexParts, FiveOrFewerOfThemAlwaysComeApart) {
  const auto parts = six_tetrahedra();
  for (std::uint64_t group = 1; group < 63; ++group) {
    if (std::popcount(group) < 2) continue;
    EXPECT_NE(ConvexParts(chosen(parts, group)).removable(), 0u) << group;
  }
}

TEST(ConvexParts, FiveOrFewerAtRandomAlwaysComeApart) {
  std::mt19937 rng(12);
  const auto any = [&] { return std::int64_t(rng() % 13) - 6; };
  for (int k = 0; k < 40; ++k) {
    std::vector<Corners> parts;
    for (int tries = 0; parts.size() < 5 && tries < 10'000; ++tries) {
      const Corners p = {{any(), any(), any()}, {any(), any(), any()}, {any(), any(), any()}, {any(), any(), any()}};
      if (dot(cross(p[1] - p[0], p[2] - p[0]), p[3] - p[0]) == 0) continue;
      if (std::all_of(parts.begin(), parts.end(), [&](const Corners& q) { return are_disjoint(p, q); }))
        parts.push_back(p);
    }
    ASSERT_EQ(parts.size(), 5u);
    EXPECT_NE(ConvexParts(parts).removable(), 0u) << k;
  }
}

// The cones against separating axes of the swept part.
TEST(ConvexParts, ConesSayWhoIsInTheWay) {
  const auto parts = six_tetrahedra();
  const ConvexParts all(parts);
  std::mt19937 rng(5);
  int blocked = 0, free = 0;
  for (int k = 0; k < 200; ++k) {
    const Vec d = {std::int64_t(rng() % 9) - 4, std::int64_t(rng() % 9) - 4, std::int64_t(rng() % 9) - 4};
    if (d == Vec{}) continue;
    const BlockingGraph graph = all.graph(d);
    for (std::size_t i = 0; i < 6; ++i)
      for (std::size_t j = 0; j < 6; ++j) {
        if (i == j) continue;
        const bool in_way = (graph[i] >> j & 1) != 0;
        EXPECT_EQ(in_way, !passes(parts[i], parts[j], d));
        ++(in_way ? blocked : free);
      }
  }
  EXPECT_GT(blocked, 500);
  EXPECT_GT(free, 500);
}

}  // namespace
}  // namespace stickwright
