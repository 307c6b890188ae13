// scene_json.h - the saw in space as the page draws it. Private to this room.
#pragma once
#include <nlohmann/json.hpp>

#include "packet/cut_scene.h"

namespace stickwright {

// x is t, from the stop to the blade; y is a, away from the operator; z is b, up; all in mm.
nlohmann::ordered_json scene_json(const SawScene& scene);

}  // namespace stickwright
