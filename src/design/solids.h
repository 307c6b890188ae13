// solids.h - goals that have a name: the rhombic dodecahedron and its stellations.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "family/family.h"

namespace stickwright {

const std::vector<std::string>& solid_names();

// The mitered cells of a named solid about the origin.
//   size     1: the core lies between the planes x±y, y±z, z±x = ±2; n: n times that
//   returns  nothing for a name that is not in solid_names()
std::optional<Cells> named_solid(std::string_view name, int size);

}  // namespace stickwright
