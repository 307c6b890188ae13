// grain.h - how far a block of wood moves with its moisture content, along its grain, across it, and slantwise.
#pragma once
#include "exact/vec.h"
#include "quantity/estimate.h"
#include "wood/species.h"

namespace stickwright {

// All movements: change of length per 1 % of moisture content, as a fraction of the length.

// Across the grain, when nobody knows how the growth rings lie in the stick: anything between radial and tangential.
//   returns  rectangular between the species' two coefficients; where it has no trustworthy two, 0.0025 within 0.0015,
//            "assumed"
//   source   as the species' figures (species.h)
Estimate movement_across(const Species& species);
// The same for a wood of which nothing is known.
Estimate movement_across_unknown();

// Along the grain, of any wood.
//   returns  0.00005, rectangular within 0.000017: 0.1 to 0.2 % from green to ovendry, over the 30 % between
//   source   Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), p. 4-5
//   not for  reaction or juvenile wood, which may shrink ten times as much (up to 2 %, the same page), or slanting
//   grain
Estimate movement_along();

// Of the length of a block, or of the distance of two of its planes with this normal, per 1 % of moisture content.
//   direction   not zero, of any length
//   grain_axis  0 x, 1 y, 2 z
//   returns  across * sin^2 + along * cos^2 of the angle between direction and grain: linear in both, so the two
//            sensitivities are its values for (1, 0) and (0, 1)
//   assumes  the block is free to move: glued to a block whose grain runs otherwise it moves less across and strains
//            the joint. The coefficients hold from 6 to 14 %; beyond, the movement is off by at most |start - 10| times
//            the coefficient, as a share of itself (docs/seasons.md): under 6 % for every wood that starts at 0 to 23 %
double strain_along(Vec direction, int grain_axis, double movement_across, double movement_along);

}  // namespace stickwright
