// What allowances would do, against what the fit says of the same puzzles; and a fit that is listened to or ended.
#include "batch/tried_fit.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>

#include "support/two_puzzles.h"

namespace stickwright {
namespace {

struct Fitted {
  Scratch scratch{"tried_fit"};
  BatchPlan plan;
  FitPlan fit;
  Fitted() {
    auto read = plan_set_ups(two_puzzles(scratch));
    EXPECT_TRUE(read) << read.problem().say;
    plan = read.take();
    fit = plan_fit(plan, "none.ledger").take();
  }
  const PuzzleFit& star() const { return fit.puzzles[0]; }
};

const Fitted& fitted() {
  static const Fitted f;
  return f;
}

std::vector<double> none() {
  return std::vector<double>(fitted().star().sizes.size());
}

void expect_same(const PlaySpread& a, const PlaySpread& b) {
  EXPECT_EQ(a.median, b.median);
  EXPECT_EQ(a.p05, b.p05);
  EXPECT_EQ(a.p95, b.p95);
  EXPECT_EQ(a.closes.share, b.closes.share);
  EXPECT_EQ(a.within.share, b.within.share);
  EXPECT_EQ(a.within.u, b.within.u);
  EXPECT_EQ(a.bars.count, b.bars.count);
}

TEST(TriedFit, OfTheSamePuzzlesIsTheFitAsPlannedAndAsAdvised) {
  const Fitted& f = fitted();
  const TriedFit tried(f.plan, f.fit.read, 0, f.fit.asked.samples);
  ASSERT_EQ(tried.samples(), f.star().counts.samples);
  ASSERT_TRUE(f.star().allowances.reached());
  ASSERT_NE(f.star().allowances.mm, none());
  expect_same(tried.with(none()), f.star().planned);
  expect_same(tried.with(f.star().allowances.mm), f.star().advised);
}

TEST(TriedFit, OfFewerPuzzlesAgreesWithinWhatTheirNumberLeavesOpen) {
  const Fitted& f = fitted();
  const TriedFit tried(f.plan, f.fit.read, 0, 2000);
  const PlaySpread some = tried.with(f.star().allowances.mm), all = f.star().advised;
  // A normal spread's standard deviation is (p95 - p05) / 3.29; a median's 1.25 of it over the root of their number.
  const double sigma = (all.p95 - all.p05) / 3.29, u = 1.25 * sigma / std::sqrt(2000.0);
  EXPECT_NEAR(some.median, all.median, 4 * u);
  EXPECT_NEAR(some.within.share, all.within.share, 4 * std::max(some.within.u, 1 / 2000.0));
}

TEST(TriedFit, SlopeIsThatOfTheSize) {
  const Fitted& f = fitted();
  const TriedFit tried(f.plan, f.fit.read, 0, f.fit.asked.samples);
  constexpr double kStep = 0.01;
  for (std::size_t d = 0; d < f.star().sizes.size(); ++d) {
    std::vector<double> more = none(), less = none();
    more[d] = kStep, less[d] = -kStep;
    const double slope = (tried.with(more).median - tried.with(less).median) / (2 * kStep);
    // Medians of a thousand and more puzzles in steps of a micrometer, and which puzzle is the middle one changes.
    EXPECT_NEAR(slope, f.star().per_mm[d], 0.05 + 0.1 * std::abs(f.star().per_mm[d])) << f.star().sizes[d].name;
  }
}

TEST(TriedFit, SomeThousandPuzzlesAnswerWhileASliderMoves) {
  const Fitted& f = fitted();
  const TriedFit tried(f.plan, f.fit.read, 0);
  std::vector<double> mm = none();
  tried.with(mm);
  double best = INFINITY;
  for (int k = 0; k < 10; ++k) {
    mm[1] = 0.005 * k;
    const auto start = std::chrono::steady_clock::now();
    tried.with(mm);
    best = std::min(best, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
  }
  RecordProperty("best_ms", std::to_string(best));
  std::printf("%lld puzzles in %.1f ms\n", static_cast<long long>(tried.samples()), best);
  EXPECT_LT(best, 250);  // a slow machine; on an idle one see docs/workbench.md
}

TEST(TriedFit, APuzzleThatCannotJamHasNothingToTry) {
  const Fitted& f = fitted();
  ASSERT_FALSE(f.fit.puzzles[1].binds);
  EXPECT_FALSE(TriedFit(f.plan, f.fit.read, 1).binds());
}

TEST(FitListener, HearsOfGrowingSharesAndOfEveryPuzzleAndChangesNoNumber) {
  const Fitted& f = fitted();
  double last = 0;
  std::size_t found = 0;
  bool grows = true;
  FitListener listener;
  listener.progress = [&](double share, const std::string&) { grows = grows && share >= last, last = share; };
  listener.found = [&](const FitPlan& so_far) { EXPECT_EQ(so_far.puzzles.size(), ++found); };
  const FitPlan fit = plan_fit(f.plan, "none.ledger", listener).take();
  EXPECT_TRUE(grows);
  EXPECT_EQ(last, 1);
  EXPECT_EQ(found, 2U);
  EXPECT_TRUE(fit.complete);
  expect_same(fit.puzzles[0].planned, f.star().planned);
  expect_same(fit.puzzles[0].advised, f.star().advised);
  EXPECT_EQ(fit.puzzles[0].allowances.mm, f.star().allowances.mm);
}

TEST(FitListener, ThatEndsTheFitKeepsThePuzzlesThatAreDone) {
  const Fitted& f = fitted();
  bool enough = false;
  FitListener listener;
  listener.found = [&](const FitPlan&) { enough = true; };
  listener.cancelled = [&] { return enough; };
  const FitPlan fit = plan_fit(f.plan, "none.ledger", listener).take();
  EXPECT_FALSE(fit.complete);
  ASSERT_EQ(fit.puzzles.size(), 1U);
  expect_same(fit.puzzles[0].advised, f.star().advised);
}

TEST(FitListener, ThatEndsAtOnceGetsNothing) {
  FitListener listener;
  listener.cancelled = [] { return true; };
  const FitPlan fit = plan_fit(fitted().plan, "none.ledger", listener).take();
  EXPECT_FALSE(fit.complete);
  EXPECT_TRUE(fit.puzzles.empty());
}

// Within a run of many puzzles, not only after it.
TEST(FitListener, EndsALongRunInItsMiddle) {
  BatchPlan plan = fitted().plan;
  plan.batch.fit.samples = 10'000'000;
  int asked = 0;
  FitListener listener;
  listener.cancelled = [&] { return ++asked > 3; };
  const FitPlan fit = plan_fit(plan, "none.ledger", listener).take();
  EXPECT_FALSE(fit.complete);
  EXPECT_TRUE(fit.puzzles.empty());
  EXPECT_LT(fit.seconds, 5);
}

}  // namespace
}  // namespace stickwright
