// jig.h - what the shop file may say of the jigs, the air and the saw's known errors. All of it is optional.
#pragma once
#include <optional>
#include <string>

#include "jig/materials.h"
#include "quantity/physical.h"
#include "quantity/quantity.h"
#include "text/source.h"

namespace stickwright {

// A V cradle: two flanks at 45 degrees, each a layer of `material` on something stiff.
struct Cradle {
  std::string name;
  Material material;
  Mm length;                        // of the V that carries the stick
  Mm layer;                         // thickness of the material under a flank
  Mm flank;                         // width of the strip of a flank that touches the stick
  Newton clamp_force;               // its whole size
  Mm clamp_off_center;              // from the middle of the cradle towards the blade
  double clamp_sideways = 0;        // share of the clamp force that pushes sideways
  std::optional<Mm> pivot_to_leaf;  // lever arm of the miter: from the screw it pivots on to where a leaf goes
  std::string leaf_at;              // in the maker's words; may be empty
  std::optional<Mm> flank_spread;   // lever arm of the roll: from the edge it rocks on to the leaf under one flank
  std::string flank_leaf_at;
  Place at;
};

struct Air {
  Celsius temperature;
  Kelvin temperature_spread;       // half-width over an evening
  Celsius gauge_temperature;       // of the gauge blocks when a stop is set; else as the air
  std::optional<double> humidity;  // share, now
  std::optional<double> humidity_at_milling;
  Place at;
};

// What is known of the saw without a record of cuts: standard uncertainties, 1 sigma. What is not said here is left to
// the defaults of whoever asks.
struct Known {
  std::optional<Angle> miter, tilt, roll, pitch;
  std::optional<Mm> stick;                   // side of the sticks
  std::optional<Angle> corner;               // between two sides of a stick, about the right angle
  std::optional<Mm> stop;                    // how exactly a stop is pushed home
  std::optional<Mm> seating;                 // scatter of where a stick comes to rest at its stop
  std::optional<double> clamp_force_spread;  // share of the clamp force
  Place at;
};

// The reference square that the saw is trued with.
struct Square {
  Angle error;  // half-width: it is square to within this
  Mm arm;
  Place at;
};

}  // namespace stickwright
