// forward.h - the forward model of the shop: a cut program run on a saw with its true errors gives the real block.
#pragma once
#include <span>
#include <vector>

#include "quantity/quantity.h"
#include "saw/body.h"
#include "saw/program.h"
#include "saw/state.h"

namespace stickwright {

// Millimeters per lattice unit: half the diagonal of the section.
double unit_mm(Mm stick);

namespace saw {

// The real block, in mm, in the frame of the work (program.h). Each face knows what made it: below 0 a side of the
// stick, 0 the starting miter, k >= 1 cuts[k - 1].
//   assumes  every work seats by sliding along the stick's axis until it touches the stop. The starting miter was cut
//   on
//            the same saw. A mitered stop's face was cut on the same saw, too, so its kerf has cancelled; a square one
//            was placed by a test cut with the same blade.
//   exact    nominal parameters give back the exact block to rounding error (tested: 1e-9 mm)
template <class T>
BasicBody<T> cut(const Program& program, const StateOf<T>& state, Workplace place = {});

}  // namespace saw

// What bounds the work, in its own frame, when it is given how far the work was slid at each cut: no touching and no
// clipping, so planes that a later cut takes away again are among them.
template <class T>
struct BasicCutPlanes {
  std::vector<BasicPlane<T>> planes;        // by plane_number: sides of the stick, start, cuts
  std::vector<BasicPoint<T>> towards_stop;  // by cut: the work slides by the largest towards_stop.p over its points p
};
inline constexpr int kStickSides = 4;
constexpr std::size_t plane_number(int made_by) {  // BodyFace::made_by
  return static_cast<std::size_t>(made_by < 0 ? stick_side(made_by) : kStickSides + made_by);
}

// What the work sees of those numbers of a state that act through products with one another.
template <class T>
struct BasicSeen {
  T side_1_mm{}, side_2_mm{};  // of the stick, by now
  T miter_rad{}, pitch_rad{};  // under the clamp: 45 degrees and what it is off; the far end raised
  std::vector<T> stops;        // from each stop to the blade plane along the axis, mm
};

namespace saw {
template <class T>
BasicCutPlanes<T> planes_when_slid(const Program& program, const StateOf<T>& state, std::span<const T> slides,
                                   Workplace place = {});
template <class T>
BasicSeen<T> seen_by_the_work(const Program& program, const StateOf<T>& state, Workplace place = {});
}  // namespace saw

// True when the program, run at nominal parameters, gives the block's exact corners and nothing else. Knows only the
// block.
bool check_program(const Block& block, const Program& program, Mm stick);

// The work at a cut, before the blade passes. Frame of the saw: t from the stop to the blade, the stop's face crosses
// the axis at t = 0; a away from the operator, b up.
template <class T>
struct BasicAtTheStop {
  BasicBody<T> work;
  BasicPlane<T> blade;      // n.p <= c is kept
  BasicPlane<T> stop_face;  // n.p >= c: where the work can be
  T slid_mm{};              // how far the work was slid along t to touch the stop
};
using AtTheStop = BasicAtTheStop<double>;
AtTheStop at_the_stop(const Program& program, std::size_t cut, const SawState& state);

// The distance, in mm, that the stop must stand from the blade plane, along the stick's axis.
Mm stop_distance(const Stop& stop, Mm stick);

// The stick that one block uses up, between its two severing planes and one kerf, along the axis.
//   source   the blade crosses the axis at 45 degrees: a kerf takes sqrt 2 kerfs of the axis
Mm stick_used(const Program& program, const SawState& state);

}  // namespace stickwright
