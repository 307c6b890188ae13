#include "metrology/stack.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "metrology/brute_force.h"

namespace stickwright {
namespace {

Nm nominal(std::string_view text) {
  return parse_nominal(text).value();
}

GaugeSet standard(std::string_view name) {
  return standard_gauge_set(name, name.starts_with("mm") ? "1" : "AS-1").take();
}

GaugeSet custom(const std::vector<std::string_view>& sizes) {
  std::vector<Nm> nm;
  for (const std::string_view s : sizes) nm.push_back(nominal(s));
  return custom_gauge_set(nm, "1").take();
}

std::string code_of(const Result<Stack>& r) {
  return r ? "none" : r.problem().code;
}

// NPL, "How do I select gauge blocks", 2007/2010, prints five: 1.005 + 1.04 + 1.30 + 5 + 50. Four do.
TEST(BuildStack, Npl58_345FromMm112TakesFourNotThePublishedFive) {
  const GaugeSet set = standard("mm 112");
  const Nm target = nominal("58.345 mm");
  const Stack s = build_stack(target, Nm{0}, set).take();
  EXPECT_EQ(s.blocks.size(), 4u);
  EXPECT_EQ(s.total, target);
  EXPECT_TRUE(check_stack(s, target, Nm{0}, set));
}

// A published selection guide: .1002 + .126 + .750 + 3.000.
TEST(BuildStack, SelectionGuide3_9762FromInch81TakesFour) {
  const GaugeSet set = standard("inch 81");
  const Nm target = nominal("3.9762 in");
  const Stack s = build_stack(target, Nm{0}, set).take();
  EXPECT_EQ(s.blocks.size(), 4u);
  EXPECT_TRUE(check_stack(s, target, Nm{0}, set));
}

// Worked out by exhausting the set: .1002 + .106 + .170 + .100 + .500 + 1 + 2, none with six or fewer.
TEST(BuildStack, InchSet36Needs7For3_9762) {
  const GaugeSet set = standard("inch 36");
  const Stack s = build_stack(nominal("3.9762 in"), Nm{0}, set).take();
  EXPECT_EQ(s.blocks.size(), 7u);
  EXPECT_TRUE(check_stack(s, nominal("3.9762 in"), Nm{0}, set));
}

TEST(BuildStack, LargestFirstWouldTakeMore) {
  const GaugeSet set = custom({"1 mm", "2 mm", "9 mm", "6 mm", "5.5 mm", "6.5 mm"});
  // Largest first: 9 + 2 + 1. Fewest: 5.5 + 6.5.
  EXPECT_EQ(build_stack(nominal("12 mm"), Nm{0}, set).value().blocks, (std::vector<std::size_t>{4, 5}));
}

TEST(BuildStack, OfEqualPartsTheOneOfSmallerToleranceThoughLaterInTheSet) {
  // 100 + 50 + 17, in which 12 + 5 permits 0.30 + 0.20 um and 8 + 9 only 0.20 + 0.20 (ISO 3650 grade 1).
  const GaugeSet set = custom({"100 mm", "50 mm", "12 mm", "5 mm", "8 mm", "9 mm"});
  EXPECT_EQ(build_stack(nominal("167 mm"), Nm{0}, set).value().blocks, (std::vector<std::size_t>{0, 1, 4, 5}));
}

TEST(BuildStack, FewestComesBeforeExact) {
  const GaugeSet set = custom({"4 mm", "6 mm", "10.001 mm"});
  EXPECT_EQ(build_stack(nominal("10 mm"), nominal("1 um"), set).value().blocks, (std::vector<std::size_t>{2}));
  EXPECT_EQ(build_stack(nominal("10 mm"), nominal("0.999 um"), set).value().blocks, (std::vector<std::size_t>{0, 1}));
}

TEST(BuildStack, SmallerToleranceComesBeforeExact) {
  // 12 + 5 permits 0.30 + 0.20 um, 8 + 9.001 only 0.20 + 0.20 (ISO 3650 grade 1).
  const GaugeSet set = custom({"12 mm", "5 mm", "8 mm", "9.001 mm"});
  EXPECT_EQ(build_stack(nominal("17 mm"), nominal("1 um"), set).value().blocks, (std::vector<std::size_t>{2, 3}));
}

TEST(BuildStack, OfEqualStacksTheFirstInSetOrder) {
  const GaugeSet set = custom({"7 mm", "6 mm", "2 mm", "3 mm", "3 mm"});
  EXPECT_EQ(build_stack(nominal("9 mm"), Nm{0}, set).value().blocks, (std::vector<std::size_t>{0, 2}));
}

TEST(BuildStack, SameAsEverySubsetTriedOn600RandomSets) {
  std::mt19937 random(7);
  int found = 0, deep = 0;
  for (int round = 0; round < 600; ++round) {
    const GaugeSet set = brute::random_set(random, 1 + random() % 12, 30);
    const Nm target{1 + static_cast<std::int64_t>(random() % 120'000'000)};
    const Nm within{static_cast<std::int64_t>(random() % 900'000)};
    const auto best = brute::best_stack(target, within, set);
    const auto stack = build_stack(target, within, set);
    ASSERT_EQ(bool(stack), best.has_value()) << "round " << round;
    if (!stack) {
      EXPECT_EQ(stack.problem().code, "no_stack");
      continue;
    }
    EXPECT_EQ(stack.value().blocks, std::get<3>(*best)) << "round " << round;
    EXPECT_TRUE(check_stack(stack.value(), target, within, set)) << "round " << round;
    ++found;
    deep += stack.value().blocks.size() >= 5;
  }
  EXPECT_GT(found, 200);
  EXPECT_GT(deep, 20);  // or the draw would not reach the high counts
}

// Sizes from a fine grid, so that only many blocks together meet the target: counts up to eight.
TEST(BuildStack, SameAsEverySubsetTriedOnSmallBlocksAndHighCounts) {
  std::mt19937 random(11);
  std::vector<int> by_count(9);
  for (int round = 0; round < 120; ++round) {
    std::vector<Nm> sizes;
    for (int i = 0; i < 12; ++i) sizes.push_back(Nm{9'500'000 + 1'000 * static_cast<std::int64_t>(random() % 1000)});
    const GaugeSet set = custom_gauge_set(sizes, "1").take();
    const Nm target{9'750'000 * static_cast<std::int64_t>(1 + random() % 8)}, within{20'000};
    const auto best = brute::best_stack(target, within, set);
    const auto stack = build_stack(target, within, set);
    ASSERT_EQ(bool(stack), best.has_value()) << "round " << round;
    if (!stack) continue;
    EXPECT_EQ(stack.value().blocks, std::get<3>(*best)) << "round " << round;
    ++by_count[stack.value().blocks.size()];
  }
  for (std::size_t k : {2u, 4u, 6u, 7u, 8u}) EXPECT_GT(by_count[k], 0) << k;
}

TEST(BuildStack, EveryAnswerForIrrationalTargetsPassesTheCheck) {
  for (const std::string_view name : {"mm 32", "mm 47 (a)", "mm 88", "mm 112", "mm 122", "inch 36", "inch 81"}) {
    const GaugeSet set = standard(name);
    const Nm within{finest_step(set).v / 2 + 1};
    for (int stick_mm = 10; stick_mm <= 30; ++stick_mm) {
      const Nm target = to_nm(Mm{stick_mm * std::sqrt(2.0)});
      const auto stack = build_stack(target, within, set);
      ASSERT_TRUE(stack) << name << " " << stick_mm;
      EXPECT_TRUE(check_stack(stack.value(), target, within, set)) << name << " " << stick_mm;
    }
  }
}

TEST(BuildStack, UncertaintyIsRectangularPerBlock) {
  const Stack s = build_stack(nominal("33 mm"), Nm{0}, custom({"3 mm", "30 mm"})).take();
  EXPECT_EQ(s.tolerance, Nm{600});  // 200 + 400 nm
  // JCGM 100:2008, 4.3.7: half-width a, u = a / sqrt 3.
  EXPECT_NEAR(s.u_nm, std::sqrt((200.0 * 200.0 + 400.0 * 400.0) / 3), 1e-9);
}

TEST(BuildStack, NoStackSaysTheNeighbors) {
  const auto r = build_stack(nominal("10 mm"), nominal("0.1 mm"), custom({"3 mm", "4 mm", "5 mm"}));
  ASSERT_EQ(code_of(r), "no_stack");
  EXPECT_NE(r.problem().say.find("9 mm"), std::string::npos) << r.problem().say;
  EXPECT_NE(r.problem().say.find("12 mm"), std::string::npos) << r.problem().say;
}

TEST(BuildStack, NoStackBeyondTheLongestAndBelowTheShortest) {
  const auto longer = build_stack(nominal("13 mm"), Nm{0}, custom({"3 mm", "4 mm", "5 mm"}));
  ASSERT_EQ(code_of(longer), "no_stack");
  EXPECT_NE(longer.problem().say.find("longest stack of 3 blocks is 12 mm"), std::string::npos) << longer.problem().say;
  const auto shorter = build_stack(nominal("2 mm"), Nm{0}, custom({"3 mm", "4 mm", "5 mm"}));
  ASSERT_EQ(code_of(shorter), "no_stack");
  EXPECT_NE(shorter.problem().say.find("3 mm (0.11811 in) above"), std::string::npos) << shorter.problem().say;
}

TEST(BuildStack, NineBlocksAreNotTried) {
  const GaugeSet set = custom_gauge_set(std::vector<Nm>(9, Nm{1'000'000}), "1").take();
  EXPECT_EQ(build_stack(nominal("8 mm"), Nm{0}, set).value().blocks.size(), 8u);
  EXPECT_EQ(code_of(build_stack(nominal("9 mm"), Nm{0}, set)), "no_stack");
}

TEST(BuildStack, LimitReachedIsStoppedNotNone) {
  const GaugeSet set = standard("mm 112");
  EXPECT_EQ(code_of(build_stack(nominal("58.345 mm"), Nm{0}, set, {1000})), "stopped");
}

TEST(BuildStack, BadInputs) {
  const GaugeSet set = custom({"3 mm"});
  EXPECT_EQ(code_of(build_stack(Nm{0}, Nm{0}, set)), "bad_target");
  EXPECT_EQ(code_of(build_stack(Nm{-1}, Nm{0}, set)), "bad_target");
  EXPECT_EQ(code_of(build_stack(Nm{INT64_MAX}, Nm{0}, set)), "bad_target");
  EXPECT_EQ(code_of(build_stack(Nm{3'000'000}, Nm{-1}, set)), "bad_within");
  EXPECT_EQ(code_of(build_stack(Nm{3'000'000}, Nm{0}, GaugeSet{})), "bad_set");
  EXPECT_EQ(code_of(build_stack(Nm{3'000'000}, Nm{0}, GaugeSet{"", "", {{Nm{0}, Nm{1}}}})), "bad_set");
  EXPECT_EQ(code_of(build_stack(Nm{3'000'000}, Nm{0}, GaugeSet{"", "", {{Nm{3'000'000}, Nm{-1}}}})), "bad_set");
}

TEST(FinestStep, OfTheStandardSets) {
  EXPECT_EQ(finest_step(standard("mm 47 (a)")), nominal("0.005 mm"));
  EXPECT_EQ(finest_step(standard("mm 87")), nominal("0.001 mm"));
  EXPECT_EQ(finest_step(standard("mm 88")), nominal("0.0005 mm"));
  EXPECT_EQ(finest_step(standard("inch 81")), nominal("0.0001 in"));
  EXPECT_EQ(finest_step(standard("inch 28 thin")), nominal("0.00005 in"));
}

TEST(FinestStep, OfOddSets) {
  EXPECT_EQ(finest_step(GaugeSet{}), Nm{0});
  EXPECT_EQ(finest_step(custom({"5 mm"})), nominal("5 mm"));
  EXPECT_EQ(finest_step(custom({"7 mm", "11 mm"})), nominal("1 mm"));
}

TEST(CheckStack, RefusesWhatIsWrong) {
  const GaugeSet set = custom({"3 mm", "4 mm", "5 mm"});
  const Stack good = build_stack(nominal("7 mm"), Nm{0}, set).take();
  ASSERT_TRUE(check_stack(good, nominal("7 mm"), Nm{0}, set));
  const auto refuses = [&](auto change) {
    Stack bad = good;
    change(bad);
    return !check_stack(bad, nominal("7 mm"), Nm{0}, set);
  };
  EXPECT_TRUE(refuses([](Stack& s) { s.blocks = {1, 0}; }));
  EXPECT_TRUE(refuses([](Stack& s) { s.blocks = {0, 0}; }));
  EXPECT_TRUE(refuses([](Stack& s) { s.blocks = {0, 3}; }));
  EXPECT_TRUE(refuses([](Stack& s) { s.blocks = {0, 2}; }));
  EXPECT_TRUE(refuses([](Stack& s) { s.blocks.clear(); }));
  EXPECT_TRUE(refuses([](Stack& s) { s = Stack{}; }));
  EXPECT_TRUE(refuses([](Stack& s) { s.total.v += 1; }));
  EXPECT_TRUE(refuses([](Stack& s) { s.tolerance.v -= 1; }));
  EXPECT_TRUE(refuses([](Stack& s) { s.u_nm *= 1.001; }));
  EXPECT_TRUE(refuses([](Stack& s) { s.u_nm = NAN; }));
  EXPECT_FALSE(check_stack(good, nominal("7.001 mm"), nominal("0.999 um"), set));
  EXPECT_TRUE(check_stack(good, nominal("7.001 mm"), nominal("1 um"), set));
}

}  // namespace
}  // namespace stickwright
