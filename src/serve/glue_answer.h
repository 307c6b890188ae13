// glue_answer.h - a piece as it is being built: where its blocks sit, what holds it, whether it can be sawn and fits.
// Private to this room.
#pragma once
#include <nlohmann/json.hpp>

#include "glueup/joint_load.h"
#include "serve/glue_asked.h"

namespace stickwright {

// Replies: docs/api.yaml, Glue and GlueWays.
nlohmann::ordered_json glue_json(const GlueAsked& asked, const GluedList& list);

// Blocks of at most so many cells are tried on a face.
inline constexpr int kMostWayCells = 12;
//   errors   those of face_asked
Result<nlohmann::ordered_json> ways_json(const GlueAsked& asked, const GluedList& list, std::int64_t on,
                                         const std::string& face);

// A joint in plain words, with its numbers: "1.41 square units (181 mm2) of glue; what hangs on it reaches ...".
std::string joint_in_words(double area_units, const JointLoad& load, std::optional<double> unit_mm);

Reply glue_reply(const Folder& folder, const Call& call);
Reply ways_reply(const Folder& folder, const Call& call);

}  // namespace stickwright
