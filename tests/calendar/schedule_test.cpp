#include "calendar/schedule.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>

namespace stickwright {
namespace {

constexpr Clock kHour = 3600;

// An evening of two hours every day from 19:00.
std::vector<Window> evenings(int days) {
  std::vector<Window> w;
  for (int d = 0; d < days; ++d) w.push_back({d * kDay + 19 * kHour, d * kDay + 21 * kHour});
  return w;
}

Task task(const char* title, Clock hands_on, std::vector<After> after = {}) {
  Task t;
  t.title = title;
  t.hands_on = hands_on;
  t.after = std::move(after);
  return t;
}

// Three hours of work in evenings of two: one hour of it falls on the second evening, which it opens. Nothing is
// faster.
TEST(LayOut, WorkLongerThanAnEveningGoesOnTheNextOne) {
  const std::vector<Task> tasks = {task("cut", 3 * kHour)};
  const auto s = lay_out(tasks, evenings(3), 1).value();
  ASSERT_EQ(s.work.size(), 2u);
  EXPECT_EQ(s.finish, kDay + 20 * kHour);
  EXPECT_EQ(s.verdict, Verdict::found);
  EXPECT_TRUE(check_schedule(s, tasks, evenings(3), 1));
}

// A coat of half an hour that dries 12 h, put on at 19:00, is dry at 07:30: the next coat falls on the next evening,
// and of the drying only what is left of the first evening, 1.5 h, passes inside working hours, less when other work
// comes first.
TEST(LayOut, DryingFallsOutsideTheHoursWhereItCan) {
  std::vector<Task> tasks = {task("coat 1", kHour / 2), task("coat 2", kHour / 2, {{0, 12 * kHour}}),
                             task("sweep", 3 * kHour / 2)};
  tasks[0].dries = 12 * kHour;
  const auto s = lay_out(tasks, evenings(3), 1).value();
  EXPECT_TRUE(check_schedule(s, tasks, evenings(3), 1));
  EXPECT_EQ(s.finish, kDay + 19 * kHour + kHour / 2);
  EXPECT_EQ(s.drying_inside, 0);  // sweep first, then the coat at the end of the evening
  EXPECT_EQ(s.drying_total, 12 * kHour);
  EXPECT_EQ(s.idle, 0);
}

// Two glue-ups of 30 min with one clamp that stays on for an hour: the second starts 1.5 h after the first.
TEST(LayOut, ClampsAreShared) {
  std::vector<Task> tasks = {task("glue 1", kHour / 2), task("glue 2", kHour / 2)};
  for (Task& t : tasks) t.clamps = 1, t.clamped = kHour;
  const auto one = lay_out(tasks, evenings(2), 1).value(), two = lay_out(tasks, evenings(2), 2).value();
  EXPECT_TRUE(check_schedule(one, tasks, evenings(2), 1));
  EXPECT_FALSE(check_schedule(two, tasks, evenings(2), 1));
  EXPECT_EQ(one.finish, 21 * kHour);
  EXPECT_EQ(two.finish, 20 * kHour);
}

TEST(LayOut, WhatCannotBeSplitWaitsForAWindowThatHoldsIt) {
  std::vector<Task> tasks = {task("first", kHour), task("in one go", 3 * kHour / 2)};
  tasks[1].may_split = false;
  tasks[1].after = {{0, 0}};
  const auto s = lay_out(tasks, evenings(3), 1).value();
  EXPECT_EQ(s.finish, kDay + 19 * kHour + 3 * kHour / 2);
  EXPECT_TRUE(check_schedule(s, tasks, evenings(3), 1));
}

TEST(LayOut, MistakesAreTold) {
  auto tasks = std::vector<Task>{task("a", 3 * kHour)};
  tasks[0].may_split = false;
  EXPECT_EQ(lay_out(tasks, evenings(2), 1).problem().code, "task_too_long");
  EXPECT_EQ(lay_out(std::vector<Task>{task("a", 9 * kHour)}, evenings(2), 1).problem().code, "out_of_hours");
  EXPECT_EQ(lay_out(std::vector<Task>{task("a", 0)}, evenings(2), 1).problem().code, "bad_task");
  EXPECT_EQ(lay_out(std::vector<Task>{task("a", 1, {{1, 0}}), task("b", 1, {{0, 0}})}, evenings(2), 1).problem().code,
            "bad_task");
  tasks = {task("a", 60)};
  tasks[0].clamps = 3;
  EXPECT_EQ(lay_out(tasks, evenings(2), 2).problem().code, "too_many_clamps");
}

std::vector<Task> random_tasks(std::mt19937& rng, std::size_t n) {
  std::vector<Task> tasks;
  for (std::size_t i = 0; i < n; ++i) {
    Task t = task("t", 600 * (1 + std::int64_t(rng() % 9)));
    t.may_split = rng() % 2;
    if (i > 0 && rng() % 2) t.after.push_back({int(rng() % i), std::int64_t(rng() % 3) * 5 * kHour});
    if (rng() % 3 == 0) t.clamps = 1 + int(rng() % 2), t.clamped = kHour;
    tasks.push_back(std::move(t));
  }
  return tasks;
}

TEST(LayOut, EveryAnswerPassesTheChecker) {
  std::mt19937 rng(4);
  for (int k = 0; k < 150; ++k) {
    const auto tasks = random_tasks(rng, 2 + rng() % 10);
    const auto s = lay_out(tasks, evenings(30), 2);
    ASSERT_TRUE(s) << s.problem().say;
    EXPECT_TRUE(check_schedule(s.value(), tasks, evenings(30), 2)) << k;
    EXPECT_LE(s.value().bound, s.value().finish);
  }
}

// Every order of up to five tasks that are each done in one go, placed as early as the order allows: no answer may end
// on a later day than the best of these.
TEST(LayOut, EndsOnTheBestDayOfAllOrdersOfSmallJobs) {
  std::mt19937 rng(8);
  int several_days = 0;
  for (int k = 0; k < 120; ++k) {
    auto tasks = random_tasks(rng, 2 + rng() % 4);
    for (Task& t : tasks) t.may_split = false, t.clamps = 0;
    const auto windows = evenings(30);
    std::vector<int> order(tasks.size());
    std::iota(order.begin(), order.end(), 0);
    Clock best = 30 * kDay;
    do {
      std::vector<Clock> end(tasks.size(), -1);
      Clock now = 0;
      bool legal = true;
      for (int i : order) {
        Clock ready = now;
        for (const After& a : tasks[i].after) legal &= end[a.task] >= 0, ready = std::max(ready, end[a.task] + a.wait);
        for (const Window& w : windows)
          if (std::max(ready, w.from) + tasks[i].hands_on <= w.to) {
            end[i] = std::max(ready, w.from) + tasks[i].hands_on;
            break;
          }
        now = end[i];
      }
      if (legal) best = std::min(best, now);
    } while (std::next_permutation(order.begin(), order.end()));
    const auto s = lay_out(tasks, windows, 2).value();
    EXPECT_EQ(s.finish / kDay, best / kDay) << k;
    EXPECT_GE(s.finish, s.bound);
    several_days += best > kDay;
  }
  EXPECT_GT(several_days, 40);
}

TEST(CheckSchedule, RefusesWrongOnes) {
  const std::vector<Task> tasks = {task("a", kHour), task("b", kHour, {{0, 0}})};
  const auto good = lay_out(tasks, evenings(2), 1).value();
  ASSERT_TRUE(check_schedule(good, tasks, evenings(2), 1));
  auto wrong = good;
  std::swap(wrong.work[0].task, wrong.work[1].task);  // out of order
  EXPECT_FALSE(check_schedule(wrong, tasks, evenings(2), 1));
  wrong = good;
  wrong.work[1].from -= 60;  // two things at a time
  EXPECT_FALSE(check_schedule(wrong, tasks, evenings(2), 1));
  wrong = good;
  wrong.work[1].to += 3600;  // after hours
  EXPECT_FALSE(check_schedule(wrong, tasks, evenings(2), 1));
  wrong = good;
  wrong.work.pop_back();
  EXPECT_FALSE(check_schedule(wrong, tasks, evenings(2), 1));
}

}  // namespace
}  // namespace stickwright
