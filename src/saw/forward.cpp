#include "saw/forward.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace stickwright {
namespace {

constexpr double kStickUnits = 64;  // half the length of the stick that is modelled; any block is far shorter

Body stick_body(const SawState& s) {
  // Two pairs of parallel sides. Their normals stand at 45 degrees to a and b, less half the corner error.
  const double phi = std::numbers::pi / 4 - s.corner_error_rad / 2;
  const Point n1 = {std::cos(phi), std::sin(phi), 0}, n2 = {std::cos(phi), -std::sin(phi), 0};
  const double far = kStickUnits * std::max(s.side_1_mm, s.side_2_mm);
  // Start from a box that is larger than the stick and clip it; then no corner needs working out by hand.
  const double wide = 2 * std::max(s.side_1_mm, s.side_2_mm);
  Body box;
  const Point corner[8] = {{-wide, -wide, -far}, {wide, -wide, -far}, {wide, wide, -far}, {-wide, wide, -far},
                           {-wide, -wide, far},  {wide, -wide, far},  {wide, wide, far},  {-wide, wide, far}};
  const int loops[6][4] = {{0, 3, 2, 1}, {4, 5, 6, 7}, {0, 1, 5, 4}, {2, 3, 7, 6}, {1, 2, 6, 5}, {0, 4, 7, 3}};
  for (const auto& loop : loops) {
    BodyFace f;
    for (int i : loop) f.loop.push_back(corner[i]);
    f.plane.n = cross(f.loop[1] - f.loop[0], f.loop[2] - f.loop[0]);
    f.plane.n = (1 / length(f.plane.n)) * f.plane.n;
    f.plane.c = dot(f.plane.n, f.loop[0]);
    box.faces.push_back(f);
  }
  for (Point n : {n1, -1.0 * n1}) box = clip(box, {n, s.side_1_mm / 2}, -1);
  for (Point n : {n2, -1.0 * n2}) box = clip(box, {n, s.side_2_mm / 2}, -1);
  return box;
}

// A quarter turn about t, `turns` times: +a goes to +b.
Placement quarter_turns(int turns) {
  constexpr int cosine[] = {1, 0, -1, 0}, sine[] = {0, 1, 0, -1};
  const int k = ((turns % 4) + 4) % 4;
  const double c = cosine[k], s = sine[k];
  return {{Point{c, -s, 0}, Point{s, c, 0}, Point{0, 0, 1}}, {}};
}

// How the work lies for a cut: rolled so that the miter to be cut faces the blade, turned end for end if need be.
Placement lay(const Cut& cut) {
  if (!cut.end_for_end) return quarter_turns(-cut.miter.lean);
  const Placement turned{{Point{-1, 0, 0}, Point{0, 1, 0}, Point{0, 0, -1}}, {}};  // half a turn about the vertical
  return quarter_turns(cut.miter.lean - 2) * turned;
}

Placement cradle(const SawState& s) {
  const double cr = std::cos(s.cradle_roll_rad), sr = std::sin(s.cradle_roll_rad);
  const double cp = std::cos(s.cradle_pitch_rad), sp = std::sin(s.cradle_pitch_rad);
  const Placement roll{{Point{cr, -sr, 0}, Point{sr, cr, 0}, Point{0, 0, 1}}, {}};
  const Placement pitch{{Point{1, 0, 0}, Point{0, cp, sp}, Point{0, -sp, cp}}, {}};
  return pitch * roll;
}

Point blade_normal(const SawState& s) {
  const double angle = std::numbers::pi / 4 + s.miter_error_rad;
  return {std::sin(angle) * std::cos(s.blade_tilt_rad), std::sin(s.blade_tilt_rad),
          std::cos(angle) * std::cos(s.blade_tilt_rad)};
}

// The plane with this normal that crosses the axis (a = b = 0) at t.
Plane across_axis(Point n, double t) {
  return {n, n.t * t};
}

// Where the stop's face crosses the axis when it touches the work: the least position over the work's corners.
double seat(const Body& work, Point stop_normal) {
  double least = INFINITY;
  for (const BodyFace& f : work.faces)
    for (Point p : f.loop) least = std::min(least, dot(stop_normal, p) / stop_normal.t);
  return least;
}

Plane flipped(const Plane& p) {
  return {-1.0 * p.n, -p.c};
}

Point stop_normal(const Stop& stop, const SawState& s) {
  return stop.face == StopFace::square ? Point{0, 0, 1} : blade_normal(s);
}

// The work, lying as it does for the cut, slid home: the stop's face crosses the axis at t = 0.
AtTheStop seated(const Body& laid, const Stop& stop, const SawState& s, double unit, double stop_error) {
  const Point face = stop_normal(stop, s);
  const double contact = seat(laid, face);
  AtTheStop at;
  at.slid_mm = -contact;
  at.work = moved({Placement{}.row, {0, 0, at.slid_mm}}, laid);
  at.stop_face = across_axis(face, 0);
  at.blade = across_axis(blade_normal(s), static_cast<double>(stop.distance) * unit + stop_error);
  return at;
}

// The starting miter is a severing cut of before: the same blade, with the stick beyond it kept.
Body start_stick(const Program& program, const SawState& s, double unit) {
  // What lies beyond the blade leans the other way round: the stick is rolled half a turn from how it is drawn.
  const Placement there = cradle(s) * quarter_turns(2 - program.start.lean);
  const Body laid = moved(there, stick_body(s));
  const Plane blade = across_axis(blade_normal(s), static_cast<double>(program.start.at) * unit);
  return moved(there.inverse(), clip(laid, flipped(blade), 0));
}

double unit_of(const SawState& s) {
  return unit_mm(Mm{(s.side_1_mm + s.side_2_mm) / 2});
}

AtTheStop seat_for_cut(const Body& work, const Program& program, std::size_t i, const SawState& state) {
  const Cut& cut = program.cuts[i];
  const auto k = static_cast<std::size_t>(cut.stop);
  const double error = k < state.stop_error_mm.size() ? state.stop_error_mm[k] : 0;
  return seated(moved(cradle(state) * lay(cut), work), program.stops[k], state, unit_of(state), error);
}

// The work after the first `count` cuts, in its own frame.
Body run_cuts(const Program& program, const SawState& state, std::size_t count) {
  Body work = start_stick(program, state, unit_of(state));
  for (std::size_t i = 0; i < count && !work.faces.empty(); ++i) {
    const AtTheStop at = seat_for_cut(work, program, i, state);
    const Placement there = Placement{Placement{}.row, {0, 0, at.slid_mm}} * cradle(state) * lay(program.cuts[i]);
    work = moved(there.inverse(), clip(at.work, at.blade, static_cast<int>(i) + 1));
  }
  return work;
}

}  // namespace

SawState nominal_saw(Mm stick) {
  SawState s;
  s.side_1_mm = s.side_2_mm = stick.v;
  return s;
}

double unit_mm(Mm stick) {
  return stick.v / std::numbers::sqrt2;
}

Mm stop_distance(const Stop& stop, Mm stick) {
  return Mm{static_cast<double>(stop.distance) * unit_mm(stick)};
}

Body run_program(const Program& program, const SawState& state) {
  return run_cuts(program, state, program.cuts.size());
}

bool check_program(const Block& block, const Program& program, Mm stick) {
  const std::vector<Point> real = corners_of(run_program(program, nominal_saw(stick)));
  const std::vector<Vec> exact = corners_in_work_frame(block, program);
  const double unit = unit_mm(stick);
  return real.size() == exact.size() && std::all_of(exact.begin(), exact.end(), [&](Vec v) {
           const Point p = unit * Point{static_cast<double>(v.x), static_cast<double>(v.y), static_cast<double>(v.z)};
           return std::any_of(real.begin(), real.end(), [&](Point q) { return length(p - q) < kSameCornerMm; });
         });
}

AtTheStop at_the_stop(const Program& program, std::size_t cut, const SawState& state) {
  return seat_for_cut(run_cuts(program, state, cut), program, cut, state);
}

}  // namespace stickwright
