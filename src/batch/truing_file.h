// truing_file.h - readings taken while truing the saw, as written in a file of the maker's. Keys: docs/files.md.
#pragma once
#include <filesystem>
#include <string_view>
#include <vector>

#include "quantity/result.h"
#include "shop/shop.h"
#include "truing/observation.h"

namespace stickwright {

// Standard uncertainty of a reading when nobody says it: of a light gap what the eye tells, of lengths and heights what
// the shop's caliper does.
//   source   of the gap: 0.005 mm to either side; common practice, no source
Mm usual_u(Look look, const Caliper& caliper);

//   errors   those of the reader (toml_reader.h)
Result<std::vector<Observation>> load_truing_readings(const std::filesystem::path& path, const Caliper& caliper);
Result<std::vector<Observation>> parse_truing_readings(std::string_view text, const std::string& file,
                                                       const Caliper& caliper);

}  // namespace stickwright
