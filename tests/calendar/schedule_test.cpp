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
    if (t.may_split && rng() % 2) t.least_piece = 600 * std::int64_t(rng() % 4);
    if (i > 0 && rng() % 2) t.after.push_back({int(rng() % i), std::int64_t(rng() % 3) * 5 * kHour});
    if (i > 1 && rng() % 4 == 0) t.after.push_back({int(rng() % i), 0});
    if (rng() % 3 == 0) t.clamps = 1 + int(rng() % 2), t.clamped = kHour;
    if (rng() % 4 == 0) t.station = rng() % 2 ? "rack" : "bench", t.stays = std::int64_t(rng() % 20) * kHour;
    if (rng() % 3 == 0) t.uses.push_back({0, 1 + int(rng() % 3), std::int64_t(rng() % 2) * kHour});
    t.dries = std::int64_t(rng() % 2) * 8 * kHour;
    tasks.push_back(std::move(t));
  }
  return tasks;
}

// Seed 4; one and two pairs of hands.
TEST(LayOut, EveryAnswerPassesTheChecker) {
  std::mt19937 rng(4);
  int proven = 0;
  for (int k = 0; k < 400; ++k) {
    const auto tasks = random_tasks(rng, 2 + rng() % 10);
    const Means means{1 + k % 2, 2, {3}};
    const auto s = lay_out(tasks, evenings(60), means);
    ASSERT_TRUE(s) << s.problem().say;
    EXPECT_TRUE(check_schedule(s.value(), tasks, evenings(60), means)) << k;
    EXPECT_LE(s.value().bound, s.value().finish);
    EXPECT_GE(s.value().idle, 0);
    EXPECT_LE(s.value().drying_inside, s.value().drying_total);
    proven += s.value().verdict == Verdict::found;
  }
  EXPECT_GT(proven, 100);
}

// Where a task is placed by the plainest means: every ten minutes is tried.
struct PlainPlacing {
  const std::vector<Task>& tasks;
  const std::vector<Window>& windows;
  int hands, clamps;
  std::vector<Clock> begin = std::vector<Clock>(tasks.size(), -1);

  Clock end(std::size_t i) const { return begin[i] + tasks[i].hands_on; }
  bool free_at(std::size_t i, Clock t) const {
    int working = 0, clamped = 0;
    for (std::size_t j = 0; j < tasks.size(); ++j) {
      if (begin[j] < 0 || begin[j] > t) continue;
      working += t < end(j);
      clamped += t < end(j) + tasks[j].clamped ? tasks[j].clamps : 0;
    }
    return working < hands && clamped + tasks[i].clamps <= clamps;
  }
  bool clamps_free(std::size_t i, Clock t) const {
    int clamped = 0;
    for (std::size_t j = 0; j < tasks.size(); ++j)
      if (begin[j] >= 0 && begin[j] <= t && t < end(j) + tasks[j].clamped) clamped += tasks[j].clamps;
    return clamped + tasks[i].clamps <= clamps;
  }
  bool fits(std::size_t i, Clock t) const {
    for (Clock x = t; x < t + tasks[i].hands_on; x += 600)
      if (!free_at(i, x)) return false;
    for (Clock x = t; x < t + tasks[i].hands_on + tasks[i].clamped; x += 600)
      if (tasks[i].clamps > 0 && !clamps_free(i, x)) return false;
    return true;
  }
  bool place(std::size_t i) {
    Clock ready = 0;
    for (const After& a : tasks[i].after) {
      if (begin[a.task] < 0) return false;
      ready = std::max(ready, end(a.task) + a.wait);
    }
    for (const Window& w : windows)
      for (Clock t = w.from; t + tasks[i].hands_on <= w.to; t += 600)
        if (t >= ready && fits(i, t)) return begin[i] = t, true;
    return false;
  }
};

Clock best_of_all_orders(const std::vector<Task>& tasks, const std::vector<Window>& windows, int hands, int clamps) {
  std::vector<std::size_t> order(tasks.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  Clock best = kNoEnd;
  do {
    PlainPlacing plain{tasks, windows, hands, clamps};
    Clock finish = 0;
    bool legal = true;
    for (std::size_t i : order) {
      legal = legal && plain.place(i);
      if (legal) finish = std::max(finish, plain.end(i));
    }
    if (legal) best = std::min(best, finish);
  } while (std::next_permutation(order.begin(), order.end()));
  return best;
}

// Seed 8: every order of two to six tasks that are each done in one go, each task as early as it fits. No answer may
// end later than the best of these, nor may a bound lie above it.
TEST(LayOut, EndsAsEarlyAsTheBestOfAllOrdersOfSmallJobs) {
  std::mt19937 rng(8);
  const auto windows = evenings(12);
  int several_days = 0, proven = 0;
  for (int k = 0; k < 80; ++k) {
    auto tasks = random_tasks(rng, k % 20 == 0 ? 6 : 2 + rng() % 4);
    for (Task& t : tasks) t.may_split = false, t.least_piece = 0, t.station.clear(), t.uses.clear();
    const int hands = 1 + k % 2;
    const Clock best = best_of_all_orders(tasks, windows, hands, 2);
    ASSERT_NE(best, kNoEnd);
    const auto s = lay_out(tasks, windows, Means{hands, 2, {}}).value();
    EXPECT_EQ(s.finish, best) << k;
    EXPECT_LE(s.bound, best) << k;
    several_days += best > kDay;
    proven += s.verdict == Verdict::found;
  }
  EXPECT_GT(several_days, 20);
  EXPECT_GT(proven, 40);
}

// Three hours that are not worth beginning for less than 70 minutes, evenings of two hours: after a full one only 60
// minutes would be left, so the first evening stops early.
TEST(LayOut, StretchesAreWorthBeginning) {
  std::vector<Task> tasks = {task("true the saw", 3 * kHour)};
  tasks[0].least_piece = 70 * 60;
  const auto s = lay_out(tasks, evenings(3), 0).value();
  ASSERT_EQ(s.work.size(), 2u);
  EXPECT_EQ(s.work[0].to - s.work[0].from, 110 * 60);
  EXPECT_EQ(s.work[1].to - s.work[1].from, 70 * 60);
  EXPECT_TRUE(check_schedule(s, tasks, evenings(3), 0));
  tasks[0].least_piece = 100 * 60;  // twice that is more than there is to do, and three hours do not fit an evening
  EXPECT_EQ(lay_out(tasks, evenings(3), 0).problem().code, "task_too_long");
}

// Two coats on a rack that takes one puzzle, dry after a day: the second goes on the next evening.
TEST(LayOut, AStationTakesOneTaskUntilItHasDried) {
  std::vector<Task> tasks = {task("coat a", kHour / 2), task("coat b", kHour / 2)};
  for (Task& t : tasks) t.station = "finishing rack", t.stays = 20 * kHour;
  const auto s = lay_out(tasks, evenings(3), 0).value();
  EXPECT_EQ(s.finish, kDay + 19 * kHour + kHour / 2);
  EXPECT_TRUE(check_schedule(s, tasks, evenings(3), 0));
  tasks[1].station = "window sill";
  EXPECT_EQ(lay_out(tasks, evenings(3), 0).value().finish, 20 * kHour);
}

TEST(LayOut, TwoPairsOfHandsHalveTheWorkButNotAChain) {
  const std::vector<Task> apart = {task("a", kHour), task("b", kHour)},
                          chain = {task("a", kHour), task("b", kHour, {{0, 0}})};
  EXPECT_EQ(lay_out(apart, evenings(2), Means{2, 0, {}}).value().finish, 20 * kHour);
  EXPECT_EQ(lay_out(chain, evenings(2), Means{2, 0, {}}).value().finish, 21 * kHour);
  const auto s = lay_out(apart, evenings(2), Means{2, 0, {}}).value();
  EXPECT_EQ(s.verdict, Verdict::found);
  EXPECT_TRUE(check_schedule(s, apart, evenings(2), Means{2, 0, {}}));
  EXPECT_FALSE(check_schedule(s, apart, evenings(2), Means{1, 0, {}}));
}

// PSPLIB j301_1 (R. Kolisch, A. Sprecher, 1996): 30 tasks, four means of 12, 13, 3 and 4; optimum 43, longest chain 38.
// As many hands as tasks, so that only the means bind.
struct Activity {
  int hours, means, amount;
  std::vector<int> followers;
};
const std::vector<Activity> kJ301 = {
    {8, 1, 4, {6, 11, 15}}, {4, 1, 10, {7, 8, 13}},  {6, 4, 3, {5, 9, 10}}, {3, 1, 3, {20}},      {8, 4, 8, {30}},
    {5, 1, 4, {27}},        {9, 2, 1, {12, 19, 27}}, {2, 1, 6, {14}},       {7, 4, 1, {16, 25}},  {9, 2, 5, {20, 26}},
    {2, 2, 7, {14}},        {6, 1, 4, {17, 18}},     {3, 2, 8, {17}},       {9, 1, 3, {25}},      {10, 4, 5, {21, 22}},
    {6, 4, 8, {22}},        {5, 4, 7, {20, 22}},     {3, 2, 1, {24, 29}},   {7, 2, 10, {23, 25}}, {2, 4, 6, {28}},
    {7, 1, 2, {23}},        {2, 1, 3, {24}},         {3, 2, 9, {30}},       {3, 1, 4, {30}},      {7, 3, 4, {31}},
    {8, 4, 7, {28}},        {3, 2, 8, {31}},         {7, 2, 7, {32}},       {2, 2, 7, {32}},      {2, 3, 2, {32}}};

std::vector<Task> j301_tasks() {
  std::vector<Task> tasks;
  for (const Activity& a : kJ301) {
    tasks.push_back(task("activity", a.hours * kHour));
    tasks.back().may_split = false;
    tasks.back().uses = {{a.means - 1, a.amount, 0}};
  }
  for (std::size_t i = 0; i < kJ301.size(); ++i)
    for (int f : kJ301[i].followers)
      if (f < 32) tasks[static_cast<std::size_t>(f) - 2].after.push_back({static_cast<int>(i), 0});
  return tasks;
}

TEST(LayOut, PsplibJ301_1Takes43AndItsLongestChain38) {
  const std::vector<Task> tasks = j301_tasks();
  const std::vector<Window> always = {{0, 1000 * kHour}};
  const Means means{30, 0, {12, 13, 4, 12}};
  const auto s = lay_out(tasks, always, means).value();
  EXPECT_TRUE(check_schedule(s, tasks, always, means));
  EXPECT_EQ(bound_finish(tasks, always, means).chain, 38 * kHour);
  EXPECT_EQ(s.finish, 43 * kHour);
  EXPECT_LE(s.bound, 43 * kHour);
  RecordProperty("bound_hours", static_cast<int>(s.bound / kHour));
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
  wrong = good;
  wrong.finish -= 60;
  EXPECT_FALSE(check_schedule(wrong, tasks, evenings(2), 1));
  wrong = good;
  wrong.work[0].hand = 1;  // somebody who is not there
  EXPECT_FALSE(check_schedule(wrong, tasks, evenings(2), 1));
  auto split = std::vector<Task>{task("a", kHour)};
  auto in_two = lay_out(split, evenings(2), 1).value();
  in_two.work = {{0, 19 * kHour, 19 * kHour + 600}, {0, 20 * kHour, 20 * kHour + 3000}};
  in_two.finish = in_two.work[1].to;
  EXPECT_TRUE(check_schedule(in_two, split, evenings(2), 1));
  split[0].least_piece = 1200;  // ten minutes are not worth beginning
  EXPECT_FALSE(check_schedule(in_two, split, evenings(2), 1));
  split[0].may_split = false;
  EXPECT_FALSE(check_schedule(in_two, split, evenings(2), 1));
}

}  // namespace
}  // namespace stickwright
