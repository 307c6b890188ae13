#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "sorting/plays.h"

namespace stickwright {
namespace {

// Every way to put the items into the places, puzzle by puzzle; a puzzle no better than the best sorting's worst ends
// it.
class BruteForce {
 public:
  explicit BruteForce(const SortProblem& problem) : problem_(problem), used_(problem.items.size()) {
    for (const SortDesign& d : problem.designs)
      for (int n = 0; n < d.puzzles; ++n) puzzles_.push_back(&d);
    std::vector<std::vector<double>> off;
    fill(0, off, std::numeric_limits<double>::infinity());
  }
  double worst() const { return best_; }

 private:
  void fill(std::size_t k, std::vector<std::vector<double>>& off, double worst) {
    if (k == puzzles_.size()) {
      best_ = std::max(best_, worst);
      return;
    }
    const SortDesign& design = *puzzles_[k];
    if (off.size() == design.places.size()) {
      const double play = value_at(design.play(off), off);
      std::vector<std::vector<double>> next;
      if (play > best_) fill(k + 1, next, std::min(worst, play));
      return;
    }
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
      if (used_[i] || problem_.items[i].kind != design.places[off.size()].kind) continue;
      used_[i] = true;
      off.push_back(problem_.items[i].off);
      fill(k, off, worst);
      off.pop_back();
      used_[i] = false;
    }
  }

  const SortProblem& problem_;
  std::vector<bool> used_;
  std::vector<const SortDesign*> puzzles_;
  double best_ = -std::numeric_limits<double>::infinity();
};

struct Shape {
  std::vector<int> kinds;  // of the places
  int puzzles = 3, spares = 0, cuts = 6;
  std::vector<int> lengths = {1, 1, 1};
};

SortProblem random_problem(Dice& dice, const std::vector<Shape>& shapes) {
  SortProblem problem;
  for (const Shape& s : shapes) {
    SortDesign design{"random", {}, s.puzzles, {}};
    for (int kind : s.kinds) {
      design.places.push_back({kind, "place"});
      for (int n = 0; n < s.puzzles + s.spares; ++n) {
        problem.items.push_back({kind, {}});
        for (int i = 0; i < s.lengths[static_cast<std::size_t>(kind)]; ++i)
          problem.items.back().off.push_back(dice.deviation(0.03));
      }
    }
    design.play = least_of(random_cuts(dice, design.places, s.lengths, s.cuts));
    problem.designs.push_back(std::move(design));
  }
  return problem;
}

void expect_like_brute_force(const std::vector<Shape>& shapes, std::uint64_t first_seed, int problems) {
  for (std::uint64_t seed = first_seed; seed < first_seed + static_cast<std::uint64_t>(problems); ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    const SortProblem problem = random_problem(dice, shapes);
    const double best = BruteForce(problem).worst();
    // With exchanges, and by the search through all sortings alone.
    for (std::int64_t moves : {100'000, 0}) {
      SortLimits limits;
      limits.moves = moves;
      const auto sorted = sort_items(problem, limits);
      ASSERT_TRUE(sorted);
      EXPECT_TRUE(check_sorting(problem, sorted.value()));
      EXPECT_EQ(sorted.value().verdict, Verdict::found);
      EXPECT_NEAR(sorted.value().worst, best, kSortTolerance);
    }
  }
}

TEST(SortItems, ThreePuzzlesOfTwoPlacesOfOneKindAsBruteForce) {
  expect_like_brute_force({{{0, 0}}}, 100, 25);
}

TEST(SortItems, PairsWithSparesAsBruteForce) {
  expect_like_brute_force({{{0, 1}, 4, 1}}, 200, 25);
}

TEST(SortItems, ThreePuzzlesOfThreePlacesOfTwoKindsAsBruteForce) {
  expect_like_brute_force({{{0, 0, 1}}}, 300, 15);
}

TEST(SortItems, ThreePlacesOfThreeKindsWithSparesAsBruteForce) {
  expect_like_brute_force({{{0, 1, 2}, 3, 1, 9}}, 400, 10);
}

TEST(SortItems, ItemsOfSeveralDeviationsAsBruteForce) {
  expect_like_brute_force({{{0, 1, 1}, 2, 1, 8, {3, 2, 1}}}, 500, 15);
}

TEST(SortItems, TwoDesignsThatShareTheItemsAsBruteForce) {
  expect_like_brute_force({{{0, 0, 1}, 2, 0, 5}, {{1, 0}, 1, 1, 4}}, 600, 15);
}

TEST(SortItems, ExchangesAloneFindTheBestOfNearlyEverySmallBatch) {
  int best = 0;
  for (std::uint64_t seed = 800; seed < 830; ++seed) {
    Dice dice(seed);
    const SortProblem problem = random_problem(dice, {{{0, 0, 1}, 3, 0, 8}});
    SortLimits limits;
    limits.nodes = 0;
    best += sort_items(problem, limits).value().worst >= BruteForce(problem).worst() - kSortTolerance;
  }
  EXPECT_GE(best, 27);
}

// Whatever is given up early, the bound holds.
TEST(SortItems, AStoppedSearchStillBoundsBruteForce) {
  int stopped = 0;
  for (std::uint64_t seed = 700; seed < 730; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    const SortProblem problem = random_problem(dice, {{{0, 0, 1}, 3, 0, 8}});
    SortLimits limits;
    limits.nodes = 0;
    limits.pooled_rounds = static_cast<int>(seed % 4);
    limits.moves = 30;
    const auto sorted = sort_items(problem, limits);
    ASSERT_TRUE(sorted);
    EXPECT_TRUE(check_sorting(problem, sorted.value()));
    const double best = BruteForce(problem).worst();
    EXPECT_LE(sorted.value().worst, best + 1e-12);
    EXPECT_GE(sorted.value().bound, best - 1e-12);
    stopped += sorted.value().verdict == Verdict::stopped;
  }
  EXPECT_GT(stopped, 20);
}

}  // namespace
}  // namespace stickwright
