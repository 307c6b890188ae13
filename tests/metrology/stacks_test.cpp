#include <gtest/gtest.h>

#include <random>

#include "metrology/brute_force.h"
#include "metrology/stack.h"

namespace stickwright {
namespace {

Nm nominal(std::string_view text) {
  return parse_nominal(text).value();
}

std::vector<Nm> nominals(const std::vector<std::string_view>& sizes) {
  std::vector<Nm> nm;
  for (const std::string_view s : sizes) nm.push_back(nominal(s));
  return nm;
}

GaugeSet custom(const std::vector<std::string_view>& sizes) {
  return custom_gauge_set(nominals(sizes), "1").take();
}

using Stacks = Result<std::vector<Stack>>;
std::string code_of(const Stacks& r) {
  return r ? "none" : r.problem().code;
}

// Counts of rounds, so that a draw in which nothing happens is seen.
struct Tally {
  int found = 0, clashed = 0, dearer = 0;
};

void compare(const std::vector<Nm>& targets, Nm within, const GaugeSet& set, Tally& tally) {
  const auto best = brute::best_stacks(targets, within, set);
  const auto stacks = build_stacks(targets, within, set);
  ASSERT_EQ(bool(stacks), best.has_value());
  std::size_t alone = 0;
  bool each_alone = true;
  for (const Nm t : targets) {
    const auto one = brute::best_stack(t, within, set);
    each_alone = each_alone && one;
    if (one) alone += std::get<0>(*one);
  }
  if (!stacks) {
    EXPECT_EQ(stacks.problem().code, each_alone ? "no_stacks" : "no_stack");
    tally.clashed += each_alone;
    return;
  }
  for (std::size_t i = 0; i < targets.size(); ++i)
    EXPECT_EQ(stacks.value()[i].blocks, std::get<3>(std::get<3>(*best)[i]));
  EXPECT_TRUE(check_stacks(stacks.value(), targets, within, set));
  ++tally.found;
  tally.dearer += std::get<0>(*best) > alone;
}

Tally compare_rounds(unsigned seed, int rounds, std::size_t count, std::size_t blocks, std::int64_t longest_nm) {
  std::mt19937 random(seed);
  Tally tally;
  for (int round = 0; round < rounds; ++round) {
    SCOPED_TRACE(round);
    const GaugeSet set = brute::random_set(random, blocks, 12);
    std::vector<Nm> targets;
    for (std::size_t i = 0; i < count; ++i) targets.push_back(Nm{1 + static_cast<std::int64_t>(random()) % longest_nm});
    compare(targets, Nm{static_cast<std::int64_t>(random() % 400'000)}, set, tally);
    if (testing::Test::HasFatalFailure()) break;
  }
  return tally;
}

TEST(BuildStacks, TwoTargetsSameAsEveryChoiceTried) {
  const Tally t = compare_rounds(13, 300, 2, 10, 30'000'000);
  EXPECT_GT(t.found, 80);
  EXPECT_GT(t.clashed, 5);
  EXPECT_GT(t.dearer, 20);
}

TEST(BuildStacks, ThreeTargetsSameAsEveryChoiceTried) {
  const Tally t = compare_rounds(17, 250, 3, 10, 22'000'000);
  EXPECT_GT(t.found, 10);
  EXPECT_GT(t.clashed, 5);
  EXPECT_GT(t.dearer, 5);
}

TEST(BuildStacks, ThreeStacksAtOnceFromMm88) {
  const GaugeSet set = standard_gauge_set("mm 88", "1").take();
  // 2u for sticks of 12, 16 and 20 mm, in which u = s / sqrt 2.
  const std::vector<Nm> targets = {to_nm(Mm{16.970563}), to_nm(Mm{22.627417}), to_nm(Mm{28.284271})};
  const auto stacks = build_stacks(targets, nominal("1 um"), set);
  ASSERT_TRUE(stacks);
  EXPECT_TRUE(check_stacks(stacks.value(), targets, nominal("1 um"), set));
}

TEST(BuildStacks, TheSameTargetTwiceTakesDifferentBlocks) {
  const GaugeSet set = custom({"9 mm", "4 mm", "5 mm"});
  const auto stacks = build_stacks(nominals({"9 mm", "9 mm"}), Nm{0}, set);
  ASSERT_TRUE(stacks);
  EXPECT_EQ(stacks.value()[0].blocks, (std::vector<std::size_t>{0}));
  EXPECT_EQ(stacks.value()[1].blocks, (std::vector<std::size_t>{1, 2}));
}

TEST(BuildStacks, TheBlockTheyFightOverIsNamed) {
  // Only 1.0005 mm ends on half a micrometer.
  const GaugeSet set = standard_gauge_set("mm 88", "1").take();
  const auto stacks = build_stacks(nominals({"20.0005 mm", "30.5 mm", "40.0005 mm"}), Nm{0}, set);
  ASSERT_EQ(code_of(stacks), "no_stacks");
  EXPECT_NE(stacks.problem().say.find("Stacks 1 and 3 each need the block of 1.0005 mm"), std::string::npos)
      << stacks.problem().say;
}

TEST(BuildStacks, NotTogetherWithoutOneSharedBlock) {
  // 9 = 4 + 5, so no block is indispensable, but a third nine cannot be made.
  const GaugeSet set = custom({"9 mm", "4 mm", "5 mm", "6 mm"});
  const auto stacks = build_stacks(nominals({"9 mm", "9 mm", "9 mm"}), Nm{0}, set);
  ASSERT_EQ(code_of(stacks), "no_stacks");
  EXPECT_NE(stacks.problem().say.find("second set"), std::string::npos);
}

TEST(BuildStacks, ATargetThatIsImpossibleAloneIsNamed) {
  const auto stacks = build_stacks(nominals({"9 mm", "2 mm"}), Nm{0}, custom({"9 mm", "4 mm"}));
  ASSERT_EQ(code_of(stacks), "no_stack");
  EXPECT_EQ(stacks.problem().where, "targets[1]");
}

TEST(BuildStacks, OneTargetIsBuildStack) {
  const GaugeSet set = standard_gauge_set("mm 47 (a)", "1").take();
  const std::vector<Nm> targets = {nominal("33.94 mm")};
  EXPECT_EQ(build_stacks(targets, nominal("2 um"), set).value()[0],
            build_stack(targets[0], nominal("2 um"), set).value());
}

TEST(BuildStacks, LimitReachedIsStoppedAndBadInputsAreNamed) {
  const GaugeSet set = standard_gauge_set("mm 88", "1").take();
  EXPECT_EQ(code_of(build_stacks(nominals({"33.941 mm", "33.941 mm"}), Nm{0}, set, {5000})), "stopped");
  EXPECT_EQ(code_of(build_stacks({}, Nm{0}, set)), "bad_targets");
  EXPECT_EQ(code_of(build_stacks(std::vector<Nm>(9, Nm{5'000'000}), Nm{0}, set)), "bad_targets");
  EXPECT_EQ(code_of(build_stacks(nominals({"0 mm"}), Nm{0}, set)), "bad_target");
}

TEST(CheckStacks, RefusesABlockInTwoStacksAndAMissingStack) {
  const GaugeSet set = custom({"9 mm", "4 mm", "5 mm"});
  const auto nine = build_stack(nominal("9 mm"), Nm{0}, set).take();
  const std::vector<Stack> twice = {nine, nine};
  EXPECT_FALSE(check_stacks(twice, nominals({"9 mm", "9 mm"}), Nm{0}, set));
  EXPECT_FALSE(check_stacks(twice, nominals({"9 mm"}), Nm{0}, set));
  const std::vector<Stack> apart = build_stacks(nominals({"9 mm", "9 mm"}), Nm{0}, set).take();
  EXPECT_TRUE(check_stacks(apart, nominals({"9 mm", "9 mm"}), Nm{0}, set));
  EXPECT_FALSE(check_stacks(apart, nominals({"9 mm", "8 mm"}), Nm{0}, set));
}

}  // namespace
}  // namespace stickwright
