#include "assembly/assembly.h"

#include <gtest/gtest.h>

#include <functional>
#include <map>
#include <random>
#include <set>

#include "support/known_designs.h"

namespace stickwright {
namespace {

// geometry.md: the six-piece star has one assembly up to rotation. The dissections into six such pieces are 2, a mirror
// pair (Fogel and Halperin's showcase solid, counted independently).
TEST(Star, HasOneAssemblyUpToRotation) {
  const Design d = known::star();
  ASSERT_EQ(d.goal.size(), 48u);
  const Assemblies a = find_assemblies(d);
  EXPECT_EQ(a.verdict, Verdict::found);
  EXPECT_EQ(a.count, 1);
  ASSERT_EQ(a.kept.size(), 1u);
  EXPECT_TRUE(check_assembly(d, a.kept[0]));
}

// Plain counting without symmetry: all exact covers, then divided into classes by turning each one.
std::size_t count_by_brute_force(const Design& d) {
  struct Put {
    std::size_t supply;
    Cells cells;
  };
  const auto supplies = supplies_of(d);
  std::vector<Put> puts;
  for (std::size_t s = 0; s < supplies.size(); ++s) {
    std::set<Cells> seen;
    for (const Turn& t : d.family->rotations())
      for (Cell g : d.goal)
        for (Cell c : supplies[s].shape.cells) {
          const Vec gap = g - d.family->moved({t, {}}, c);
          if (gap.x % 4 || gap.y % 4 || gap.z % 4 || !d.family->is_shift({gap.x / 4, gap.y / 4, gap.z / 4})) continue;
          Cells put = moved(*d.family, {t, {gap.x / 4, gap.y / 4, gap.z / 4}}, supplies[s].shape.cells);
          if (std::includes(d.goal.begin(), d.goal.end(), put.begin(), put.end())) seen.insert(put);
        }
    for (const Cells& c : seen) puts.push_back({s, c});
  }
  using Cover = std::set<std::pair<std::size_t, Cells>>;
  std::set<Cover> covers;
  std::vector<int> left;
  for (const Supply& s : supplies) left.push_back(s.count);
  std::set<Cell> filled;
  Cover path;
  const std::function<void()> fill = [&] {
    if (filled.size() == d.goal.size()) {
      covers.insert(path);
      return;
    }
    const Cell cell = *std::find_if(d.goal.begin(), d.goal.end(), [&](Cell c) { return !filled.contains(c); });
    for (const Put& p : puts) {
      if (left[p.supply] == 0 || !std::binary_search(p.cells.begin(), p.cells.end(), cell)) continue;
      if (std::any_of(p.cells.begin(), p.cells.end(), [&](Cell c) { return filled.contains(c); })) continue;
      --left[p.supply];
      filled.insert(p.cells.begin(), p.cells.end());
      path.insert({p.supply, p.cells});
      fill();
      path.erase({p.supply, p.cells});
      for (Cell c : p.cells) filled.erase(c);
      ++left[p.supply];
    }
  };
  fill();
  std::set<std::set<Cover>> classes;
  for (const Cover& cover : covers) {
    std::set<Cover> orbit;
    for (const Isometry& by : rotations_onto_itself(*d.family, d.goal)) {
      Cover turned;
      for (const auto& [s, cells] : cover) turned.insert({s, moved(*d.family, by, cells)});
      orbit.insert(turned);
    }
    classes.insert(orbit);
  }
  return classes.size();
}

// Cuts a goal into random connected pieces.
Design random_design(std::mt19937& rng) {
  Cells goal = {{0, 4, 2}};
  while (goal.size() < 8 + rng() % 10) {
    const auto next = mitered().neighbors(goal[rng() % goal.size()])[rng() % 4];
    if (!std::binary_search(goal.begin(), goal.end(), next))
      goal = known::sorted([&] {
        goal.push_back(next);
        return goal;
      }());
  }
  Design d{"random", &mitered(), goal, {}};
  std::set<Cell> left(goal.begin(), goal.end());
  while (!left.empty()) {
    Cells piece = {*left.begin()};
    left.erase(left.begin());
    for (std::size_t want = 1 + rng() % 4; piece.size() < want;) {
      Cells free;
      for (Cell c : piece)
        for (Cell n : mitered().neighbors(c))
          if (left.contains(n)) free.push_back(n);
      if (free.empty()) break;
      piece.push_back(free[rng() % free.size()]);
      left.erase(piece.back());
    }
    d.pieces.push_back({"piece " + std::to_string(d.pieces.size() + 1), 1, 0, known::sorted(piece), {}});
  }
  return d;
}

TEST(Assemblies, AgreeWithBruteForceOnRandomDesigns) {
  std::mt19937 rng(7);
  int several = 0;
  for (int k = 0; k < 60; ++k) {
    const Design d = random_design(rng);
    const Assemblies a = find_assemblies(d);
    SCOPED_TRACE(k);
    ASSERT_EQ(a.verdict, Verdict::found);
    EXPECT_EQ(static_cast<std::size_t>(a.count), count_by_brute_force(d));
    for (const Assembly& one : a.kept) EXPECT_TRUE(check_assembly(d, one));
    several += a.count > 1;
  }
  EXPECT_GT(several, 10);  // the comparison would be idle on designs with one assembly each
}

TEST(Assemblies, PiecesOfEqualShapeAreInterchangeableWhateverTheirNames) {
  Design d = known::star();
  d.pieces.clear();
  for (int i = 0; i < 6; ++i) d.pieces.push_back({"arm " + std::to_string(i), 1, 0, known::star_arm(), {}});
  EXPECT_EQ(find_assemblies(d).count, 1);
}

TEST(Assemblies, NeverMirrorAPieceUnlessMirroredCopiesAreSupplied) {
  // A left-handed prism block as the goal, a right-handed one as the piece.
  const Cells prism = {{4, 0, -2}, {4, 2, 0}, {6, 0, -4}};
  ASSERT_TRUE(handed(mitered(), shape_of(mitered(), prism).shape));
  const Cells mirror = moved(mitered(), {cube_reflections().front(), {}}, prism);
  Design d{"prism", &mitered(), mirror, {{"prism", 1, 0, prism, {}}}};
  EXPECT_EQ(find_assemblies(d).verdict, Verdict::none_exists);
  d.pieces[0].copies = 0;
  d.pieces[0].mirrored_copies = 1;
  EXPECT_EQ(find_assemblies(d).count, 1);
}

TEST(Assemblies, ALimitIsReportedAsStoppedNeverAsNone) {
  EXPECT_EQ(find_assemblies(known::star(), {.nodes = 2, .keep = 1}).verdict, Verdict::stopped);
}

TEST(CheckAssembly, RefusesWrongOnes) {
  const Design d = known::star();
  const Assembly good = find_assemblies(d).kept.at(0);
  Assembly missing = good;
  missing.pop_back();
  EXPECT_FALSE(check_assembly(d, missing));
  Assembly doubled = good;
  doubled.back() = doubled.front();
  EXPECT_FALSE(check_assembly(d, doubled));
  Assembly swapped = good;  // two pieces trade a cell: still fills the goal, but the shapes are wrong
  std::swap(swapped[0].cells.back(), swapped[1].cells.back());
  EXPECT_FALSE(check_assembly(d, swapped));
}

}  // namespace
}  // namespace stickwright
