// movement.h - how much longer a stop, a fence or a base gets when it warms up or the air turns damp.
#pragma once
#include "jig/materials.h"
#include "quantity/estimate.h"
#include "quantity/quantity.h"

namespace stickwright {

// The growth in mm of `length` at `expansion` (1/K) over `warming` (K). Its u holds the term of second order, so that
// an expansion that is known badly still counts when no warming is expected.
//   assumes  the two are independent, and the piece is as warm as the air
//   source   JCGM 100:2008, H.1.3 (the model), 5.1.2 note (the term of second order)
Estimate thermal_growth(Mm length, const Estimate& expansion, const Estimate& warming);

// The growth in mm of `length` of the material when the relative humidity rises by `rise` (a share: 0.1 is 10 %).
//   assumes  the piece has had the time to take up the moisture: hours for thin sheets, weeks for thick ones
Estimate moisture_growth(Mm length, const Material& material, const Estimate& rise);

}  // namespace stickwright
