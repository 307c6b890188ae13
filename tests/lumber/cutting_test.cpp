#include "lumber/cutting.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <random>

#include "lumber/patterns.h"

namespace stickwright {
namespace {

Nm mm(std::int64_t n) {
  return Nm{n * 1'000'000};
}

std::vector<Part> parts_of(const std::vector<std::pair<int, int>>& length_count) {
  std::vector<Part> parts;
  for (const auto& [length, count] : length_count) parts.push_back({mm(length), count});
  return parts;
}

int sticks_for(const std::vector<Part>& parts, int length) {
  const std::vector<StickStock> stock = {{mm(length), std::nullopt}};
  const auto plan = plan_sticks(parts, stock, {});
  EXPECT_TRUE(plan);
  EXPECT_TRUE(check_cut_plan(plan.value(), parts, stock, {}));
  EXPECT_EQ(plan.value().verdict, Verdict::found);
  EXPECT_EQ(plan.value().bound, plan.value().used());
  return plan.value().used();
}

// V. Chvatal, Linear Programming (1983), ch. 13: roll 100; optimum 453.
TEST(PlanSticks, ChvatalChapter13Takes453) {
  EXPECT_EQ(sticks_for(parts_of({{45, 97}, {36, 610}, {31, 395}, {14, 211}}), 100), 453);
}

// Encyclopedia example of the cutting-stock problem: master rolls of 5600, thirteen widths; optimum 73.
TEST(PlanSticks, ThirteenWidthsFromRollsOf5600Take73) {
  EXPECT_EQ(sticks_for(parts_of({{1380, 22},
                                 {1520, 25},
                                 {1560, 12},
                                 {1710, 14},
                                 {1820, 18},
                                 {1880, 18},
                                 {1930, 20},
                                 {2000, 10},
                                 {2050, 12},
                                 {2100, 14},
                                 {2140, 16},
                                 {2150, 18},
                                 {2200, 20}}),
                       5600),
            73);
}

// W. L. Winston, Operations Research (Woodco; data from memory): boards of 17 ft; optimum 19.
TEST(PlanSticks, WoodcoTakes19Boards) {
  EXPECT_EQ(sticks_for(parts_of({{3, 25}, {5, 20}, {9, 15}}), 17), 19);
}

// OR-Library binpack1, u120_00 (E. Falkenauer, 1994): capacity 150, best known 48, which is also the bound by material;
// first fit decreasing needs 49.
TEST(PlanSticks, FalkenauerU120_00Takes48) {
  std::vector<Part> parts;
  for (int w : {42, 69, 67, 57, 93, 90, 38, 36, 45, 42, 33, 79, 27, 57, 44, 84, 86, 92, 46, 38, 85, 33, 82, 73,
                49, 70, 59, 23, 57, 72, 74, 69, 33, 42, 28, 46, 30, 64, 29, 74, 41, 49, 55, 98, 80, 32, 25, 38,
                82, 30, 35, 39, 57, 84, 62, 50, 55, 27, 30, 36, 20, 78, 47, 26, 45, 41, 58, 98, 91, 96, 73, 84,
                37, 93, 91, 43, 73, 85, 81, 79, 71, 80, 76, 83, 41, 78, 70, 23, 42, 87, 43, 84, 60, 55, 49, 78,
                73, 62, 36, 44, 94, 69, 32, 96, 70, 84, 58, 78, 25, 80, 58, 66, 83, 24, 98, 60, 42, 43, 43, 39})
    parts.push_back({mm(w), 1});
  ASSERT_EQ(parts.size(), 120u);
  EXPECT_EQ(sticks_for(parts, 150), 48);
}

// Fewest sticks, then least length, by trying every assignment of parts to sticks.
std::pair<int, std::int64_t> brute_force(const std::vector<Part>& parts, const std::vector<StickStock>& stock,
                                         const CuttingRules& rules) {
  std::vector<std::int64_t> items;
  for (const Part& p : parts) items.insert(items.end(), static_cast<std::size_t>(p.count), p.length.v);
  std::vector<std::int64_t> lengths;
  for (const StickStock& s : stock)
    lengths.insert(lengths.end(), static_cast<std::size_t>(s.count.value_or(8)), s.length.v);
  std::vector<std::int64_t> room;
  for (std::int64_t l : lengths) room.push_back(l - rules.head.v - rules.tail.v);
  std::vector<int> load(lengths.size());
  std::pair<int, std::int64_t> best = {1000, 0};
  const std::function<void(std::size_t)> put = [&](std::size_t i) {
    if (i == items.size()) {
      std::pair<int, std::int64_t> now = {0, 0};
      for (std::size_t b = 0; b < load.size(); ++b)
        if (load[b] > 0) ++now.first, now.second += lengths[b];
      best = std::min(best, now);
      return;
    }
    for (std::size_t b = 0; b < room.size(); ++b) {
      if (room[b] < items[i]) continue;
      room[b] -= items[i], ++load[b];
      put(i + 1);
      room[b] += items[i], --load[b];
    }
  };
  put(0);
  return best;
}

TEST(PlanSticks, AgreesWithBruteForceOnSmallRacks) {
  std::mt19937 rng(5);
  int too_small = 0;
  for (int k = 0; k < 200; ++k) {
    std::vector<Part> parts;
    for (std::size_t i = 0, n = 1 + rng() % 3; i < n; ++i)
      parts.push_back({mm(10 + std::int64_t(rng() % 40)), 1 + int(rng() % 2)});
    std::vector<StickStock> stock = {{mm(60 + std::int64_t(rng() % 40)), 1 + int(rng() % 3)},
                                     {mm(101 + std::int64_t(rng() % 40)), int(rng() % 3)}};
    const CuttingRules rules{mm(std::int64_t(rng() % 4)), mm(std::int64_t(rng() % 6))};
    SCOPED_TRACE(k);
    const auto best = brute_force(parts, stock, rules);
    const auto plan = plan_sticks(parts, stock, rules);
    if (best.first == 1000) {
      ++too_small;
      ASSERT_FALSE(plan);
      EXPECT_TRUE(plan.problem().code == "not_enough_sticks" || plan.problem().code == "stick_too_short");
      continue;
    }
    ASSERT_TRUE(plan) << plan.problem().say;
    EXPECT_TRUE(check_cut_plan(plan.value(), parts, stock, rules));
    EXPECT_EQ(plan.value().used(), best.first);
    EXPECT_EQ(plan.value().verdict, Verdict::found);
    std::int64_t total = 0;
    for (const CutStick& s : plan.value().sticks) total += s.length.v;
    EXPECT_EQ(total, best.second);
  }
  EXPECT_GT(too_small, 5);
}

// The same racks with too few listed patterns: the bound stays true, and what is called proven is.
TEST(PlanSticks, WithoutTheFullListNoAnswerClaimsTooMuch) {
  std::mt19937 rng(11);
  int proven = 0, with_plan = 0;
  for (int k = 0; k < 200; ++k) {
    std::vector<Part> parts;
    for (std::size_t i = 0, n = 2 + rng() % 2; i < n; ++i)
      parts.push_back({mm(10 + std::int64_t(rng() % 40)), 1 + int(rng() % 2)});
    std::vector<StickStock> stock = {{mm(60 + std::int64_t(rng() % 20)), 2 + int(rng() % 2)},
                                     {mm(80 + std::int64_t(rng() % 30)), 1 + int(rng() % 2)}};
    SCOPED_TRACE(k);
    const auto best = brute_force(parts, stock, {});
    const auto plan = plan_sticks(parts, stock, {}, {.patterns = 0});
    if (best.first == 1000) {
      EXPECT_FALSE(plan);
      continue;
    }
    if (!plan) {
      EXPECT_EQ(plan.problem().say.find("which is not enough"), std::string::npos);
      continue;
    }
    ++with_plan;
    EXPECT_TRUE(check_cut_plan(plan.value(), parts, stock, {}));
    EXPECT_LE(plan.value().bound, best.first);
    EXPECT_GE(plan.value().used(), best.first);
    if (plan.value().verdict == Verdict::found) {
      ++proven;
      EXPECT_EQ(plan.value().used(), best.first);
    }
    EXPECT_FALSE(plan.value().is_shortest);
  }
  EXPECT_GT(proven, with_plan * 9 / 10);
}

// 100 lengths, 400 parts, three stick lengths: too many ways to fill a stick to list them all, and the bound by
// material is far off, as most parts leave no room for a second one.
TEST(PlanSticks, ManyLengthsAreBoundedByPrices) {
  std::mt19937 rng(7);
  std::vector<Part> parts;
  std::int64_t material = 0;
  for (int i = 0; i < 100; ++i) {
    parts.push_back({Nm{150'000'000 + 1000 * std::int64_t(rng() % 220'000)}, 4});
    material += 4 * parts.back().length.v;
  }
  const std::vector<StickStock> stock = {{mm(750), 66}, {mm(600), std::nullopt}, {mm(420), 5}};
  const CuttingRules rules{mm(16), mm(95)};
  const auto plan = plan_sticks(parts, stock, rules).value();
  EXPECT_TRUE(check_cut_plan(plan, parts, stock, rules));
  EXPECT_EQ(plan.verdict, Verdict::found);
  EXPECT_EQ(plan.bound, plan.used());
  EXPECT_GT(plan.bound, 66 + (material - 66 * mm(750 - 16 - 95).v) / mm(600 - 16 - 95).v + 5);
}

TEST(PlanSticks, PartsAreRoundedUpToWholeMicrometers) {
  const std::vector<Part> parts = {{Nm{33'333'333}, 3}};  // 99.999 999 mm, but 100.002 mm as rounded
  const std::vector<StickStock> stock = {{mm(100), 9}};
  const auto plan = plan_sticks(parts, stock, {}).value();
  EXPECT_EQ(plan.used(), 2);
  EXPECT_TRUE(check_cut_plan(plan, parts, stock, {}));
  EXPECT_EQ(plan_sticks(std::vector<Part>{{Nm{99'999'999}, 1}}, stock, {}).value().sticks[0].left, Nm{0});
  EXPECT_EQ(plan_sticks(std::vector<Part>{{Nm{100'000'001}, 1}}, stock, {}).problem().code, "stick_too_short");
}

// Three long sticks would do as well as two long and a short one.
TEST(PlanSticks, OfEquallyManySticksTheShortOnesAreTaken) {
  const std::vector<Part> parts = parts_of({{90, 2}, {40, 1}});
  const std::vector<StickStock> stock = {{mm(100), std::nullopt}, {mm(50), 1}};
  const auto plan = plan_sticks(parts, stock, {}).value();
  EXPECT_EQ(plan.used(), 3);
  EXPECT_TRUE(plan.is_shortest);
  EXPECT_EQ(std::count_if(plan.sticks.begin(), plan.sticks.end(), [](const CutStick& s) { return s.length == mm(50); }),
            1);
}

TEST(PlanSticks, RunsRepeatAndNothingIsPrinted) {
  const auto parts = parts_of({{45, 9}, {36, 7}, {31, 8}, {14, 5}});
  const std::vector<StickStock> stock = {{mm(100), 20}, {mm(80), 20}};
  testing::internal::CaptureStdout();
  const auto a = plan_sticks(parts, stock, {mm(1), mm(2)}).value(),
             b = plan_sticks(parts, stock, {mm(1), mm(2)}).value();
  EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
  ASSERT_EQ(a.used(), b.used());
  for (std::size_t i = 0; i < a.sticks.size(); ++i) EXPECT_EQ(a.sticks[i].parts, b.sticks[i].parts);
}

TEST(BestFilling, AgreesWithTryingAllFillings) {
  std::mt19937 rng(2);
  for (int k = 0; k < 300; ++k) {
    std::vector<Size> sizes;
    std::vector<std::int64_t> worth;
    for (int i = 0; i < 4; ++i)
      sizes.push_back({5 + std::int64_t(rng() % 30), 1 + int(rng() % 3), {}}),
          worth.push_back(std::int64_t(rng() % 50));
    const std::int64_t room = 20 + std::int64_t(rng() % 80);
    std::int64_t best = 0;
    for (int code = 0; code < 256; ++code) {
      std::int64_t length = 0, value = 0;
      bool in_demand = true;
      for (std::size_t i = 0; i < 4; ++i) {
        const int n = code >> (2 * i) & 3;
        in_demand &= n <= sizes[i].demand, length += n * sizes[i].length, value += n * worth[i];
      }
      if (in_demand && length <= room) best = std::max(best, value);
    }
    const Filling f = best_filling(sizes, worth, room);
    EXPECT_EQ(f.worth, best) << k;
    EXPECT_EQ(f.most, best) << k;
  }
}

TEST(PlanSticks, BeyondTheLimitsTheBoundIsPrintedAndTheAnswerIsStopped) {
  const auto parts = parts_of({{45, 9}, {36, 7}, {31, 8}, {14, 5}});
  const std::vector<StickStock> stock = {{mm(100), 99}};
  const auto plan = plan_sticks(parts, stock, {}, {.patterns = 1, .nodes = 1});
  ASSERT_TRUE(plan);
  EXPECT_TRUE(check_cut_plan(plan.value(), parts, stock, {}));
  EXPECT_EQ(plan.value().verdict, plan.value().used() > plan.value().bound ? Verdict::stopped : Verdict::found);
}

TEST(PlanSticks, BadInputAndShortSticksAreTold) {
  const std::vector<StickStock> stock = {{mm(100), 3}};
  EXPECT_EQ(plan_sticks(std::vector<Part>{{mm(0), 1}}, stock, {}).problem().code, "bad_part");
  EXPECT_EQ(plan_sticks(std::vector<Part>{{mm(5), -1}}, stock, {}).problem().code, "bad_part");
  EXPECT_EQ(plan_sticks(parts_of({{5, 1}}), std::vector<StickStock>{{mm(-1), 1}}, {}).problem().code, "bad_stock");
  const auto too_long = plan_sticks(parts_of({{90, 1}}), stock, {mm(6), mm(5)});
  EXPECT_EQ(too_long.problem().code, "stick_too_short");
  EXPECT_NE(too_long.problem().say.find("101.0 mm"), std::string::npos) << too_long.problem().say;
  EXPECT_EQ(plan_sticks(parts_of({{60, 4}}), stock, {}).problem().code, "not_enough_sticks");
  EXPECT_EQ(plan_sticks({}, stock, {}).value().used(), 0);
}

TEST(CheckCutPlan, RefusesWrongPlans) {
  const auto parts = parts_of({{30, 3}});
  const std::vector<StickStock> stock = {{mm(70), 2}};
  const CutPlan good = plan_sticks(parts, stock, {}).value();
  CutPlan wrong = good;
  wrong.sticks[0].parts.pop_back();
  EXPECT_FALSE(check_cut_plan(wrong, parts, stock, {}));
  wrong = good;
  wrong.sticks[0].parts.push_back(0);
  EXPECT_FALSE(check_cut_plan(wrong, parts, stock, {}));
  wrong = good;
  wrong.sticks.push_back(wrong.sticks[0]);
  EXPECT_FALSE(check_cut_plan(wrong, parts, stock, {}));
  wrong = good;
  wrong.sticks[0].left = mm(11);
  EXPECT_FALSE(check_cut_plan(wrong, parts, stock, {}));
  wrong = good;
  wrong.sticks[0].length = mm(71);  // not on the rack
  EXPECT_FALSE(check_cut_plan(wrong, parts, stock, {}));
  wrong = good;
  wrong.bound = wrong.used() + 1;
  EXPECT_FALSE(check_cut_plan(wrong, parts, stock, {}));
  EXPECT_FALSE(check_cut_plan(good, parts, std::vector<StickStock>{{mm(70), 1}}, {}));
  EXPECT_FALSE(check_cut_plan(good, parts, stock, {mm(0), mm(20)}));  // a tail of 10 is left, 20 are asked
  const auto mixed = parts_of({{20, 2}, {10, 1}});
  CutPlan apart;
  apart.sticks = {{mm(70), {0, 1, 0}, mm(20)}};  // equal ones not together
  EXPECT_FALSE(check_cut_plan(apart, mixed, stock, {}));
  apart.sticks[0].parts = {0, 0, 1};
  EXPECT_TRUE(check_cut_plan(apart, mixed, stock, {}));
}

}  // namespace
}  // namespace stickwright
