// moisture.h - how damp wood gets in the air of a room, and how much its size changes with it.
#pragma once
#include "quantity/estimate.h"
#include "quantity/physical.h"
#include "quantity/quantity.h"
#include "quantity/result.h"

namespace stickwright {

// The equilibrium moisture content in percent of the ovendry mass, of wood that has stood long enough in air of this
// temperature and relative humidity (a share).
//   returns  u is 0.5, that of the model: the handbook's other equation, (4-6), differs by about that indoors, and by
//            more in the cold
//   errors   out_of_range: outside 30 to 270 F (-1.1 to 132.2 C) or 5 to 95 %, the range of the handbook's table
//   source   Forest Products Laboratory, Wood Handbook, FPL-GTR-282 (2021), eq (4-5), p. 4-3, with the constants for C
//   not for  wood that is still taking up or giving off moisture; woods rich in extractives (teak) take up less
Result<Estimate> equilibrium_moisture(Celsius temperature, double humidity);

inline constexpr double kMoistureModelU = 0.5;  // percent moisture content

// The change of a size when its moisture content goes from one percentage to another; positive: it grows.
//   coefficient  change per 1 % of moisture content, as a fraction (species.h)
//   returns  in mm
//   errors   out_of_range: `from` or `to` outside 6 to 14 %, where the coefficients hold
//   source   Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), eq (13-2)
Result<Mm> moisture_change(Mm size, double coefficient, double from_percent, double to_percent);

}  // namespace stickwright
