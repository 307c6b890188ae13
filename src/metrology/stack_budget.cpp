#include "metrology/stack_budget.h"

#include <fmt/format.h>

#include <cmath>

namespace stickwright {
namespace {

constexpr double kMmPerUm = 1e-3;

BudgetInput block_line(const GaugeBlock& block, const std::string& grade) {
  const bool worn = block.engraved.v > 0;
  const double tolerance_um = static_cast<double>(block.tolerance.v) / 1e3;
  const std::string source = worn ? "as measured by the shop" : "tolerance of grade " + grade;
  return {"block " + fmt::format("{:g} mm", to_mm(engraved(block)).v), "um",
          within(0, tolerance_um, Spread::rectangular, source), kMmPerUm};
}

BudgetInput joints_line(std::size_t joints) {
  Estimate all = within(0, kWringingUm, Spread::rectangular, "common practice");
  all.u *= std::sqrt(static_cast<double>(joints));
  if (joints > 1) all.spread = Spread::normal;
  return {fmt::format("{} wrung joint{}", joints, joints == 1 ? "" : "s"), "um", all, kMmPerUm};
}

}  // namespace

StackLength stack_budget(const Stack& stack, const GaugeSet& set, const Estimate& celsius) {
  StackLength out;
  const double length = to_mm(stack.total).v, warmer = celsius.value - kReferenceCelsius;
  out.value_mm = length * (1 + kBlockExpansion * warmer);
  for (const std::size_t i : stack.blocks) out.lines.push_back(block_line(set.blocks[i], set.grade));
  if (stack.blocks.size() > 1) out.lines.push_back(joints_line(stack.blocks.size() - 1));
  const BudgetInput temperature{"temperature", "degC", celsius, length * kBlockExpansion};
  const BudgetInput expansion{
      "expansion", "/K",
      within(kBlockExpansion, kBlockExpansionHalfWidth, Spread::rectangular, "ISO 3650, from memory"), length * warmer};
  out.lines.push_back(temperature);
  out.lines.push_back(expansion);
  out.lines.push_back(product_term(temperature, expansion, length));
  return out;
}

}  // namespace stickwright
