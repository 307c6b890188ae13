// plain_model.h - the real block worked out a second time, as plainly as can be: a list of half-spaces and every corner
// that three of them make. Shares nothing with the forward model but the program and the numbers of the saw.
#pragma once
#include <array>
#include <vector>

#include "saw/program.h"
#include "saw/state.h"

namespace stickwright::plain {

using Triple = std::array<double, 3>;  // a, b, t

// n.p <= c is kept.
struct Half {
  Triple n;
  double c = 0;
  int made_by = -1;  // 0 the starting miter, k >= 1 cuts[k - 1], below 0 the stick
};

std::vector<Half> half_spaces(const Program& program, const SawState& saw);

struct Corner {
  Triple at;
  // How exact numbers of sixteen digits can make it, in mm: where three planes nearly meet in a line, the corner may
  // slip along it.
  double doubt = 0;
};

// All points in which three of the planes meet and that none of the half-spaces leaves out. A point that more than
// three make comes as often.
std::vector<Corner> corners(const std::vector<Half>& body);

// From the stop's face to the blade plane along the axis, added up from the lengths of sled, stop and stack.
double distance(const Program& program, std::size_t cut, const SawState& saw);

}  // namespace stickwright::plain
