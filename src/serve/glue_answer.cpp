#include "serve/glue_answer.h"

#include <fmt/core.h>

#include <algorithm>

#include "serve/mesh_json.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

// Nothing is glued on any part of the face.
bool is_free(const Cells& block, Vec normal, const Cells& all) {
  for (Cell c : block) {
    const auto planes = mitered().planes(c);
    const auto across = mitered().neighbors(c);
    for (std::size_t f = 0; f < planes.size(); ++f)
      if (planes[f].n == normal && !std::binary_search(block.begin(), block.end(), across[f]) &&
          std::binary_search(all.begin(), all.end(), across[f]))
        return false;
  }
  return true;
}

Json faces_json(const GlueAsked& asked, const Cells& block, const Cells& all) {
  const Polytope body = body_of(block);
  Json out = Json::array();
  for (const ExactFace& f : body.faces) {
    Json face = {{"face", face_name(f.plane.n)}, {"polygon", Json::array()}, {"free", is_free(block, f.plane.n, all)}};
    for (std::size_t i = 0; i < f.loop.size(); ++i) {
      const Vec p = body.corner(f, static_cast<int>(i));
      face["polygon"].push_back({p.x, p.y, p.z});
    }
    const Vec twice = area_vector_times_2(body, f);
    put_area(face, std::sqrt(static_cast<double>(dot(twice, twice))) / 2, asked.saw.unit_mm);
    out.push_back(std::move(face));
  }
  return out;
}

Json blocks_json(const GlueAsked& asked, const GluedList& list) {
  Json out = Json::array();
  for (const SeatedBlock& b : list.blocks)
    out.push_back({{"shape", b.shape->shape},
                   {"hand", hand_or_null(b.shape->hand)},
                   {"cells", b.cells.size()},
                   {"mesh", mesh_json(mitered(), b.cells)},
                   {"faces", faces_json(asked, b.cells, list.all)}});
  return out;
}

void warn(Json& warnings, const char* code, std::optional<std::size_t> block, const std::string& say) {
  warnings.push_back({{"code", code}, {"block", block ? Json(*block) : Json(nullptr)}, {"say", say}});
}

void warn_of_saw(const GlueAsked& asked, const GluedList& list, Json& warnings) {
  for (std::size_t i = 0; i < list.blocks.size(); ++i)
    if (const std::string why = why_not_sawn(*list.blocks[i].shape, asked.saw); !why.empty())
      warn(warnings, "cannot_be_sawn", i, fmt::format("Block {}: {}", i + 1, why));
}

void warn_of_goal(const GlueAsked& asked, const GluedList& list, Json& warnings) {
  if (RoomInGoal(asked, list.all).fits() == false)
    warn(warnings, "does_not_fit_goal", {}, "The piece cannot lie in the goal, however it is turned.");
  const auto count = goal_count(asked, list.all.size());
  if (count && count->left() < 0)
    warn(warnings, "too_many_cells", {},
         fmt::format("All pieces together have {} cells and the goal has {}: {} too many.", count->others + count->here,
                     count->cells, -count->left()));
}

Json joints_json(const GlueAsked& asked, const GluedList& list, Json& warnings) {
  Json out = Json::array();
  const std::vector<Joint> joints = joints_of(list.cells);
  const std::vector<JointLoad> loads = joint_loads(list.cells, joints);
  for (std::size_t k = 0; k < joints.size(); ++k) {
    const Joint& j = joints[k];
    const std::string says = joint_in_words(j.area_units(), loads[k], asked.saw.unit_mm);
    Json joint = {{"between", {j.a, j.b}}};
    put_area(joint, j.area_units(), asked.saw.unit_mm);
    joint["weak"] = loads[k].weak();
    joint["says"] = says;
    out.push_back(std::move(joint));
    if (loads[k].weak())
      warn(warnings, "weak_joint", static_cast<std::size_t>(j.b),
           fmt::format("Block {} on block {}: {}", j.b + 1, j.a + 1, says));
  }
  return out;
}

}  // namespace

std::string joint_in_words(double area, const JointLoad& load, std::optional<double> unit_mm) {
  const auto length = [&](double units) {
    return unit_mm ? fmt::format("{:.3g} mm", units * *unit_mm) : fmt::format("{:.3g} units", units);
  };
  const std::string glue = unit_mm ? fmt::format("{:.3g} mm² of glue", area * *unit_mm * *unit_mm)
                                   : fmt::format("{:.3g} square units of glue", area);
  if (load.cells == 0) return glue + "; other joints hold the same parts, too.";
  const std::string reach = fmt::format(
      "{}; the {} {} that {} on it alone {} {} from its middle, {:.1f} times the "
      "width of the joint",
      glue, load.cells, load.cells == 1 ? "cell" : "cells", load.cells == 1 ? "hangs" : "hang",
      load.cells == 1 ? "reaches" : "reach", length(load.lever), load.reach());
  if (!load.weak()) return reach + ".";
  return fmt::format(
      "{}. It may break when the piece is dropped or forced: beyond {:.0f} times we call it weak (our own "
      "choice, no source). Glue across the grain holds less than the wood does; end-grain butt joints "
      "about a quarter (Wood Handbook, FPL-GTR-190, p. 10-18).",
      reach, kWeakReach);
}

Json glue_json(const GlueAsked& asked, const GluedList& list) {
  Json warnings = Json::array();
  warn_of_saw(asked, list, warnings);
  const Json joints = joints_json(asked, list, warnings);
  warn_of_goal(asked, list, warnings);
  const auto count = goal_count(asked, list.all.size());
  const auto fits = RoomInGoal(asked, list.all).fits();
  Json j;
  j["cells"] = list.all.size();
  j["handed"] = handed(mitered(), shape_of(mitered(), list.all).shape);
  j["mesh"] = mesh_json(mitered(), list.all);
  j["blocks"] = blocks_json(asked, list);
  j["joints"] = joints;
  j["goal"] =
      count ? Json{{"cells", count->cells}, {"others", count->others}, {"here", count->here}, {"left", count->left()}}
            : Json(nullptr);
  j["fits_goal"] = fits ? Json(*fits) : Json(nullptr);
  j["warnings"] = std::move(warnings);
  return j;
}

Reply glue_reply(const Folder& folder, const Call& call) {
  const auto asked = read_glue_asked(folder, call);
  if (!asked) return problem_reply(asked.problem());
  const auto list = glue_up_list(asked.value().blocks);
  if (!list) return problem_reply(list.problem());
  return json_reply(glue_json(asked.value(), list.value()));
}

}  // namespace stickwright
