// forward.h - the forward model of the shop: a cut program run on a saw with its true errors gives the real block.
#pragma once
#include <vector>

#include "quantity/quantity.h"
#include "saw/body.h"
#include "saw/program.h"

namespace stickwright {

// The true state of a saw and its stock. All errors zero: nominal. Angles in radians, lengths in mm.
struct SawState {
  double side_1_mm = 16, side_2_mm = 16;  // the stick's two widths: across the faces towards (+a,+b) and (+a,-b)
  double corner_error_rad = 0;            // how much the stick's corners up and down are wider than a right angle
  double miter_error_rad = 0;             // blade normal turned about the vertical: (sin, cos)(45 deg + e) in (a, t)
  double blade_tilt_rad = 0;              // blade normal turned towards the vertical
  double cradle_roll_rad = 0;             // the V turned about the stick's axis
  double cradle_pitch_rad = 0;            // the V's far end raised
  std::vector<double> stop_error_mm;      // by stop of the program; missing ones are 0. Positive: too long
};
SawState nominal_saw(Mm stick);

// Millimeters per lattice unit: half the diagonal of the section.
double unit_mm(Mm stick);

// Runs the program. The result is in the frame of the work (program.h) in mm, and each face knows the cut that made it:
// -1 a side of the stick, 0 the starting miter, k >= 1 cuts[k - 1].
//   assumes  every work seats by sliding along the stick's axis until it touches the stop; the cradle does not yield.
//            The starting miter was cut on the same saw. A mitered stop's face was cut on the same saw, too.
//   exact    nominal parameters give back the exact block to rounding error (tested: 1e-9 mm)
Body run_program(const Program& program, const SawState& state);

// True when the program, run at nominal parameters, gives the block's exact corners and nothing else. Knows only the
// block.
bool check_program(const Block& block, const Program& program, Mm stick);

// The work at a cut, before the blade passes. Frame of the saw: t from the stop to the blade, the stop's face crosses
// the axis at t = 0; a away from the operator, b up.
struct AtTheStop {
  Body work;
  Plane blade;      // n.p <= c is kept
  Plane stop_face;  // n.p >= c: where the work can be
  double slid_mm;   // how far the work was slid along t to touch the stop
};
AtTheStop at_the_stop(const Program& program, std::size_t cut, const SawState& state);

// The distance, in mm, that the stop must stand from the blade plane, along the stick's axis.
Mm stop_distance(const Stop& stop, Mm stick);

}  // namespace stickwright
