// joint_load.h - which glued joints are likely to break first: a long part on a small face of glue.
#pragma once
#include "glueup/glueup.h"

namespace stickwright {

// What hangs on one joint alone: the smaller part of the piece that comes off when the joint fails.
struct JointLoad {
  int cells = 0;     // of that part; 0 when other joints hold it, too
  double lever = 0;  // from the middle of the joint to its farthest corner, lattice units
  double width = 0;  // side of a square as large as the joint, lattice units
  double reach() const { return lever / width; }
  bool weak() const;
};

// A push F on the tip bends the joint with about 6 F reach / area, were the joint a square: so for joints of one size
// the reach tells which breaks first.
//   returns  one for each joint
//   source   the bending stress of a square section, 6 M / width^3
std::vector<JointLoad> joint_loads(const std::vector<Cells>& blocks, const std::vector<Joint>& joints);

// Beyond this reach a joint is called weak. Our own choice, no source: at a 16 mm stick and the smallest joint there is
// (one face of a cell, 181 mm2) a push of 100 N on the tip then makes 10 MPa. Joints across the grain hold less than
// the wood: end-grain butt joints about a quarter of its strength along the grain.
//   source   of the quarter: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), p. 10-18
inline constexpr double kWeakReach = 3;

}  // namespace stickwright
