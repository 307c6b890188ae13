#include "metrology/stack_budget.h"

#include <gtest/gtest.h>

#include <cmath>

namespace stickwright {
namespace {

Nm nominal(std::string_view text) {
  return parse_nominal(text).value();
}

Estimate celsius(double value, double u) {
  return {value, u, Spread::normal, std::numeric_limits<double>::infinity(), "thermometer"};
}

Budget budget_of(const StackLength& length) {
  return make_budget({"stack", "mm", length.value_mm, 0.95}, length.lines);
}

Stack stack_of(std::string_view target, const GaugeSet& set) {
  return build_stack(nominal(target), Nm{0}, set).take();
}

// ISO 3650 from memory: 100 mm of steel, 5 K warmer, are 5.75 um longer.
TEST(StackBudget, AWarmStackIsLonger) {
  const GaugeSet set = standard_gauge_set("mm 88", "1").take();
  EXPECT_NEAR(stack_budget(stack_of("100 mm", set), set, celsius(25, 0)).value_mm, 100.00575, 1e-12);
  EXPECT_EQ(stack_budget(stack_of("100 mm", set), set, celsius(20, 1)).value_mm, 100);
}

// At 20 degrees exactly and with one block only the tolerance is left, which is what the stack itself states.
TEST(StackBudget, BlocksAloneAgreeWithTheStack) {
  const GaugeSet set = standard_gauge_set("mm 88", "1").take();
  for (const auto* target : {"58.345 mm", "100 mm", "2.004 mm"}) {
    const Stack stack = stack_of(target, set);
    const Budget b = budget_of(stack_budget(stack, set, celsius(20, 0)));
    const double joints = static_cast<double>(stack.blocks.size() - 1) * 25.0 * 25.0 / 3;
    EXPECT_NEAR(b.u * 1e6, std::sqrt(stack.u_nm * stack.u_nm + joints), 1e-6) << target;
  }
}

// By hand, 100 mm of grade 1 (0.6 um) at (23 +- 1) degrees: 0.346 um; 1.15 um of the temperature; 0.173 um of the
// coefficient, 0.058 um of both.
TEST(StackBudget, LineByLine) {
  const GaugeSet set = standard_gauge_set("mm 88", "1").take();
  const Budget b = budget_of(stack_budget(stack_of("100 mm", set), set, celsius(23, 1)));
  ASSERT_EQ(b.lines.size(), 4u);
  EXPECT_NEAR(b.lines[0].contribution * 1e3, 0.6 / std::sqrt(3.0), 1e-9);
  EXPECT_NEAR(b.lines[1].contribution * 1e3, 1.15, 1e-9);
  EXPECT_NEAR(b.lines[2].contribution * 1e3, 0.3 / std::sqrt(3.0), 1e-9);
  EXPECT_NEAR(b.lines[3].contribution * 1e3, 0.1 / std::sqrt(3.0), 1e-9);
  EXPECT_EQ(b.lines[0].name, "block 100 mm");
}

TEST(WithWorn, TheMeasuredLengthIsTheSize) {
  const GaugeSet sound = standard_gauge_set("mm 88", "1").take();
  const std::vector<WornBlock> worn = {{nominal("1.01 mm"), nominal("1.0093 mm"), Nm{500}}};
  const GaugeSet set = with_worn(sound, worn).take();
  EXPECT_EQ(set.blocks.size(), sound.blocks.size());
  EXPECT_EQ(set.name, "mm 88, 1 worn");
  // 101.01 mm was 100 + 1.01; with the worn block it takes another way, and 101.0093 mm is what the two make now.
  const Stack now = stack_of("101.0093 mm", set);
  EXPECT_EQ(now.total, nominal("101.0093 mm"));
  EXPECT_EQ(now.tolerance, Nm{500 + 600});
  EXPECT_TRUE(check_stack(now, nominal("101.0093 mm"), Nm{0}, set));
  EXPECT_FALSE(check_stack(now, nominal("101.01 mm"), Nm{0}, set));
  const StackLength length = stack_budget(now, set, celsius(20, 0));
  EXPECT_EQ(length.lines[0].name, "block 1.01 mm");
  EXPECT_EQ(length.lines[0].input.source, "as measured by the shop");
  EXPECT_EQ(finest_step(as_engraved(set)), finest_step(sound));
}

TEST(WithWorn, WhatCannotBeIsNamed) {
  const GaugeSet set = standard_gauge_set("mm 88", "1").take();
  const auto code = [&](Nm size, Nm is, Nm give_or_take = Nm{0}) {
    return with_worn(set, std::vector<WornBlock>{{size, is, give_or_take}}).problem().code;
  };
  EXPECT_EQ(code(nominal("1.7 mm"), nominal("1.7 mm")), "no_such_block");
  EXPECT_EQ(code(nominal("1.01 mm"), nominal("1.10 mm")), "bad_worn_block");
  EXPECT_EQ(code(nominal("1.01 mm"), nominal("1.01 mm"), Nm{-1}), "bad_worn_block");
  const std::vector<WornBlock> twice(2, {nominal("1.01 mm"), nominal("1.0093 mm"), Nm{0}});
  EXPECT_EQ(with_worn(set, twice).problem().code, "no_such_block");
}

}  // namespace
}  // namespace stickwright
