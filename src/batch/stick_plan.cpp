#include "batch/stick_plan.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <stdexcept>

namespace stickwright {

bool fits_batch(const RackStick& r, const Batch& batch) {
  constexpr double kSameSectionMm = 0.05;  // a nominal section is rounded, no more
  return !r.section || std::abs(r.section->v - batch.stick.v) < kSameSectionMm;
}

namespace {

// Lengths are rounded up to whole micrometers, so that a plan on paper never asks for more than the stick holds.
Nm rounded_up(Mm length) {
  return Nm{static_cast<std::int64_t>(std::ceil(length.v * 1000 - 1e-6)) * 1000};
}

// Where the batch file first names a wood.
Place place_of_wood(const Batch& batch, const std::string& wood) {
  for (const PuzzleOrder& order : batch.puzzles) {
    for (const PieceWoods& w : order.woods)
      for (std::size_t i = 0; i < w.woods.size(); ++i)
        if (w.woods[i] == wood) return w.wood_at[i];
    for (const BlockWood& w : order.block_woods)
      if (w.wood == wood) return w.wood_at;
  }
  return batch.puzzles.front().woods_at;
}

std::map<std::string, std::vector<WantedPart>> parts_by_wood(const BatchPlan& plan) {
  std::map<std::string, std::vector<WantedPart>> parts;
  for (std::size_t k = 0; k < plan.set_ups.size(); ++k) {
    const SetUp& s = plan.set_ups[k];
    for (const auto& [wood, count] : s.needed)
      parts[wood].push_back({static_cast<int>(k), false, {rounded_up(s.stick_per_block), count + s.spares.at(wood)}});
    for (std::size_t t = s.stop_stands ? 1 : 0; t < s.tests.size(); ++t)
      for (const auto& [wood, count] : s.needed)
        if (s.tests[t].length.v > 0)
          parts[wood].push_back({static_cast<int>(k), true, {rounded_up(s.tests[t].length), 1}});
  }
  return parts;
}

Mm longest_stick(const Batch& batch) {
  Mm longest{0};
  for (const RackStick& r : batch.shop.rack) longest = std::max(longest, r.length);
  return longest;
}

std::vector<StickStock> stock_of(const Batch& batch, const std::string& wood) {
  std::map<Nm, int> by_length;
  for (const RackStick& r : batch.shop.rack)
    if (r.wood == wood && fits_batch(r, batch)) by_length[to_nm(r.length)] += r.count;
  std::vector<StickStock> stock;
  for (const auto& [length, count] : by_length) stock.push_back({length, count});
  return stock;
}

Problem placed(const BatchPlan& plan, const std::string& wood, const Problem& p) {
  if (p.code != "stick_too_short")
    return problem_at(*plan.batch.source, place_of_wood(plan.batch, wood), p.code, fmt::format("{}: {}", wood, p.say));
  for (const RackStick& r : plan.batch.shop.rack)
    if (r.wood == wood && fits_batch(r, plan.batch)) return problem_at(*plan.batch.shop.source, r.at, p.code, p.say);
  return p;
}

// Milled sticks are taken first.
int sticks_to_mill(const BatchPlan& plan, const WoodPlan& wood) {
  std::map<Nm, int> milled;
  for (const RackStick& r : plan.batch.shop.rack)
    if (r.wood == wood.wood && r.section && fits_batch(r, plan.batch)) milled[to_nm(r.length)] += r.count;
  int rough = 0;
  for (const CutStick& s : wood.plan.sticks) rough += --milled[s.length] < 0;
  return rough;
}

std::vector<Part> parts_of(const std::vector<WantedPart>& wanted) {
  std::vector<Part> parts;
  for (const WantedPart& w : wanted) parts.push_back(w.part);
  return parts;
}

Result<WoodPlan> plan_wood(const BatchPlan& plan, const CuttingRules& rules, const std::string& wood,
                           std::vector<WantedPart> wanted) {
  const auto stock = stock_of(plan.batch, wood);
  if (stock.empty())
    return placed(plan, wood,
                  {"no_sticks", "",
                   fmt::format("the rack holds no stick of this wood, rough or milled to {:.2f} mm. Add a [[rack]] "
                               "entry to the shop file.",
                               plan.batch.stick.v),
                   ""});
  const std::vector<Part> parts = parts_of(wanted);
  auto cut = plan_sticks(parts, stock, rules);
  if (!cut) return placed(plan, wood, cut.problem());
  if (!check_cut_plan(cut.value(), parts, stock, rules))
    throw std::logic_error("the independent checker refuses a cut plan");
  WoodPlan w{wood, std::move(wanted), cut.take(), 0};
  for (CutStick& s : w.plan.sticks) std::sort(s.parts.begin(), s.parts.end());  // in the order of the set-ups
  w.to_mill = sticks_to_mill(plan, w);
  return w;
}

}  // namespace

int StickPlan::used() const {
  int n = 0;
  for (const WoodPlan& w : woods) n += w.plan.used();
  return n;
}
int StickPlan::bound() const {
  int n = 0;
  for (const WoodPlan& w : woods) n += w.plan.bound;
  return n;
}
CuttingRules cutting_rules(const Batch& batch) {
  const Mm unit{unit_mm(batch.stick)};
  return {rounded_up(unit + std::numbers::sqrt2 * batch.shop.blade.kerf), rounded_up(unit + batch.shop.shortest_tail)};
}

std::vector<MissingSticks> missing_sticks(const BatchPlan& plan) {
  std::vector<MissingSticks> out;
  const CuttingRules rules = cutting_rules(plan.batch);
  for (const auto& [wood, wanted] : parts_by_wood(plan)) {
    std::vector<StickStock> stock = stock_of(plan.batch, wood);
    const std::vector<Part> parts = parts_of(wanted);
    if (!stock.empty() && plan_sticks(parts, stock, rules)) continue;
    if (stock.empty()) stock.push_back({to_nm(longest_stick(plan.batch)), 0});
    const StickStock there = stock.back();  // the longest
    stock.back().count.reset();
    const auto cut = there.length.v > 0 ? plan_sticks(parts, stock, rules) : Result<CutPlan>(Problem{});
    if (!cut) continue;
    const auto used = std::count_if(cut.value().sticks.begin(), cut.value().sticks.end(),
                                    [&](const CutStick& s) { return s.length == there.length; });
    out.push_back({wood, to_mm(there.length), static_cast<int>(used) - there.count.value_or(0)});
  }
  return out;
}

Result<StickPlan> plan_batch_sticks(const BatchPlan& plan) {
  StickPlan sticks{cutting_rules(plan.batch), {}};
  for (auto& [wood, parts] : parts_by_wood(plan)) {
    auto w = plan_wood(plan, sticks.rules, wood, std::move(parts));
    if (!w) return w.problem();
    sticks.woods.push_back(w.take());
  }
  return sticks;
}

}  // namespace stickwright
