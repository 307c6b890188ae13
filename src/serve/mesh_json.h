// mesh_json.h - bodies as the page draws them: corners in lattice units, triangles, lines. Private to this room.
#pragma once
#include <array>
#include <nlohmann/json.hpp>
#include <optional>

#include "block/catalogue.h"
#include "mesh/mesh.h"
#include "mesh/shared_faces.h"

namespace stickwright {

// {"xyz": [3n], "tri": [3m], "edges": [2k]}
nlohmann::ordered_json mesh_json(const Family& family, const Cells& cells);
nlohmann::ordered_json point_json(const std::array<double, 3>& point);
nlohmann::ordered_json hand_or_null(Hand hand);

// {"area_units", "area_mm2" | null}; the latter when the size of a lattice unit is known
void put_area(nlohmann::ordered_json& into, double area_units, std::optional<double> unit_mm,
              const std::string& prefix = "");

}  // namespace stickwright
