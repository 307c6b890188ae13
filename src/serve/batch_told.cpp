#include "serve/batch_told.h"

#include <fmt/core.h>

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json pieces_json(const PuzzlePlan& p) {
  Json out = Json::array();
  for (std::size_t i = 0; i < p.design.made.size(); ++i)
    out.push_back({{"name", p.design.made[i].name}, {"copies", p.design.made[i].copies}, {"woods", p.wood_of[i]}});
  return out;
}

Json puzzles_json(const BatchPlan& plan) {
  Json out = Json::array();
  for (const PuzzlePlan& p : plan.puzzles)
    out.push_back({{"name", p.design.design.name},
                   {"copies", p.copies},
                   {"pieces", pieces_json(p)},
                   {"like_wood_contacts", p.like_wood_contacts}});
  return out;
}

Json blocks_json(const BatchPlan& plan) {
  Json out = Json::array();
  for (std::size_t k = 0; k < plan.set_ups.size(); ++k) {
    const SetUp& s = plan.set_ups[k];
    Json woods = Json::array();
    for (const auto& [wood, needed] : s.needed)
      woods.push_back({{"wood", wood}, {"needed", needed}, {"spares", s.spares.at(wood)}});
    out.push_back({{"number", k + 1},
                   {"set_up", set_up_id(plan, s)},
                   {"name", plan.split.shapes[static_cast<std::size_t>(s.shape)].full_name()},
                   {"blocks", s.blocks()},
                   {"stick_per_block_mm", s.stick_per_block.v},
                   {"woods", woods}});
  }
  return out;
}

Json short_json(const BatchPlan& plan) {
  Json out = Json::array();
  for (const MissingSticks& m : missing_sticks(plan))
    out.push_back({{"wood", m.wood}, {"length_mm", m.length.v}, {"more", m.more}});
  return out;
}

Json wood_json(const WoodCost& w) {
  return {
      {"wood", w.wood},      {"blocks", w.blocks},       {"stick_mm", w.whole().v},   {"in_blocks_mm", w.in_blocks.v},
      {"kerf_mm", w.kerf.v}, {"spares_mm", w.spares.v},  {"tests_mm", w.tests.v},     {"heads_mm", w.heads.v},
      {"left_mm", w.left.v}, {"stick_cm3", w.whole_cm3}, {"blocks_cm3", w.blocks_cm3}};
}

Json cost_json(const BatchPlan& plan, const StickPlan& sticks) {
  constexpr double kHour = 3600;
  Json out = Json::array();
  for (const PuzzleCost& c : puzzle_costs(plan, sticks)) {
    const PuzzlePlan& p = plan.puzzles[c.puzzle];
    Json woods = Json::array(), work = Json::array();
    for (const WoodCost& w : c.woods) woods.push_back(wood_json(w));
    for (const WorkCost& w : c.work) work.push_back({{"kind", to_string(w.kind)}, {"hours", w.hands_on_s / kHour}});
    out.push_back({{"name", p.design.design.name},
                   {"copies", p.copies},
                   {"woods", woods},
                   {"work", work},
                   {"hands_on_hours", c.hands_on_s() / kHour},
                   {"waiting_hours", static_cast<double>(c.waits) / kHour}});
  }
  return out;
}

}  // namespace

std::string date_told(std::chrono::year_month_day d) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(d.year()), static_cast<unsigned>(d.month()),
                     static_cast<unsigned>(d.day()));
}

Json batch_told(const BatchPlan& plan, const Result<const StickPlan*>& sticks) {
  const Batch& b = plan.batch;
  Json j = {{"name", b.name},
            {"shop", b.shop.name},
            {"start", date_told(b.start)},
            {"due", date_told(b.due)},
            {"stick_mm", b.stick.v},
            {"kerf_mm", b.shop.blade.kerf.v},
            {"puzzles", puzzles_json(plan)},
            {"blocks", blocks_json(plan)}};
  j["short"] = sticks ? Json::array() : short_json(plan);
  j["problem"] = nullptr;
  j["cost"] = nullptr;
  if (sticks) {
    j["cost"] = cost_json(plan, *sticks.value());
  } else {
    const Problem& p = sticks.problem();
    j["problem"] = {{"code", p.code}, {"where", p.where}, {"say", p.say}, {"excerpt", p.excerpt}};
  }
  return j;
}

}  // namespace stickwright
