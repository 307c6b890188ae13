#include "serve/scene_json.h"

#include "answers/numbers.h"
#include "packet/body_mesh.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

Json place_json(Point p) {
  return Json::array({short_of(p.t), short_of(p.a), short_of(p.b)});
}

// The turn from (a, b, t) to (t, a, b) keeps what is counter-clockwise.
Json body_json(const Body& body) {
  const BodyMesh mesh = mesh_of(body);
  Json j = {{"xyz", Json::array()}, {"tri", Json::array()}, {"edges", Json::array()}};
  for (Point p : mesh.corners)
    for (double x : {p.t, p.a, p.b}) j["xyz"].push_back(short_of(x));
  for (const auto& triangle : mesh.triangles)
    for (int corner : triangle) j["tri"].push_back(corner);
  for (const auto& edge : mesh.edges)
    for (int corner : edge) j["edges"].push_back(corner);
  return j;
}

}  // namespace

Json scene_json(const SawScene& scene) {
  Json j = {{"unit", "mm"},
            {"bodies", Json::array()},
            {"lines", Json::array()},
            {"labels", Json::array()},
            {"contact", Json::array()},
            {"look_at", {{"low", place_json(scene.low)}, {"high", place_json(scene.high)}}}};
  for (const SceneBody& b : scene.bodies)
    j["bodies"].push_back({{"what", to_string(b.what)}, {"mesh", body_json(b.body)}});
  for (const SceneLine& l : scene.lines)
    j["lines"].push_back({{"what", l.what}, {"from", place_json(l.from)}, {"to", place_json(l.to)}});
  for (const SceneLabel& l : scene.labels) j["labels"].push_back({{"at", place_json(l.at)}, {"say", l.say}});
  for (Point p : scene.contact) j["contact"].push_back(place_json(p));
  return j;
}

}  // namespace stickwright
