// materials.h - what jigs are made of: how stiff it is, and how heat and damp air change its length.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/estimate.h"
#include "quantity/result.h"

namespace stickwright {

// Every figure is a range, since what is sold under one name differs: the value is its middle, u that of a rectangle.
// Each figure's `source` says where the range comes from.
struct Material {
  std::string name;
  Estimate modulus;    // MPa, as a layer that is pressed on its face: of sheets and wood, across the sheet or grain
  Estimate poisson;    // below 1/2
  Estimate expansion;  // 1/K, along the length (of wood, along the grain)
  Estimate moisture;   // share of the length for each percent of relative humidity
};

// A material of the maker's own is taken as known to within this share of each of its figures.
inline constexpr double kOwnFigureShare = 0.10;

//   returns  all materials that we hold figures for, by name
//   source   said in each figure; "from memory" where it is
std::span<const Material> all_materials();

// Finds by name or other name ("UHMW", "MDF"); capitals do not matter. The maker's own come first.
//   errors   unknown_material (says the nearest names)
Result<Material> find_material(std::string_view name, std::span<const Material> own = {});

}  // namespace stickwright
