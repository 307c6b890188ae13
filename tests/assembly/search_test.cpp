// How a search behaves: order, threads, limits, going on later, cancelling.
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <thread>

#include "assembly/assembly.h"
#include "support/polycubes.h"

namespace stickwright {
namespace {

Design six_by_ten() {
  return known::fill(known::box(6, 10, 1), known::pentominoes());
}

TEST(Search, GivesTheSameAssembliesInTheSameOrderOnAnyNumberOfThreads) {
  const Design d = six_by_ten();
  const Assemblies one = find_assemblies(d, {.keep = 5000, .threads = 1});
  for (int threads : {2, 3, 4}) {
    const Assemblies more = find_assemblies(d, {.keep = 5000, .threads = threads});
    EXPECT_EQ(more.kept, one.kept);
    EXPECT_EQ(more.count, one.count);
    EXPECT_EQ(more.nodes, one.nodes);
  }
}

TEST(Search, StopsAtTheSamePlaceOnAnyNumberOfThreads) {
  const Design d = six_by_ten();
  for (const AssemblyLimits& limits : {AssemblyLimits{.nodes = 30'000}, AssemblyLimits{.count = 100}}) {
    AssemblyLimits once = limits;
    once.threads = 1;
    const Assemblies one = find_assemblies(d, once);
    EXPECT_EQ(one.verdict, Verdict::stopped);
    EXPECT_GT(one.count, 0);
    once.threads = 3;
    const Assemblies more = find_assemblies(d, once);
    EXPECT_EQ(more.kept, one.kept);
    EXPECT_EQ(more.count, one.count);
    EXPECT_EQ(more.nodes, one.nodes);
  }
}

TEST(Search, StopsAfterAsManyAsAreAskedFor) {
  const Assemblies some = find_assemblies(six_by_ten(), {.count = 17});
  EXPECT_EQ(some.count, 17);
  EXPECT_EQ(some.kept.size(), 17u);
  EXPECT_EQ(some.verdict, Verdict::stopped);
}

TEST(Search, GoesOnWhereItWasStopped) {
  const Design d = six_by_ten();
  const Assemblies whole = find_assemblies(d, {.keep = 5000});
  const Assemblies first = find_assemblies(d, {.nodes = 100'000, .keep = 5000});
  ASSERT_LT(first.branches_done, first.branches);
  ASSERT_GT(first.branches_done, 0u);
  // What is left: the branch that was cut short starts afresh.
  const Assemblies rest = find_assemblies(d, {.keep = 5000, .first_branch = first.branches_done});
  std::vector<Assembly> joined(first.kept.begin(), first.kept.begin() + (whole.count - rest.count));
  joined.insert(joined.end(), rest.kept.begin(), rest.kept.end());
  EXPECT_EQ(joined, whole.kept);
}

TEST(Search, TellsAssembliesInOrderAndProgressThatOnlyGrows) {
  std::vector<Assembly> told;
  double share = 0;
  std::int64_t found = 0;
  AssemblyListener listener;
  listener.on_assembly = [&](const Assembly& a) { told.push_back(a); };
  listener.on_progress = [&](const CoverProgress& p) {
    EXPECT_GE(p.share, share);
    EXPECT_GE(p.covers, found);
    share = p.share, found = p.covers;
  };
  const Assemblies all = find_assemblies(six_by_ten(), {.keep = 5000, .threads = 2}, listener);
  EXPECT_EQ(told, all.kept);
  EXPECT_NEAR(share, 1, 1e-9);
  EXPECT_EQ(found, all.count);
}

TEST(Search, EndsWhenItIsCancelledAndKeepsWhatItHas) {
  std::atomic<bool> cancel = false;
  AssemblyListener listener;
  listener.on_assembly = [&](const Assembly&) { cancel = true; };
  const Assemblies some = find_assemblies(six_by_ten(), {.threads = 2, .cancel = &cancel}, listener);
  EXPECT_EQ(some.verdict, Verdict::stopped);
  EXPECT_GE(some.count, 1);
  EXPECT_LT(some.count, 2339);
}

// Two of three dominoes and a cube that may be left out, in a strip of five with an end that may stay empty.
TEST(Search, ToldAsFoundTheAssembliesAreTheSameOnesOnly) {
  const Design d = six_by_ten();
  const Assemblies in_order = find_assemblies(d, {.keep = 5000});
  for (int threads : {1, 3}) {
    std::vector<Assembly> told;
    std::int64_t nodes = 0;
    const AssemblyListener ear{.on_assembly = [&](const Assembly& a) { told.push_back(a); },
                               .on_progress = [&](const CoverProgress& p) { nodes = p.nodes; },
                               .as_found = true};
    const Assemblies same = find_assemblies(d, {.keep = 5000, .threads = threads}, ear);
    EXPECT_EQ(same.kept, in_order.kept);  // the answer itself stays in order
    EXPECT_EQ(same.count, in_order.count);
    EXPECT_LE(nodes, same.nodes);
    std::vector<Assembly> sorted = in_order.kept;
    std::sort(sorted.begin(), sorted.end());
    std::sort(told.begin(), told.end());
    EXPECT_EQ(told, sorted);
  }
}

// A box of 6 x 5 x 4 filled with dominoes: no branch of the search ends within seconds.
TEST(Search, ToldAsFoundTheyComeAtOnceAndACancelledSearchCountsThemAll) {
  const Design d = known::fill(known::box(6, 5, 4), {{"bar", 60, 0, known::box(2, 1, 1), {}}});
  std::atomic<bool> cancel = false;
  std::int64_t told = 0, beats = 0;
  const AssemblyListener ear{.on_assembly = [&](const Assembly&) { ++told; },
                             .on_progress =
                                 [&](const CoverProgress& p) {
                                   EXPECT_GT(p.nodes, 0);
                                   if (++beats == 2) cancel = true;
                                 },
                             .most = 1000,
                             .as_found = true};
  const auto begun = std::chrono::steady_clock::now();
  const Assemblies some = find_assemblies(d, {.keep = 2000, .threads = 2, .cancel = &cancel}, ear);
  EXPECT_LT(std::chrono::steady_clock::now() - begun, std::chrono::seconds(5));
  EXPECT_EQ(some.verdict, Verdict::stopped);
  EXPECT_EQ(told, 1000);
  EXPECT_GE(some.count, told);
  EXPECT_EQ(some.kept.size(), 2000u);
}

TEST(Search, LeavesOutOptionalPiecesAndEmptyCells) {
  Design d = known::fill(known::box(5, 1, 1), {{"domino", 3, 0, known::box(2, 1, 1), {}}, {"cube", 1, 0, {{}}, {}}});
  d.pieces[0].optional = d.pieces[1].optional = true;
  EXPECT_EQ(find_assemblies(d).total, 3);  // two dominoes and the cube, in three orders
  EXPECT_EQ(find_assemblies(d).count, 2);  // of which two are turned copies of each other
  d.may_stay_empty = {{0, 0, 0}};
  EXPECT_EQ(find_assemblies(d).count, 4);  // now the end marks itself: three as before, and the cube left out
  d.pieces_used = 2;
  const Assemblies two = find_assemblies(d);
  ASSERT_EQ(two.count, 1);
  EXPECT_TRUE(check_assembly(d, two.kept[0]));
  d.pieces_used = 3;
  EXPECT_FALSE(check_assembly(d, two.kept[0]));
}

}  // namespace
}  // namespace stickwright
