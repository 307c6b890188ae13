#include "answers/design_json.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "takeapart/frames.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json names(const DesignPlan& plan, const std::vector<int>& pieces) {
  Json out = Json::array();
  for (int i : pieces) out.push_back(plan.standing[i].name);
  return out;
}

Json step_json(const DesignPlan& plan, const Step& s, const Handling& h) {
  Json j;
  j["moves"] = names(plan, s.moves);
  j["direction"] = vec_json(s.direction);
  j["distance"] = s.distance.free()        ? Json("free")
                  : s.distance.bottom == 1 ? Json(s.distance.top)
                                           : Json(s.distance.value());
  j["from"] = names(plan, s.from);
  for (const Glide& g : s.also)
    j["also"].push_back({{"moves", names(plan, g.pieces)}, {"direction", vec_json(g.direction)}});
  j["hands"] = h.hands;
  j["like"] = h.like ? Json(*h.like) : Json(nullptr);
  j["mirrored"] = h.mirrored;
  j["grips"] = names(plan, h.grips);
  j["down"] = h.down ? vec_json(*h.down) : Json(nullptr);
  j["falls"] = names(plan, h.falls);
  return j;
}

Json cells_json(const Cells& cells) {
  Json out = Json::array();
  for (Cell c : cells) out.push_back(vec_json(c));
  return out;
}

Json hand_json(Hand hand) {
  return hand == Hand::none ? Json(nullptr) : Json(to_string(hand));
}

Json placed_json(const PlacedBlock& b, const Block& shape) {
  return {{"shape", shape.shape},          {"cells", b.cells.size()},
          {"hand", hand_json(shape.hand)}, {"faces", shape.body.faces.size()},
          {"at", cells_json(b.cells)},     {"grain", std::string(1, static_cast<char>('x' + b.grain_axis))}};
}

Json joint_json(const Joint& joint, double unit_mm) {
  Json j = {{"between", {joint.a, joint.b}}, {"normal", vec_json(joint.plane.n)}, {"area_units", joint.area_units()}};
  if (unit_mm > 0) j["area_mm2"] = joint.area_units() * unit_mm * unit_mm;
  return j;
}

}  // namespace

Json vec_json(Vec v) {
  return Json::array({v.x, v.y, v.z});
}

Json assembly_json(const Assembly& assembly) {
  Json out = Json::array();
  for (const PlacedPiece& p : assembly) out.push_back({{"shape", p.supply}, {"cells", cells_json(p.cells)}});
  return out;
}

Json steps_json(const DesignPlan& plan) {
  const Family& family = *plan.design.family;
  Json pieces = Json::array();
  for (const StandingPiece& p : plan.standing) pieces.push_back({{"name", p.name}, {"cells", cells_json(p.cells)}});
  const Frames frames = frames_of(family, plan.standing_cells(), plan.take_apart.steps);
  Json steps = Json::array();
  for (std::size_t k = 0; k < frames.steps.size(); ++k) {
    Json step = step_json(plan, plan.take_apart.steps[k], plan.handling[k]);
    step["before"] = cells_json(frames.steps[k].before);
    step["after"] = cells_json(frames.steps[k].after);
    steps.push_back(std::move(step));
  }
  return {{"design", plan.design.name},
          {"family", family.name()},
          {"units_per_lattice_unit", frames.unit},
          {"pieces", pieces},
          {"steps", steps}};
}

Json proof_json(Proof proof) {
  if (proof == Proof::none) return nullptr;
  return proof == Proof::certificate ? "certificate" : "exhausted";
}

Json take_apart_json(const DesignPlan& plan) {
  const TakeApart& t = plan.take_apart;
  int hands = 0;
  for (const Handling& h : plan.handling) hands = std::max(hands, h.hands);
  Json j = {
      {"moves_to_first", t.moves_to_first}, {"moves_total", t.steps.size()}, {"fewest", t.fewest},   {"hands", hands},
      {"coordinated", t.coordinated()},     {"proof", proof_json(t.proof)},  {"positions", t.states}};
  if (!t.stuck.empty()) j["stuck"] = names(plan, t.stuck);
  return j;
}

Json assemblies_json(const DesignPlan& plan) {
  const Assemblies& a = plan.assemblies;
  const Reachable& r = plan.reachable;
  return {{"count", a.count},         {"complete", a.verdict != Verdict::stopped},
          {"turned_copies", a.total}, {"checked", r.checked},
          {"reachable", r.reachable}, {"stopped_at", r.stopped_at ? Json(*r.stopped_at) : Json(nullptr)},
          {"shortest", r.shortest},   {"longest", r.longest}};
}

Json check_json(const DesignPlan& plan) {
  Json j;
  j["assemblies"] = assemblies_json(plan);
  j["comes_apart"] = plan.comes_apart();
  j["verdict"] = plan.comes_apart() ? "found" : plan.take_apart.verdict == Verdict::stopped ? "stopped" : "none";
  j["take_apart"] = take_apart_json(plan);
  if (plan.turning)
    j["turning"] = {{"first_instant", plan.turning->verdict == Verdict::found         ? "moves"
                                      : plan.turning->verdict == Verdict::none_exists ? "locked"
                                                                                      : "stopped"},
                    {"says", turning_in_words(*plan.turning)}};
  j["steps"] = Json::array();
  for (std::size_t k = 0; k < plan.take_apart.steps.size(); ++k)
    j["steps"].push_back(step_json(plan, plan.take_apart.steps[k], plan.handling[k]));
  j["pieces"] = Json::array();
  for (const MadePiece& m : plan.made)
    j["pieces"].push_back({{"name", m.name},
                           {"copies", m.copies},
                           {"cells", m.cells.size()},
                           {"handed", handed(*plan.design.family, shape_of(*plan.design.family, m.cells).shape)}});
  j["standing"] = Json::array();
  for (const StandingPiece& p : plan.standing)
    j["standing"].push_back({{"name", p.name}, {"cells", cells_json(p.cells)}});
  return j;
}

Json blocks_json(const std::vector<MadePiece>& made, const Split& split, std::size_t first, double unit_mm) {
  Json j;
  j["complete"] = split.verdict == Verdict::found;
  j["pieces"] = Json::array();
  std::vector<int> per_puzzle(split.shapes.size());
  for (std::size_t i = 0; i < made.size(); ++i) {
    const GlueUp& g = split.pieces[first + i];
    Json piece = {
        {"name", made[i].name}, {"copies", made[i].copies}, {"blocks", Json::array()}, {"joints", Json::array()}};
    for (const PlacedBlock& b : g.blocks) {
      piece["blocks"].push_back(placed_json(b, split.shapes[b.shape]));
      per_puzzle[b.shape] += made[i].copies;
    }
    for (const Joint& joint : g.joints) piece["joints"].push_back(joint_json(joint, unit_mm));
    j["pieces"].push_back(std::move(piece));
  }
  j["shapes"] = Json::array();
  for (std::size_t s = 0; s < split.shapes.size(); ++s) {
    if (per_puzzle[s] == 0) continue;  // used by another design of the batch only
    const Block& b = split.shapes[s];
    j["shapes"].push_back({{"shape", b.shape},
                           {"cells", b.cells.size()},
                           {"hand", hand_json(b.hand)},
                           {"faces", b.body.faces.size()},
                           {"volume_units", static_cast<double>(volume_times_6(b.body)) / 6},
                           {"per_puzzle", per_puzzle[s]}});
  }
  return j;
}

}  // namespace stickwright
