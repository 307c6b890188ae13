#include "jig/blade_work.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

RunningBlade example() {
  return {Mm{254}, 40, 4000, parse_speed("6 m/min").value()};
}

// Worked by hand from the textbook formulas (docs/blade.md) for 254 mm, 40 teeth, 4000 turns a minute, 6 m/min:
// 0.0375 mm a tooth, 1.5 mm a turn, 2666.7 Hz, 53.2 m/s (10 472 ft/min), humps of 0.0014 and 2.21 um.
TEST(BladeWork, AWorkedExample) {
  const BladeWork work = blade_work(example());
  EXPECT_NEAR(work.feed_per_tooth.v, 0.0375, 1e-12);
  EXPECT_NEAR(work.feed_per_tooth.inches(), 0.00148, 5e-6);
  EXPECT_NEAR(work.feed_per_turn.v, 1.5, 1e-12);
  EXPECT_NEAR(work.tooth_frequency, 2666.7, 0.05);
  EXPECT_NEAR(work.rim_speed, 53.2, 0.05);
  EXPECT_NEAR(work.rim_speed / 0.3048 * 60, 10'472, 0.5);
  EXPECT_NEAR(work.hump_per_tooth.v * 1000, 0.0014, 5e-5);
  EXPECT_NEAR(work.hump_per_turn.v * 1000, 2.21, 0.005);
  EXPECT_NEAR(work.pitch.v, 19.95, 0.005);
}

// The height of the point where two circles of the blade's radius, a step apart, meet above their lowest points.
TEST(BladeWork, TheHumpIsWhereTwoCirclesMeet) {
  for (const double feed : {1.0, 3.0, 10.0}) {
    const BladeWork work = blade_work({Mm{254}, 40, 4000, parse_speed(std::to_string(feed) + " m/min").value()});
    const double r = 127, half_step = work.feed_per_turn.v / 2;
    EXPECT_NEAR(work.hump_per_turn.v, r - std::sqrt(r * r - half_step * half_step), 1e-4 * work.hump_per_turn.v);
  }
}

TEST(BladeWork, TheUnitsOfTheInchTradeGiveTheSame) {
  // 12 * feed in ft/min / (turns * teeth) inches a tooth.
  const BladeWork work = blade_work({Mm{254}, 60, 3450, parse_speed("10 ft/min").value()});
  EXPECT_NEAR(work.feed_per_tooth.inches(), 12.0 * 10 / (3450 * 60), 1e-12);
}

TEST(KerfOf, AddsUp) {
  static_assert(kerf_of(Mm{1.5}, Mm{0.5}, Mm{0.25}) == Mm{2.25});
}

// Every point of the cut, tried one by one.
double travel_of_points(double s, double diameter, double above) {
  const double r = diameter / 2, half = s / std::sqrt(2.0), center = half + above - r;
  double first = 1e9, last = -1e9;
  const int n = 4000;
  for (int i = -n; i <= n; ++i) {
    const double b = half * i / n, wide = s - std::sqrt(2.0) * std::abs(b);
    const double front = std::sqrt(r * r - (b - center) * (b - center));
    first = std::min(first, -wide - front);
    last = std::max(last, wide - front);
  }
  return last - first;
}

TEST(SawingTravel, IsThatOfAllPointsOfTheCut) {
  for (const double s : {8.0, 16.0, 25.0, 40.0})
    for (const double diameter : {160.0, 254.0, 315.0})
      for (const double above : {0.0, 1.0, 5.0, 20.0, 60.0}) {
        EXPECT_NEAR(sawing_travel(Mm{s}, Mm{diameter}, Mm{above}).v, travel_of_points(s, diameter, above), 1e-3)
            << s << " " << diameter << " " << above;
        EXPECT_GE(sawing_travel(Mm{s}, Mm{diameter}, Mm{above}).v, 2 * s - 1e-9);
      }
}

TEST(SawingTravel, IsTheLengthOfTheCutWhereTheRimStandsUpright) {
  // The blade's center at the height of the stick's axis, and a rim that is almost straight.
  EXPECT_NEAR(sawing_travel(Mm{16}, Mm{1e6}, Mm{5e5 - 16 / std::sqrt(2.0)}).v, 32, 1e-3);
}

TEST(BladeCautions, OnlyOutsideWhatIsCommon) {
  EXPECT_TRUE(blade_cautions(blade_work(example())).empty());
  RunningBlade slow = example();
  slow.feed = MmPerSecond{50};
  ASSERT_EQ(blade_cautions(blade_work(slow)).size(), 1u);
  EXPECT_NE(blade_cautions(blade_work(slow))[0].find("0.019 mm"), std::string::npos);
  RunningBlade fast = example();
  fast.turns_per_minute = 4500;
  ASSERT_EQ(blade_cautions(blade_work(fast)).size(), 1u);
  EXPECT_NE(blade_cautions(blade_work(fast))[0].find("60 m/s"), std::string::npos);
}

TEST(BladeCautions, NeverSayThatACutIsSafe) {
  RunningBlade both = example();
  both.turns_per_minute = 9000;
  const auto cautions = blade_cautions(blade_work(both));
  ASSERT_EQ(cautions.size(), 2u);
  for (const std::string& c : cautions) EXPECT_EQ(c.find("safe"), std::string::npos) << c;
}

}  // namespace
}  // namespace stickwright
