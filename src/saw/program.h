// program.h - the list of cuts that makes a block: rolls, ends, order, stops and what touches them. Exact, in units.
//
// Frame of the work, in lattice units u = s / sqrt 2: t along the stick from the near end (at the stop) to the far one,
// a and b along the two diagonals of its section, the stick's axis at a = b = 0, its corner lines at a = ±1 and b = ±1.
// A miter leans along one of four directions: lean 0 is +a, 1 is +b, 2 is -a, 3 is -b.
//   far miter   t + lean.(a, b) <= at        near miter   t - lean.(a, b) >= at
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "block/catalogue.h"
#include "exact/polytope.h"

namespace stickwright {

enum class End { near, far };
enum class StopFace { square, mitered };  // mitered: parallel to the blade plane
enum class Seating { point, edge, face };
const char* to_string(End end);
const char* to_string(StopFace face);
const char* to_string(Seating contact);

struct Miter {
  End end = End::far;
  int lean = 0;
  std::int64_t at = 0;  // where the plane crosses the stick's axis
  friend auto operator<=>(const Miter&, const Miter&) = default;
};
HalfSpace plane_of(const Miter& m);  // in (a, b, t)

// A place for the stop: its face, and the distance along the stick's axis from the contact to the blade plane.
struct Stop {
  StopFace face = StopFace::square;
  std::int64_t distance = 0;         // units
  Seating contact = Seating::point;  // the least repeatable of the contacts made at it
  friend auto operator<=>(const Stop&, const Stop&) = default;
};

// Where the corner with the pencil line points when the work lies in the cradle, seen from the blade towards the stop.
enum class Pencil {
  away,
  up,
  near,
  down
};  // away: from the operator, the side where the blade comes nearest to the stop
const char* to_string(Pencil p);

struct Cut {
  Miter miter;
  int stop = 0;  // index into Program::stops
  Seating contact = Seating::point;
  bool on_stick = true;      // the stick is severed; else the loose block is trimmed
  bool severs = false;       // parts the block from the stick
  bool end_for_end = false;  // the block lies turned, its far end at the stop
  Pencil pencil = Pencil::up;
};

struct Program {
  int stick_axis = 2;           // of the block's canonical pose
  Isometry to_stick;            // canonical lattice points to the standard stick, along z, axis through (1, 0)
  Miter start;                  // the near miter that the cut before has left on the stick
  bool start_is_a_face = true;  // false: it is only there to be trimmed away
  std::vector<Stop> stops;      // the one that severs first
  std::vector<Cut> cuts;        // in order
  std::int64_t length = 0;      // stick used up between the two severing planes, units; the kerf comes on top
};

struct PlanLimits {
  double closest_stop = 0;   // units: the blade plane passes no nearer than this to the stop's face
  bool square_stops = true;  // false: the shop has none
};

// What is kept always lies between stop and blade: a stop tells where the blade's near side passes, and the other side
// is a kerf away. The program with the fewest tips against a mitered stop (a point against a slope, hardly repeatable),
// then the fewest stops (each must be set and proved), cuts, contacts in a point, edge contacts, the least stick, the
// best contact for the severing cut, the fewest cuts on the loose block and turns end for end.
//   returns  nothing when every way brings the blade nearer to a stop than limits.closest_stop
//   exact    complete over axes, ends, starting miters, severing miters, orders and stop faces
//   source   docs/derivations/cut-programs.md
std::optional<Program> plan_cuts(const Block& block, const PlanLimits& limits = {});

// Where the point of the miter that the cut before has left lies, when the work lies as it does for this cut.
Pencil start_point(const Program& program, std::size_t cut);

// Takes the block's canonical lattice points to the frame of the work.
Isometry to_work_frame(const Program& program);

// The block's exact corners in the frame of the work, in the order of block.body.corners.
std::vector<Vec> corners_in_work_frame(const Block& block, const Program& program);

}  // namespace stickwright
