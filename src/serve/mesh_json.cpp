#include "serve/mesh_json.h"

namespace stickwright {

using Json = nlohmann::ordered_json;

Json mesh_json(const Family& family, const Cells& cells) {
  const Mesh mesh = mesh_of(family, cells);
  Json j = {{"xyz", Json::array()}, {"tri", Json::array()}, {"edges", Json::array()}};
  for (Vec p : mesh.corners)
    for (int axis = 0; axis < 3; ++axis) j["xyz"].push_back(p[axis]);
  for (const auto& t : mesh.triangles)
    for (int corner : t) j["tri"].push_back(corner);
  for (const auto& e : mesh.edges)
    for (int corner : e) j["edges"].push_back(corner);
  return j;
}

Json point_json(const std::array<double, 3>& p) {
  return Json::array({p[0], p[1], p[2]});
}

Json hand_or_null(Hand hand) {
  return hand == Hand::none ? Json(nullptr) : Json(to_string(hand));
}

void put_area(Json& into, double area_units, std::optional<double> unit_mm, const std::string& prefix) {
  into[prefix + "area_units"] = area_units;
  into[prefix + "area_mm2"] = unit_mm ? Json(area_units * *unit_mm * *unit_mm) : Json(nullptr);
}

}  // namespace stickwright
