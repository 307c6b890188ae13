#include <fmt/core.h>

#include <algorithm>

#include "design/gluing.h"
#include "serve/glue_answer.h"
#include "serve/mesh_json.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

// One more block on the piece, where it would lie.
struct Trial {
  const Block* shape;
  const Cells* cells;
  std::size_t turn, of;  // turn counts from 1
};

class Ways {
 public:
  Ways(const GlueAsked& asked, const GluedList& list, std::size_t on)
      : asked_(asked), list_(list), on_(on), room_(asked, list.all) {}

  Json way(const Trial& t) const {
    const auto fits = room_.fits_with(*t.cells);
    const auto count = goal_count(asked_, list_.all.size() + t.cells->size());
    const std::string why = why_not_sawn(*t.shape, asked_.saw);
    Json j = {{"shape", t.shape->shape},
              {"hand", hand_or_null(t.shape->hand)},
              {"turn", t.turn},
              {"of", t.of},
              {"mesh", mesh_json(mitered(), *t.cells)},
              {"cells", t.cells->size()}};
    put_area(j, shared_faces(mitered(), list_.cells[on_], *t.cells).area_units, asked_.saw.unit_mm, "joint_");
    j["can_be_sawn"] = why.empty();
    j["left"] = count ? Json(count->left()) : Json(nullptr);
    j["fits_goal"] = fits ? Json(*fits) : Json(nullptr);
    j["weak"] = false;
    j["says"] = says(t, j, why, fits);
    return j;
  }

 private:
  std::string says(const Trial& t, Json& j, const std::string& why, std::optional<bool> fits) const {
    std::vector<Cells> blocks = list_.cells;
    blocks.push_back(*t.cells);
    // Only the joint on the chosen block: that is the one asked about.
    const auto joints = joints_of(blocks);
    const auto loads = joint_loads(blocks, joints);
    std::string out = fmt::format("{}: ", t.shape->full_name());
    for (std::size_t k = 0; k < joints.size(); ++k)
      if (joints[k].a == static_cast<int>(on_) && joints[k].b == static_cast<int>(blocks.size()) - 1) {
        out += joint_in_words(joints[k].area_units(), loads[k], asked_.saw.unit_mm);
        j["weak"] = loads[k].weak();
      }
    if (!why.empty()) out += fmt::format(" It cannot be sawn: {}", why);
    if (fits == false) out += " With it the piece no longer fits into the goal.";
    return out;
  }

  const GlueAsked& asked_;
  const GluedList& list_;
  std::size_t on_;
  RoomInGoal room_;
};

}  // namespace

Result<Json> ways_json(const GlueAsked& asked, const GluedList& list, std::int64_t on, const std::string& face) {
  const auto normal = face_asked(on, face, list.cells);
  if (const auto* t = std::get_if<NotSeated>(&normal)) return Problem{t->code, t->key, t->say, ""};
  const auto base = static_cast<std::size_t>(on - 1);
  const Ways ways(asked, list, base);
  Json out = {{"ways", Json::array()}};
  for (const Block& shape : nameable_blocks()) {
    if (shape.cells.size() > kMostWayCells) continue;
    const auto all = ways_to_glue(shape.cells, list.cells[base], std::get<Vec>(normal), list.all);
    for (std::size_t i = 0; i < all.size(); ++i) out["ways"].push_back(ways.way({&shape, &all[i], i + 1, all.size()}));
  }
  out["says"] = out["ways"].empty()
                    ? fmt::format(
                          "No block of up to {} cells lies flat on face {} of block {} without running into "
                          "other blocks.",
                          kMostWayCells, face, on)
                    : fmt::format("{} ways to glue a block of up to {} cells on face {} of block {}.",
                                  out["ways"].size(), kMostWayCells, face, on);
  return out;
}

Reply ways_reply(const Folder& folder, const Call& call) {
  const auto asked = read_glue_asked(folder, call, {"on", "face"});
  if (!asked) return problem_reply(asked.problem());
  std::optional<Problem> problem;
  const Given body(call.body, problem);
  const std::int64_t on = body.whole("on", 1, std::ssize(asked.value().blocks));
  const std::string face = body.text("face");
  if (problem) return problem_reply(*problem);
  const auto list = glue_up_list(asked.value().blocks);
  if (!list) return problem_reply(list.problem());
  const auto ways = ways_json(asked.value(), list.value(), on, face);
  return ways ? json_reply(ways.value()) : problem_reply(ways.problem());
}

}  // namespace stickwright
