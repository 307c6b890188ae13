// Counts: W. H. Cutler, "The six-piece burr", Journal of Recreational Mathematics 10(4), 1977-78.
#include "support/six_sticks.h"

#include <gtest/gtest.h>

#include <set>
#include <string>
#include <thread>

#include "assembly/assembly.h"
#include "support/caged_cubes.h"
#include "takeapart/takeapart.h"

namespace stickwright {
namespace {

using six_sticks::StickShape;

bool comes_apart(const std::vector<Cells>& sticks) {
  return take_apart(notched(), sticks, {.certificates = false}).verdict == Verdict::found;
}

bool is_sawn(StickShape piece) {
  return six_sticks::is_connected(piece) && six_sticks::is_notchable(piece);
}

int all_threads() {
  return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
}

TEST(SixSticks, AsManyPiecesAsPublished) {
  EXPECT_EQ(six_sticks::pieces(six_sticks::is_connected).size(), 837u);
  EXPECT_EQ(six_sticks::pieces(is_sawn).size(), 59u);
  EXPECT_EQ(six_sticks::closed_burr().size(), 104u);
}

TEST(SixSticks, TheNotchableOnesMakeAsManyBurrsAsPublished) {
  const six_sticks::Census c = six_sticks::census(is_sawn, comes_apart, all_threads());
  EXPECT_EQ(c.burrs, 314u);
  EXPECT_EQ(c.pieces_in_burrs, 25u);
  EXPECT_EQ(c.sets_of_pieces, 221u);
}

// Every fortieth: the checker compares all pairs of cubes. The slow tests check all.
TEST(SixSticks, TheCheckerTakesNotchableBurrsApartByTheSteps) {
  const auto burrs = six_sticks::burrs_that_come_apart(is_sawn, comes_apart, all_threads());
  for (std::size_t k = 0; k < burrs.size(); k += 40) {
    const std::vector<Cells> sticks = six_sticks::cells_of({six_sticks::kAllSticks, burrs[k]});
    EXPECT_TRUE(check_take_apart(notched(), sticks, take_apart(notched(), sticks).steps));
  }
}

// The same 314, with nothing known beforehand of sticks: the pieces fill the solid in every way there is.
TEST(SixSticks, TheAssemblySearchFindsTheSameBurrs) {
  Design design{"six sticks", &notched(), six_sticks::closed_burr(), {}};
  for (StickShape piece : six_sticks::pieces(is_sawn)) {
    design.pieces.push_back({std::to_string(piece), 6, 0, six_sticks::cells_of(piece), {}, true});
  }
  design.pieces_used = 6;
  int apart = 0;
  std::set<int> pieces;
  std::set<std::vector<int>> sets;
  const auto on_assembly = [&](const Assembly& assembly) {
    std::vector<Cells> sticks;
    std::vector<int> set;
    for (const PlacedPiece& p : assembly) sticks.push_back(p.cells), set.push_back(p.supply);
    if (!comes_apart(sticks)) return;
    ++apart;
    std::sort(set.begin(), set.end());
    pieces.insert(set.begin(), set.end());
    sets.insert(set);
  };
  const Assemblies all = find_assemblies(design, {.nodes = 10'000'000'000, .keep = 0}, {on_assembly, {}});
  EXPECT_EQ(all.verdict, Verdict::found);
  EXPECT_EQ(apart, 314);
  EXPECT_EQ(pieces.size(), 25u);
  EXPECT_EQ(sets.size(), 221u);
}

TEST(Caged, EveryPositionIsLookedAtOnce) {
  const TakeApart t = take_apart(notched(), known::caged_cubes(3), {.certificates = false});
  EXPECT_EQ(t.verdict, Verdict::none_exists);
  EXPECT_EQ(t.proof, Proof::exhausted);
  EXPECT_EQ(t.states, known::positions_of_caged_cubes(3));
}

}  // namespace
}  // namespace stickwright
