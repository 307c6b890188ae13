// compliance.h - how far a stick sinks and turns in its V cradle when the clamp presses it onto flanks that yield.
// Derivation: docs/derivations/cradle-yield.md.
#pragma once
#include <string>
#include <vector>

#include "jig/materials.h"
#include "quantity/physical.h"
#include "quantity/quantity.h"
#include "quantity/result.h"

namespace stickwright {

// One of the layers that lie on each other between the stick's axis and what is stiff.
struct Layer {
  Material material;
  Mm thickness;
};

struct ClampedCradle {
  Mm length;                  // of the V that carries the stick
  Mm flank;                   // width of the strip of one flank that touches the stick
  std::vector<Layer> layers;  // under one flank; the stick itself may be one
  Newton clamp_force;
  Mm off_center;        // of the clamp, from the middle of the cradle towards the blade
  double sideways = 0;  // share of the clamp force that pushes sideways; positive away from the operator (+a)
};

// How a layer yields, force per area and depth, in N/mm3.
//   free       E / h: the sides bulge as they like. The least it can be.
//   confined   E (1 - nu) / ((1 + nu)(1 - 2 nu)) / h: the sides cannot bulge. The most it can be.
//   value      their geometric mean. A flank is neither; its u takes the logarithm as spread evenly between the two,
//              and adds those of E and nu to first order
//   source     the mattress model of K. L. Johnson, Contact Mechanics (1985), 4.3, from memory; the confined modulus
//              is that of linear elasticity under strain in one direction
struct LayerStiffness {
  Estimate value;
  double free = 0, confined = 0;
};
LayerStiffness stiffness_of(const Layer& layer);

// Layers on each other yield one after the other: 1/k is the sum of theirs.
//   assumes  layers.size() >= 1, each of a thickness > 0 and a modulus > 0
Estimate stiffness_of(const std::vector<Layer>& layers);

// value: at the clamp force, with u from the stiffness alone: a part that stays and is trued away with the saw.
// per_newton: what one newton more does, for the part that changes from cut to cut.
struct Effect {
  Estimate value;
  double per_newton = 0;
};

// Signs as in the forward model of the saw (t towards the blade, a away from the operator, b up).
struct CradleYield {
  Effect sink;               // mm, of the stick's axis at the middle of the cradle; down
  Effect shift;              // mm, likewise, sideways; positive along a
  Effect pitch;              // rad; positive when the end towards the blade rises
  Effect miter;              // rad; what the turn about the vertical adds to the miter error
  Mm bearing;                // length over which the stick bears on the flanks
  double peak_pressure = 0;  // MPa, on the harder pressed flank
  std::vector<std::string> cautions;
};

// The stick is pressed by a force through its axis.
//   assumes  the stick is straight and does not bend; small angles; no friction; the force's line meets the stick's
//            axis (a clamp that pushes sideways above the axis also rolls the stick); layers yield as in stiffness_of
//   not for  plastics under a load that stays on for hours: they creep, and yield more
//   returns  bearing < length when the clamp stands more than a sixth of the length off the middle: the far end lifts
//   errors   clamp_off_the_cradle (half the length or more); stick_lifts (the sideways part is as large as the part
//            downwards or larger: the stick climbs a flank)
//   exact    proportional to the clamp force
Result<CradleYield> yield_of(const ClampedCradle& cradle);

}  // namespace stickwright
