#include "saw/forward.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

namespace stickwright {
namespace {

constexpr double kStickUnits = 64;  // half the length of the stick that is modelled; any block is far shorter
constexpr double kRightAngle = std::numbers::pi / 2;

using std::cos;
using std::sin;

double value_of(double x) {
  return x;
}
double value_of(Dual x) {
  return x.v;
}

// The stick at the saw: as milled, and moved by the moisture since.
template <class T>
struct Section {
  T side_1, side_2, corner_error;
};
template <class T>
Section<T> section_now(const StickOf<T>& s) {
  return {s.side_1_mm * (T(1) + s.movement_1 * s.moisture_change),
          s.side_2_mm * (T(1) + s.movement_2 * s.moisture_change), s.corner_error_rad};
}

// The stick: two pairs of parallel sides; two ends far away. The corners up and down are twice the angle between a and
// the normals: 45 degrees and half the corner error.
template <class T>
BasicBody<T> stick_body(const Section<T>& s) {
  const T phi = T(kRightAngle / 2) + s.corner_error * T(0.5), ca = cos(phi), sb = sin(phi);
  const T half_1 = s.side_1 * T(0.5), half_2 = s.side_2 * T(0.5);
  const T far = kStickUnits * std::max(value_of(s.side_1), value_of(s.side_2));
  // Where the lines n1.p = c1 and n2.p = c2 meet, n1 = (ca, sb), n2 = (ca, -sb).
  const auto corner = [&](double way_1, double way_2, T t) {
    const T c1 = T(way_1) * half_1, c2 = T(way_2) * half_2;
    return BasicPoint<T>{(c1 + c2) / (T(2) * ca), (c1 - c2) / (T(2) * sb), t};
  };
  using Loop = std::vector<BasicPoint<T>>;
  // Corner lines away, up, near, down.
  const std::array<std::array<double, 2>, 4> ways = {{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}}};
  const auto at = [&](int k, T t) { return corner(ways[k % 4][0], ways[k % 4][1], t); };
  const auto side = [&](int from, BasicPoint<T> n, T c, int number) {
    return BasicFace<T>{{n, c},
                        Loop{at(from, T(-1) * far), at(from + 1, T(-1) * far), at(from + 1, far), at(from, far)},
                        stick_side(number)};
  };
  const BasicPoint<T> n1 = {ca, sb, 0}, n2 = {ca, T(-1) * sb, 0};
  BasicBody<T> body;
  body.faces = {side(0, n1, half_1, 0), side(2, T(-1) * n1, half_1, 1), side(3, n2, half_2, 2),
                side(1, T(-1) * n2, half_2, 3)};
  Loop low, high;
  for (int k = 0; k < 4; ++k) low.push_back(at(3 - k, T(-1) * far)), high.push_back(at(k, far));
  body.faces.push_back({{{0, 0, -1}, far}, low, stick_side(4)});
  body.faces.push_back({{{0, 0, 1}, far}, high, stick_side(5)});
  return body;
}

// A quarter turn about t, `turns` times: +a goes to +b.
template <class T>
BasicPlacement<T> quarter_turns(int turns) {
  constexpr int cosine[] = {1, 0, -1, 0}, sine[] = {0, 1, 0, -1};
  const int k = ((turns % 4) + 4) % 4;
  const double c = cosine[k], s = sine[k];
  return {{BasicPoint<T>{c, -s, 0}, BasicPoint<T>{s, c, 0}, BasicPoint<T>{0, 0, 1}}, {}};
}

// How the work lies for a cut: rolled so that the miter to be cut faces the blade, turned end for end if need be.
template <class T>
BasicPlacement<T> lay(const Cut& cut) {
  if (!cut.end_for_end) return quarter_turns<T>(-cut.miter.lean);
  // Half a turn about the vertical.
  const BasicPlacement<T> turned{{BasicPoint<T>{-1, 0, 0}, BasicPoint<T>{0, 1, 0}, BasicPoint<T>{0, 0, -1}}, {}};
  return quarter_turns<T>(cut.miter.lean - 2) * turned;
}

// The clamp turns the stick, too.
template <class T>
T miter_now(const StateOf<T>& s, const CradleOf<T>& c) {
  return T(kRightAngle / 2) + s.miter_error_rad + c.yaw_per_n * s.clamp_change_n;
}
template <class T>
T pitch_now(const StateOf<T>& s, const CradleOf<T>& c) {
  return c.pitch_rad + c.pitch_per_n * s.clamp_change_n;
}

// What all cuts of a program have in common.
template <class T>
struct Bench {
  BasicPlacement<T> cradle;  // from the nominal V to the true one
  BasicPoint<T> blade;       // normal
  const StateOf<T>* state;
  double unit;
};

template <class T>
Bench<T> bench_of(const StateOf<T>& s, Workplace place) {
  const CradleOf<T>& c = s.cradles[place.cradle];
  const T pitch_rad = pitch_now(s, c);
  const T cr = cos(c.roll_rad), sr = sin(c.roll_rad), cp = cos(pitch_rad), sp = sin(pitch_rad);
  const BasicPlacement<T> roll{{BasicPoint<T>{cr, T(-1) * sr, 0}, BasicPoint<T>{sr, cr, 0}, BasicPoint<T>{0, 0, 1}},
                               {}};
  const BasicPlacement<T> pitch{{BasicPoint<T>{1, 0, 0}, BasicPoint<T>{0, cp, sp}, BasicPoint<T>{0, T(-1) * sp, cp}},
                                {}};
  const T angle = miter_now(s, c);
  const T level = cos(s.blade_tilt_rad);
  return {pitch * roll, {sin(angle) * level, sin(s.blade_tilt_rad), cos(angle) * level}, &s, unit_mm(Mm{s.planned_mm})};
}

// The plane with this normal that crosses the axis (a = b = 0) at t.
template <class T>
BasicPlane<T> across_axis(BasicPoint<T> n, T t) {
  return {n, n.t * t};
}

// Where the stop's face crosses the axis when it touches the work: the least position over the work's corners.
template <class T>
T seat(const BasicBody<T>& work, BasicPoint<T> stop_normal) {
  std::optional<T> least;
  for (const BasicFace<T>& f : work.faces)
    for (BasicPoint<T> p : f.loop) {
      const T position = dot(stop_normal, p) / stop_normal.t;
      if (!least || sign_of(position - *least) < 0) least = position;
    }
  return *least;
}

template <class T>
T part_of(const std::vector<T>& numbers, std::size_t i) {
  return i < numbers.size() ? numbers[i] : T(0);
}

// From the stop's face to the blade plane along the axis, once the stop stands: the sled between back stop and blade,
// less what stands on it. A mitered stop was cut to length by a stack that was then taken away; a square one has the
// length it was measured to have, and its stack stays.
//   source   docs/derivations/true-cuts.md
template <class T>
T standing_distance(const StateOf<T>& s, StopFace face, T planned, double behind_mm) {
  const T warm = s.gauge_temperature_c - T(20), since = s.cradle_warmer_k;
  const T sled = s.back_to_blade_mm * (T(1) + s.sled_expansion * since);
  if (face == StopFace::mitered) {
    const T length = s.back_to_blade_mm - planned * (T(1) + s.gauge_expansion * warm);
    return sled - length * (T(1) + s.stop_expansion * since);
  }
  const T length = s.back_to_blade_mm - planned - T(behind_mm);
  return sled - length * (T(1) + s.stop_expansion * since) - behind_mm * (T(1) + s.gauge_expansion * (warm + since));
}

// The same for a stop of the program, with its error.
template <class T>
T stop_now(const Program& program, const StateOf<T>& s, std::size_t k) {
  const T planned = static_cast<double>(program.stops[k].distance) * unit_mm(Mm{s.planned_mm});
  return standing_distance(s, program.stops[k].face, planned, part_of(s.stack_behind_mm, k)) +
         part_of(s.stop_error_mm, k);
}

// From the contact to the blade plane along the axis, with all that lengthens and shortens it.
template <class T>
T true_distance(const Bench<T>& bench, const Program& program, std::size_t cut) {
  return stop_now(program, *bench.state, static_cast<std::size_t>(program.cuts[cut].stop)) -
         part_of(bench.state->seating_mm, cut);
}

// How the work lies for a cut, not yet slid home.
template <class T>
BasicPlacement<T> laid_for(const Cut& cut, const Bench<T>& bench) {
  return bench.cradle * lay<T>(cut);
}

template <class T>
BasicPlacement<T> slide_by(T mm) {
  return {BasicPlacement<T>{}.row, {0, 0, mm}};
}

template <class T>
BasicPoint<T> stop_normal(const Program& program, const Cut& cut, const Bench<T>& bench) {
  const bool square = program.stops[static_cast<std::size_t>(cut.stop)].face == StopFace::square;
  return square ? BasicPoint<T>{0, 0, 1} : bench.blade;
}

template <class T>
BasicPlane<T> blade_plane(const Program& program, std::size_t i, const Bench<T>& bench) {
  BasicPlane<T> blade = across_axis(bench.blade, true_distance(bench, program, i));
  blade.c = blade.c - bench.state->run_out_mm;
  return blade;
}

// The work, lying as it does for the cut, slid home: the stop's face crosses the axis at t = 0.
template <class T>
BasicAtTheStop<T> seat_for_cut(const BasicBody<T>& work, const Program& program, std::size_t i, const Bench<T>& bench) {
  const Cut& cut = program.cuts[i];
  const BasicPoint<T> face = stop_normal(program, cut, bench);
  const BasicBody<T> laid = moved(laid_for(cut, bench), work);
  BasicAtTheStop<T> at;
  at.slid_mm = T(-1) * seat(laid, face);
  at.work = moved(slide_by(at.slid_mm), laid);
  at.stop_face = across_axis(face, T(0));
  at.blade = blade_plane(program, i, bench);
  return at;
}

// The starting miter is a severing cut of before: the same blade, with the stick beyond it kept. What lies beyond the
// blade leans the other way round: the stick is rolled half a turn from how it is drawn.
template <class T>
BasicPlacement<T> laid_for_start(const Program& program, const Bench<T>& bench) {
  return bench.cradle * quarter_turns<T>(2 - program.start.lean);
}
template <class T>
BasicPlane<T> start_blade(const Program& program, const Bench<T>& bench) {
  const BasicPlane<T> blade = across_axis(bench.blade, T(static_cast<double>(program.start.at) * bench.unit));
  return {T(-1) * blade.n, T(-1) * blade.c};
}

template <class T>
BasicBody<T> start_stick(const Program& program, const Bench<T>& bench, const StickOf<T>& stick) {
  const BasicPlacement<T> there = laid_for_start(program, bench);
  const BasicBody<T> laid = moved(there, stick_body(section_now(stick)));
  return moved(there.inverse(), clip(laid, start_blade(program, bench), 0));
}

// The work after the first `count` cuts, in its own frame.
template <class T>
BasicBody<T> run_cuts(const Program& program, const Bench<T>& bench, const StickOf<T>& stick, std::size_t count) {
  BasicBody<T> work = start_stick(program, bench, stick);
  for (std::size_t i = 0; i < count && !work.faces.empty(); ++i) {
    const BasicAtTheStop<T> at = seat_for_cut(work, program, i, bench);
    const BasicPlacement<T> there = slide_by(at.slid_mm) * laid_for(program.cuts[i], bench);
    work = moved(there.inverse(), clip(at.work, at.blade, static_cast<int>(i) + 1));
  }
  return work;
}

template <class T>
BasicPlane<T> carried_back(const BasicPlacement<T>& there, BasicPlane<T> plane) {
  return {BasicPlacement<T>{there.row, {}}.inverse() * plane.n, plane.c - dot(plane.n, there.shift)};
}

}  // namespace

double unit_mm(Mm stick) {
  return stick.v / std::numbers::sqrt2;
}

Mm stop_distance(const Stop& stop, Mm stick) {
  return Mm{static_cast<double>(stop.distance) * unit_mm(stick)};
}

Mm stick_used(const Program& program, const SawState& state) {
  return Mm{static_cast<double>(program.length) * unit_mm(Mm{state.planned_mm}) + std::numbers::sqrt2 * state.kerf_mm};
}

namespace saw {

template <class T>
BasicBody<T> cut(const Program& program, const StateOf<T>& state, Workplace place) {
  return run_cuts(program, bench_of(state, place), state.sticks[place.stick], program.cuts.size());
}
template Body cut(const Program&, const SawState&, Workplace);
template BasicBody<Dual> cut(const Program&, const StateOf<Dual>&, Workplace);

template <class T>
BasicCutPlanes<T> planes_when_slid(const Program& program, const StateOf<T>& state, std::span<const T> slides,
                                   Workplace place) {
  const Bench<T> bench = bench_of(state, place);
  BasicCutPlanes<T> out;
  const BasicBody<T> stick = stick_body(section_now(state.sticks[place.stick]));
  for (int k = 0; k < kStickSides; ++k) out.planes.push_back(face_made_by(stick, stick_side(k))->plane);
  out.planes.push_back(carried_back(laid_for_start(program, bench), start_blade(program, bench)));
  for (std::size_t i = 0; i < program.cuts.size(); ++i) {
    const BasicPlacement<T> laid = laid_for(program.cuts[i], bench);
    const BasicPoint<T> face = stop_normal(program, program.cuts[i], bench);
    out.towards_stop.push_back((T(-1) / face.t) * carried_back(laid, BasicPlane<T>{face, 0}).n);
    out.planes.push_back(carried_back(slide_by(slides[i]) * laid, blade_plane(program, i, bench)));
  }
  return out;
}
template BasicCutPlanes<double> planes_when_slid(const Program&, const SawState&, std::span<const double>, Workplace);
template BasicCutPlanes<Dual> planes_when_slid(const Program&, const StateOf<Dual>&, std::span<const Dual>, Workplace);

template <class T>
BasicSeen<T> seen_by_the_work(const Program& program, const StateOf<T>& state, Workplace place) {
  const Section<T> section = section_now(state.sticks[place.stick]);
  const CradleOf<T>& cradle = state.cradles[place.cradle];
  BasicSeen<T> seen = {section.side_1, section.side_2, miter_now(state, cradle), pitch_now(state, cradle), {}};
  for (std::size_t k = 0; k < program.stops.size(); ++k) seen.stops.push_back(stop_now(program, state, k));
  return seen;
}
template BasicSeen<double> seen_by_the_work(const Program&, const SawState&, Workplace);
template BasicSeen<Dual> seen_by_the_work(const Program&, const StateOf<Dual>&, Workplace);

}  // namespace saw

bool check_program(const Block& block, const Program& program, Mm stick) {
  const std::vector<Point> real = corners_of(saw::cut(program, nominal_saw(stick)));
  const std::vector<Vec> exact = corners_in_work_frame(block, program);
  const double unit = unit_mm(stick);
  return real.size() == exact.size() && std::all_of(exact.begin(), exact.end(), [&](Vec v) {
           const Point p = unit * Point{static_cast<double>(v.x), static_cast<double>(v.y), static_cast<double>(v.z)};
           return std::any_of(real.begin(), real.end(), [&](Point q) { return length(p - q) < kSameCornerMm; });
         });
}

AtTheStop at_the_stop(const Program& program, std::size_t cut, const SawState& state) {
  const Bench<double> bench = bench_of(state, {});
  return seat_for_cut(run_cuts(program, bench, state.sticks[0], cut), program, cut, bench);
}

}  // namespace stickwright
