#include "serve/puzzle_answer.h"

#include <algorithm>
#include <set>

#include "answers/design_json.h"
#include "saw/forward.h"
#include "serve/first_look.h"
#include "serve/mesh_json.h"
#include "serve/wood_tone.h"
#include "serve/workbench.h"
#include "takeapart/frames.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

// Takes a piece as it is made to where it stands.
Isometry to_its_place(const Family& family, const MadePiece& made, const StandingPiece& standing) {
  return shape_of(family, standing.cells).pose * shape_of(family, made.cells).pose.inverse();
}

class Pieces {
 public:
  explicit Pieces(const ShownPuzzle& shown) : shown_(shown), plan_(*shown.plan), family_(*plan_.design.family) {}

  Json piece(const StandingPiece& s) const {
    const MadePiece& made = plan_.made[static_cast<std::size_t>(s.made)];
    const std::vector<std::string>* woods = woods_of(s);
    Json j = {{"name", s.name},
              {"of", plan_.design.pieces[static_cast<std::size_t>(made.piece)].name},
              {"mirrored", made.mirrored},
              {"made", s.made},
              {"copy", s.copy},
              {"cells", s.cells.size()},
              {"mesh", mesh_json(family_, s.cells)},
              {"middle", point_json(middle_of(family_, s.cells))},
              {"woods", Json::array()},
              {"blocks", Json::array()},
              {"joints", Json::array()}};
    if (woods)
      for (const std::string& wood : std::set(woods->begin(), woods->end())) j["woods"].push_back(wood);
    if (shown_.split) put_glue_up(s, woods, j);
    return j;
  }

  // Woods of all pieces, with how light they are drawn.
  Json lightness() const {
    Json out = Json::object();
    if (!shown_.wood_of) return out;
    for (const auto& copies : *shown_.wood_of)
      for (const auto& blocks : copies)
        for (const std::string& wood : blocks) out[wood] = drawn_lightness(wood);
    return out;
  }

 private:
  const std::vector<std::string>* woods_of(const StandingPiece& s) const {
    return shown_.wood_of ? &(*shown_.wood_of)[static_cast<std::size_t>(s.made)][static_cast<std::size_t>(s.copy)]
                          : nullptr;
  }

  void put_glue_up(const StandingPiece& s, const std::vector<std::string>* woods, Json& j) const {
    const auto made = static_cast<std::size_t>(s.made);
    const GlueUp& glue = shown_.split->pieces[shown_.first + made];
    const Isometry there = to_its_place(family_, plan_.made[made], s);
    std::vector<Cells> cells;
    for (std::size_t b = 0; b < glue.blocks.size(); ++b) {
      const Block& shape = shown_.split->shapes[static_cast<std::size_t>(glue.blocks[b].shape)];
      cells.push_back(moved(family_, there, glue.blocks[b].cells));
      j["blocks"].push_back({{"shape", shape.shape},
                             {"hand", hand_or_null(shape.hand)},
                             {"wood", woods ? Json((*woods)[b]) : Json(nullptr)},
                             {"mesh", mesh_json(family_, cells.back())},
                             {"middle", point_json(middle_of(family_, cells.back()))}});
    }
    for (const Joint& joint : glue.joints) {
      const SharedFaces shared =
          shared_faces(family_, cells[static_cast<std::size_t>(joint.a)], cells[static_cast<std::size_t>(joint.b)]);
      Json one = {{"between", {joint.a, joint.b}}};
      put_area(one, joint.area_units(), shown_.unit_mm);
      one["middle"] = point_json(shared.middle);
      one["normal"] = vec_json(shared.normal);
      j["joints"].push_back(std::move(one));
    }
  }

  const ShownPuzzle& shown_;
  const DesignPlan& plan_;
  const Family& family_;
};

Json shifts_json(const std::vector<Vec>& shifts, std::int64_t unit) {
  Json out = Json::array();
  for (Vec v : shifts)
    out.push_back(point_json({static_cast<double>(v.x) / static_cast<double>(unit),
                              static_cast<double>(v.y) / static_cast<double>(unit),
                              static_cast<double>(v.z) / static_cast<double>(unit)}));
  return out;
}

Json steps_shown(const DesignPlan& plan, const Json& steps) {
  const Frames frames = frames_of(*plan.design.family, plan.standing_cells(), plan.take_apart.steps);
  Json out = steps;
  for (std::size_t k = 0; k < frames.steps.size(); ++k) {
    out[k]["before"] = shifts_json(frames.steps[k].before, frames.unit);
    out[k]["after"] = shifts_json(frames.steps[k].after, frames.unit);
    out[k]["says"] = step_in_words(plan, k);
  }
  return out;
}

// Which pieces lie on which, closed.
Json holds_json(const ShownPuzzle& shown) {
  Json out = Json::array();
  const auto& standing = shown.plan->standing;
  for (std::size_t i = 0; i < standing.size(); ++i)
    for (std::size_t k = i + 1; k < standing.size(); ++k) {
      const SharedFaces s = shared_faces(*shown.plan->design.family, standing[i].cells, standing[k].cells);
      if (s.cell_faces == 0) continue;
      Json hold = {{"between", {i, k}}};
      put_area(hold, s.area_units, shown.unit_mm);
      out.push_back(std::move(hold));
    }
  return out;
}

const PuzzlePlan* puzzle_of(const BatchPlan& batch, const std::filesystem::path& design, std::size_t& at) {
  for (at = 0; at < batch.puzzles.size(); ++at) {
    std::error_code unlike;
    if (std::filesystem::equivalent(batch.batch.puzzles[at].design, design, unlike)) return &batch.puzzles[at];
  }
  return nullptr;
}

Reply by_itself(Workbench& bench, const std::string& design) {
  const auto found = bench.plans().look(design);
  if (!found) return problem_reply(found.problem());
  const FirstLook& look = *found.value();
  return json_reply(puzzle_json({design, &look.plan, look.split ? &*look.split : nullptr, 0, nullptr, {}}));
}

Reply of_a_batch(Workbench& bench, const Call& call) {
  const auto file = bench.folder().file(call.asked("design"));
  if (!file) return problem_reply(file.problem());
  const auto planned = bench.plans().puzzles(call.asked("batch"));
  // Why no batch can be made of it is best seen on the design itself.
  if (!planned && (planned.problem().code == "does_not_work" || planned.problem().code == "stopped"))
    return by_itself(bench, call.asked("design"));
  if (!planned) return problem_reply(planned.problem());
  const BatchPlan& batch = *planned.value();
  std::size_t at = 0;
  const PuzzlePlan* puzzle = puzzle_of(batch, file.value(), at);
  if (!puzzle) return problem_reply({"not_in_batch", call.asked("batch"), "this batch does not make that design.", ""});
  return json_reply(puzzle_json({call.asked("design"), &puzzle->design, &batch.split, puzzle->first, &puzzle->wood_of,
                                 unit_mm(batch.batch.stick)}));
}

}  // namespace

Json puzzle_json(const ShownPuzzle& shown) {
  const DesignPlan& plan = *shown.plan;
  const bool closed = !plan.standing.empty();
  const Json checked = check_json(plan);
  const Pieces pieces(shown);
  Json j;
  j["file"] = shown.file;
  j["design"] = plan.design.name;
  j["family"] = plan.design.family->name();
  j["draft"] = plan.supplied.draft;
  j["unit_mm"] = shown.unit_mm ? Json(*shown.unit_mm) : Json(nullptr);
  j["goes_together"] = nothing_yet(plan) ? Json(nullptr) : Json(plan.goes_together());
  j["stopped_early"] = plan.stopped();
  j["closed"] = closed;
  for (const char* key : {"verdict", "comes_apart"}) j[key] = checked.at(key);
  j["says"] = puzzle_in_words(plan);
  for (const char* key : {"assemblies", "take_apart"}) j[key] = checked.at(key);
  j["pieces"] = Json::array();
  for (const StandingPiece& s : closed ? plan.standing : laid_side_by_side(plan))
    j["pieces"].push_back(pieces.piece(s));
  j["steps"] = steps_shown(plan, checked.at("steps"));
  j["holds"] = holds_json(shown);
  j["goal"] = {{"cells", plan.design.goal.size()}};
  j["lightness"] = pieces.lightness();
  return j;
}

Reply puzzle_reply(Workbench& bench, const Call& call) {
  if (!call.asked("batch").empty()) return of_a_batch(bench, call);
  return by_itself(bench, call.asked("design"));
}

}  // namespace stickwright
