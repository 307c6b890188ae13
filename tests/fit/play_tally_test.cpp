#include "fit/play_tally.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace stickwright {
namespace {

TEST(PlayTally, SharesCountBatchesAsOneDrawEach) {
  PlayTally tally({0, 0.01, 0.05}, 2);
  const std::vector<double> plays = {0.02, -0.01, 0.03, 0.06};
  tally.add(plays);
  EXPECT_EQ(tally.samples(), 4);
  EXPECT_DOUBLE_EQ(tally.closes().share, 0.75);  // three of four
  EXPECT_DOUBLE_EQ(tally.within().share, 0.5);   // 0.02 and 0.03
  EXPECT_DOUBLE_EQ(tally.batch_closes().share, 0.5);
  // Shares of the two batches are 1/2 and 1: variance 1/16, over two batches.
  EXPECT_NEAR(tally.closes().u, std::sqrt(1.0 / 16 / 2), 1e-12);
}

TEST(PlayTally, QuantilesAgreeWithSortingToAMicrometer) {
  std::mt19937_64 engine(3);
  std::normal_distribution<double> normal(0.03, 0.02);
  std::vector<double> plays(20'000);
  for (double& p : plays) p = normal(engine);
  PlayTally tally({0, 0, 0.1}, 4);
  tally.add(plays);
  std::sort(plays.begin(), plays.end());
  for (double share : {0.01, 0.05, 0.5, 0.95, 0.99})
    EXPECT_NEAR(tally.quantile(share), plays[static_cast<std::size_t>(share * 20'000)], 0.001) << share;
  EXPECT_NEAR(tally.mean(), 0.03, 4 * 0.02 / std::sqrt(20'000));
  EXPECT_NEAR(tally.deviation(), 0.02, 4 * 0.02 / std::sqrt(40'000));
}

TEST(PlayTally, BarsHoldEveryPuzzle) {
  PlayTally tally({0, 0, 0.1}, 1);
  std::vector<double> plays;
  for (int k = 0; k < 10'000; ++k) plays.push_back(0.00001 * k);
  plays.push_back(-7), plays.push_back(7), plays.push_back(30);
  tally.add(plays);
  const PlayTally::Bars bars = tally.bars(20);
  std::int64_t sum = 0;
  for (std::int64_t n : bars.count) sum += n;
  EXPECT_EQ(sum, 10'003);
  EXPECT_LE(bars.count.size(), 23u);
  // Equally many in each full bar of equally spaced plays.
  EXPECT_EQ(bars.count[3], static_cast<std::int64_t>(std::lround(bars.width / 0.00001)));
}

TEST(PlayTally, AllAlikeIsOneBarAndNoSpread) {
  PlayTally tally({0, 0, 0.1}, 1);
  tally.add(std::vector<double>(100, 0.02));
  EXPECT_NEAR(tally.quantile(0.5), 0.02, 0.001);
  EXPECT_NEAR(tally.deviation(), 0, 1e-8);
  EXPECT_DOUBLE_EQ(tally.closes().share, 1);
  EXPECT_DOUBLE_EQ(tally.closes().u, 0);
}

}  // namespace
}  // namespace stickwright
