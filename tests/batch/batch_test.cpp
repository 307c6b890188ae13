#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <regex>

#include "batch/contrast.h"
#include "batch/full_plan.h"
#include "support/example_plan.h"
#include "support/scratch.h"

namespace stickwright {
namespace {

// Counted by hand from the example: ten stars of six arms with one squat octahedron and two rhombic pyramids each, a
// third of them in each wood; six stars of eight wings with four prisms each, all black cherry.
TEST(Blocks, AreCountedByWoodOverAllPuzzles) {
  std::map<std::string, std::map<std::string, int>> needed;
  for (const auto& s : example().batch.set_ups) needed[example().batch.split.shapes[s.shape].full_name()] = s.needed;
  EXPECT_EQ(needed["squat octahedron"],
            (std::map<std::string, int>{{"black cherry", 20}, {"black walnut", 20}, {"sugar maple", 20}}));
  EXPECT_EQ(needed["rhombic pyramid block"],
            (std::map<std::string, int>{{"black cherry", 40}, {"black walnut", 40}, {"sugar maple", 40}}));
  EXPECT_EQ(needed["prism block, right-handed"], (std::map<std::string, int>{{"black cherry", 192}}));
}

// Spares: 8 % rounded up, at least 2. 8 % of 20 is 1.6, of 40 is 3.2, of 192 is 15.36.
TEST(Blocks, SparesAreAShareRoundedUp) {
  for (const auto& s : example().batch.set_ups)
    for (const auto& [wood, count] : s.needed) EXPECT_EQ(s.spares.at(wood), count == 20 ? 2 : count == 40 ? 4 : 16);
}

// The project's notes: a block uses up its length between the severing planes plus kerf * sqrt 2. Squat octahedron: 2u
// = sqrt 2 * 16 mm = 22.627; kerf 2.61 mm * sqrt 2 = 3.691. Pyramid and prism lie between two miters that cross the
// axis one unit apart.
TEST(Sticks, LengthPerBlockIsWorkedFromTheKerf) {
  for (const auto& s : example().batch.set_ups)
    EXPECT_NEAR(s.stick_per_block.v,
                (example().batch.split.shapes[s.shape].shape == "squat octahedron" ? 22.627417 : 11.313708) + 3.691097,
                1e-5);
}

TEST(Sticks, TheHeadHoldsOneFullMiterAndTheTailIsMeasuredAlongItsShortSide) {
  const CuttingRules r = cutting_rules(example().batch.batch);
  EXPECT_NEAR(to_mm(r.head).v, 11.313708 + 3.691097, 1e-3);  // u, then the kerf
  EXPECT_NEAR(to_mm(r.tail).v, 110 + 11.313708, 1e-3);
}

TEST(Stops, TheStackIsWithinTheShopsAllowanceAndAnErrorShowsInTheTarget) {
  for (const auto& s : example().batch.set_ups)
    for (std::size_t k = 0; k < s.stops.size(); ++k) {
      const StopPlan& stop = s.stops[k];
      EXPECT_LE(std::abs(stop.error.v), 0.003 + 1e-9);  // within = "3 um"
      Nm sum{0};
      for (Nm n : stop.sizes) sum = sum + n;
      EXPECT_EQ(sum, stop.stack.total);
      auto exact = s;
      exact.stops[k].error = Mm{0};
      // By the best values: the means of drawn saws are not as exact.
      const auto predicted = [&](const auto& set_up) {
        return predict_test(example().batch.saw, example().batch.batch, example().batch.gauge_blocks, set_up, k,
                            Draw::never);
      };
      const Prediction with = predicted(s), without = predicted(exact);
      EXPECT_NEAR(with.expected().v, without.expected().v + stop.error.v / std::sqrt(2.0), 1e-6);
      // Caliper of the example: steps of 1 um (rectangular, over sqrt 12), repeat 4 um.
      EXPECT_NEAR(s.tests[k].u_reading.v, std::sqrt(0.001 * 0.001 / 12 + 0.004 * 0.004), 1e-12);
    }
}

TEST(Woods, NeighborsOfTheStarDiffer) {
  // Opposite arms do not touch, so two arms of each wood can stand opposite each other: no like neighbors at all.
  EXPECT_EQ(example().batch.puzzles[0].like_wood_contacts, 0);
  EXPECT_EQ(like_wood_contacts(example().batch.puzzles[0]), 0);
}

TEST(Week, FollowsTheShopsHours) {
  const WeekPlan& week = example().week;
  EXPECT_TRUE(check_schedule(week.schedule, week.tasks, week.windows, example().batch.batch.shop.times.clamps));
  for (const Stretch& s : week.schedule.work) {
    const std::chrono::weekday day{std::chrono::sys_days(week.date_of(s.from))};
    EXPECT_TRUE(day == std::chrono::Tuesday || day == std::chrono::Thursday || day == std::chrono::Saturday);
    EXPECT_NE(week.date_of(s.from), (std::chrono::year_month_day{std::chrono::year{2031}, std::chrono::February,
                                                                 std::chrono::day{20}}));  // a day off
  }
}

// A step that takes no time must not take its drying with it.
TEST(Week, StepsOfNoLengthStillDry) {
  const Scratch s("zero");
  for (const char* file : {"batch.toml", "star.toml", "second.toml", "shop.toml"}) {
    std::string text = slurp(STICKWRIGHT_SOURCE "/examples/wrenfield/" + std::string(file));
    for (const char* step : {"glue", "ease", "fit", "coat", "set_up", "stop", "test_block", "true_saw"})
      text = std::regex_replace(text, std::regex(std::string("(\\n").append(step).append(" = )\"[0-9.]+ (s|min|h)\"")),
                                "$1\"0 s\"");
    s.write(file, text);
  }
  const auto plan = plan_batch((s.path / "batch.toml").string());
  ASSERT_TRUE(plan) << plan.problem().say;
  std::map<std::string, std::pair<Clock, Clock>> when;  // by title: first start, last end
  for (const Stretch& st : plan.value().week.schedule.work) {
    const auto [at, added] = when.try_emplace(plan.value().week.tasks[st.task].title, st.from, st.to);
    at->second.second = st.to;
  }
  const std::string star = "10 x six-piece star";
  EXPECT_GE(when.at("Pack " + star).first, when.at("Coat 2 on " + star).second + 12 * 3600);
  EXPECT_GE(when.at("Coat 2 on " + star).first, when.at("Coat 1 on " + star).second + 12 * 3600);
  EXPECT_GE(when.at("Ease arm 1-12").first, when.at("Glue arm 1-12").second + 24 * 3600);
  Clock first_cut = 1'000'000'000, last_preparation = 0;
  for (const auto& [title, times] : when) {
    if (title.starts_with("Cut ")) first_cut = std::min(first_cut, times.first);
    if (title == "True the saw" || title.starts_with("Mill "))
      last_preparation = std::max(last_preparation, times.second);
  }
  EXPECT_GE(first_cut, last_preparation);
}

TEST(Plan, IsTheSameOnEveryRun) {
  const auto again = plan_batch(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml");
  ASSERT_TRUE(again);
  const auto &a = example().week.schedule.work, &b = again.value().week.schedule.work;
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_EQ(a[i].task, b[i].task);
    EXPECT_EQ(a[i].from, b[i].from);
  }
}

}  // namespace
}  // namespace stickwright
