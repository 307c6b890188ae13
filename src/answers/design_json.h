// design_json.h - JSON of what is known of a design. Shapes of the documents: docs/plan-json.md.
#pragma once
#include <nlohmann/json_fwd.hpp>

#include "batch/design_plan.h"
#include "glueup/glueup.h"

namespace stickwright {

nlohmann::ordered_json vec_json(Vec v);
nlohmann::ordered_json assembly_json(const Assembly& assembly);
// Key frames of the take-apart.
nlohmann::ordered_json steps_json(const DesignPlan& plan);
nlohmann::ordered_json check_json(const DesignPlan& plan);

// Pieces of one design with their blocks and joints. `first` is the place of the design's first made piece in the
// split.
//   unit_mm  millimeters per lattice unit; 0 leaves out what is measured in mm
nlohmann::ordered_json blocks_json(const std::vector<MadePiece>& made, const Split& split, std::size_t first,
                                   double unit_mm);

}  // namespace stickwright
