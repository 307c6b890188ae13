#include <gtest/gtest.h>

#include <algorithm>

#include "sorting/bounds.h"
#include "sorting/exchange.h"
#include "sorting/plays.h"

namespace stickwright {
namespace {

SortProblem two_designs(Dice& dice) {
  SortProblem problem;
  problem.designs = {{"three", {{0, "a"}, {0, "b"}, {1, "c"}}, 3, {}}, {"two", {{1, "a"}, {0, "b"}}, 2, {}}};
  for (int i = 0; i < 10; ++i) problem.items.push_back({0, {dice.deviation(0.03), dice.deviation(0.03)}});
  for (int i = 0; i < 7; ++i) problem.items.push_back({1, {dice.deviation(0.03)}});
  for (SortDesign& d : problem.designs) d.play = least_of(random_cuts(dice, d.places, {2, 1}, 6));
  return problem;
}

// By duality: what a sorting has not lost is its puzzles' average by the weighed cuts, which the worst play cannot
// exceed.
TEST(Losses, BoundLessLossesIsTheWeighedPlayOfEverySorting) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    const SortProblem problem = two_designs(dice);
    const SortModel model(problem);
    KnownPlays plays(model);
    FilledBatch batch = deal(model);
    for (std::size_t k = 0; k < batch.size(); ++k) plays.play(static_cast<std::size_t>(model.design_of[k]), batch[k]);
    const Pooled pooled = pooled_bound(model, plays, 50);
    const Losses losses(model, plays, pooled);
    for (std::uint64_t again = 1; again <= 5; ++again) {
      batch = exchange(model, plays, batch, {pooled.bound, 50, 1, again});
      double kept = pooled.bound, weighed = 0, worst = 1e9;
      std::vector<int> on_shelf;
      for (const ItemClass& c : model.classes) on_shelf.push_back(c.count());
      for (std::size_t k = 0; k < batch.size(); ++k) {
        const auto d = static_cast<std::size_t>(model.design_of[k]);
        worst = std::min(worst, plays.play(d, batch[k]));
        for (std::size_t p = 0; p < batch[k].size(); ++p) {
          EXPECT_GE(losses.in_place(d, p, batch[k][p]), 0);
          kept -= losses.in_place(d, p, batch[k][p]);
          --on_shelf[static_cast<std::size_t>(batch[k][p])];
        }
        for (std::size_t j = 0; j < pooled.by.weight[d].size(); ++j) {
          double v = plays.constant(d, j);
          for (std::size_t p = 0; p < batch[k].size(); ++p) v += plays.adds(d, p, batch[k][p])[j];
          weighed += pooled.by.weight[d][j] * v / problem.designs[d].puzzles;
        }
      }
      for (std::size_t c = 0; c < on_shelf.size(); ++c) kept -= on_shelf[c] * losses.on_shelf(static_cast<int>(c));
      EXPECT_NEAR(kept, weighed, 1e-12);
      EXPECT_LE(worst, kept + 1e-12);
    }
  }
}

}  // namespace
}  // namespace stickwright
