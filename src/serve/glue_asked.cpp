#include "serve/glue_asked.h"

#include <fmt/core.h>

#include <algorithm>

#include "assembly/placements.h"
#include "design/design_file.h"
#include "design/solids.h"
#include "text/nearest.h"

namespace stickwright {
namespace {

constexpr std::int64_t kMostTurns = 1'000'000;

std::optional<Hand> hand_given(const Given& block) {
  const auto word = block.text_if("hand");
  if (!word) return Hand::none;
  if (*word == "left") return Hand::left;
  if (*word == "right") return Hand::right;
  block.report("hand", "bad_choice", fmt::format("hand: expected \"left\" or \"right\", found \"{}\"", *word));
  return {};
}

void read_design_given(const Folder& folder, const Given& body, GlueAsked& asked, std::optional<Problem>& problem) {
  const auto name = body.text_if("design");
  if (!name || problem) return;
  const auto file = folder.file(*name);
  auto design = file ? load_design(file.value()) : Result<Design>(file.problem());
  if (!design) {
    problem = design.problem();
    return;
  }
  asked.design = design.take();
  const auto piece = body.whole_if("piece", 0, std::ssize(asked.design->pieces) - 1);
  if (piece) asked.piece = static_cast<std::size_t>(*piece);
}

// Of a design that is not in a file yet.
void read_loose_goal(const Given& body, GlueAsked& asked) {
  const auto given = read_goal_given(body);
  if (!given || given->solid.empty()) return;
  if (asked.design) return body.report("goal", "two_goals", "the design gives the goal: leave out one of the two.");
  const auto cells = named_solid(given->solid, given->size);
  if (!cells)
    return body.report(
        "goal", "unknown_solid",
        fmt::format("no solid is called \"{}\".{}", given->solid, did_you_mean(given->solid, solid_names())));
  Design loose;
  loose.family = &mitered();
  loose.goal = *cells;
  loose.goal_given = given;
  asked.design = std::move(loose);
}

void check_family(const Given& body, const GlueAsked& asked) {
  const std::string family =
      asked.design ? std::string(asked.design->family->name()) : body.text_if("family").value_or("mitered");
  if (family != mitered().name())
    body.report("family", "wrong_family",
                fmt::format("pieces of the family \"{}\" are not glued from blocks; only mitered ones are.", family));
}

}  // namespace

std::optional<GoalGiven> read_goal_given(const Given& body) {
  const auto goal = body.object_if("goal");
  if (!goal) return {};
  goal->only({"solid", "size"});
  return GoalGiven{goal->text("solid"), static_cast<int>(goal->whole_if("size", 1, 3).value_or(1))};
}

std::vector<BlockAsked> read_blocks_given(const Given& body) {
  std::vector<BlockAsked> blocks;
  for (const Given& b : body.objects("blocks")) {
    b.only({"shape", "hand", "on", "face", "turn", "at"});
    BlockAsked a;
    a.shape = b.text("shape");
    a.hand = hand_given(b).value_or(Hand::none);
    a.on = b.whole_if("on", 1, std::max<std::int64_t>(1, std::ssize(blocks)));
    a.face = b.text_if("face");
    a.turn = b.whole_if("turn", 1, kMostTurns);
    a.at = b.triple_if("at");
    blocks.push_back(std::move(a));
  }
  return blocks;
}

nlohmann::ordered_json block_asked_json(const BlockAsked& a) {
  using Json = nlohmann::ordered_json;
  return {{"shape", a.shape},
          {"hand", a.hand == Hand::none ? Json(nullptr) : Json(to_string(a.hand))},
          {"on", a.on ? Json(*a.on) : Json(nullptr)},
          {"face", a.face ? Json(*a.face) : Json(nullptr)},
          {"turn", a.turn ? Json(*a.turn) : Json(nullptr)},
          {"at", a.at ? Json::array({a.at->x, a.at->y, a.at->z}) : Json(nullptr)}};
}

Result<GlueAsked> read_glue_asked(const Folder& folder, const Call& call,
                                  std::initializer_list<std::string_view> more) {
  std::optional<Problem> problem;
  const Given body(call.body, problem);
  std::vector<std::string_view> keys = {"design", "goal", "family", "piece", "copies", "mirrored_copies", "blocks"};
  keys.insert(keys.end(), more.begin(), more.end());
  body.only(keys);
  GlueAsked asked;
  read_design_given(folder, body, asked, problem);
  check_family(body, asked);
  read_loose_goal(body, asked);
  asked.copies = body.whole_if("copies", 0, kMaxPieces).value_or(1);
  asked.mirrored_copies = body.whole_if("mirrored_copies", 0, kMaxPieces).value_or(0);
  asked.blocks = read_blocks_given(body);
  auto rule = saw_rule_of(folder, call.asked("batch"));
  if (!problem && !rule) problem = rule.problem();
  if (problem) return *problem;
  asked.saw = rule.take();
  return asked;
}

Result<GluedList> glue_up_list(const std::vector<BlockAsked>& asked) {
  GluedList list;
  for (std::size_t i = 0; i < asked.size(); ++i) {
    auto seated = seat_block(asked[i], list.cells, list.all);
    if (const auto* t = std::get_if<NotSeated>(&seated))
      return Problem{t->code, fmt::format("blocks[{}]{}{}", i, t->key.empty() ? "" : ".", t->key), t->say, ""};
    list.blocks.push_back(std::get<SeatedBlock>(std::move(seated)));
    list.cells.push_back(list.blocks.back().cells);
    list.all.insert(list.all.end(), list.cells.back().begin(), list.cells.back().end());
    std::sort(list.all.begin(), list.all.end());
    if (list.all.size() > kMaxGoalCells)
      return Problem{"too_large", fmt::format("blocks[{}]", i),
                     fmt::format("the piece has {} cells: at most {} can be checked.", list.all.size(), kMaxGoalCells),
                     ""};
  }
  if (!connected(mitered(), list.all))
    return Problem{"piece_in_parts", "blocks",
                   "the piece is not in one part: some of its blocks share no face with the rest.", ""};
  return list;
}

std::optional<GoalCount> goal_count(const GlueAsked& asked, std::size_t piece_cells) {
  if (!asked.design || !asked.design->goal_given) return {};
  GoalCount count{std::ssize(asked.design->goal), 0, 0};
  for (std::size_t i = 0; i < asked.design->pieces.size(); ++i) {
    const Piece& p = asked.design->pieces[i];
    if (asked.piece != i) count.others += p.total_copies() * std::ssize(p.cells);
  }
  count.here = (asked.copies + asked.mirrored_copies) * static_cast<std::int64_t>(piece_cells);
  return count;
}

RoomInGoal::RoomInGoal(const GlueAsked& asked, const Cells& piece) {
  if (!asked.design || !asked.design->goal_given) return;
  design_ = &*asked.design;
  const Family& family = *design_->family;
  const Isometry mirror = {family.reflections().front(), {}};
  if (asked.copies > 0) ways_.push_back(poses_in(family, piece, design_->goal));
  if (asked.mirrored_copies == 0) return;
  ways_.push_back(poses_in(family, moved(family, mirror, piece), design_->goal));
  for (Isometry& pose : ways_.back()) pose = pose * mirror;
}

std::optional<bool> RoomInGoal::fits() const {
  return fits_with({});
}

std::optional<bool> RoomInGoal::fits_with(const Cells& more) const {
  if (!design_) return {};
  const Cells& goal = design_->goal;
  const auto takes = [&](const Isometry& pose) {
    return std::all_of(more.begin(), more.end(), [&](Cell c) {
      return std::binary_search(goal.begin(), goal.end(), design_->family->moved(pose, c));
    });
  };
  return std::all_of(ways_.begin(), ways_.end(),
                     [&](const auto& poses) { return std::any_of(poses.begin(), poses.end(), takes); });
}

}  // namespace stickwright
