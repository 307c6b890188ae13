#include "saw/plain_model.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace stickwright::plain {
namespace {

constexpr double kOutside = 1e-10;   // mm: no farther outside is rounding
constexpr double kNoCorner = 1e-13;  // of the determinant of three normals: below this it is rounding
constexpr double kRounding = 1e-12;  // mm, of what goes into a corner
constexpr double kQuarter = std::numbers::pi / 4;

using Turn = std::array<Triple, 3>;  // rows

double times(const Triple& x, const Triple& y) {
  return x[0] * y[0] + x[1] * y[1] + x[2] * y[2];
}

// Turns by an angle from axis i towards axis j.
Turn turn(int i, int j, double angle) {
  Turn r{};
  for (int k = 0; k < 3; ++k) r[k][k] = 1;
  r[i][i] = r[j][j] = std::cos(angle);
  r[j][i] = std::sin(angle);
  r[i][j] = -std::sin(angle);
  return r;
}

Turn after(const Turn& second, const Turn& first) {
  Turn r{};
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j)
      for (int k = 0; k < 3; ++k) r[i][j] += second[i][k] * first[k][j];
  return r;
}

// The direction in the work that points along n at the saw.
Triple seen_from_work(const Turn& to_saw, const Triple& n) {
  Triple w{};
  for (int i = 0; i < 3; ++i)
    for (int k = 0; k < 3; ++k) w[i] += to_saw[k][i] * n[k];
  return w;
}

// The V itself: rolled, the flank away from the operator higher; then its far end raised.
Turn cradle(const SawState& saw) {
  const auto& c = saw.cradles[0];
  return after(turn(2, 1, c.pitch_rad + c.pitch_per_n * saw.clamp_change_n), turn(0, 1, c.roll_rad));
}

Triple blade_normal(const SawState& saw) {
  const double level = kQuarter + saw.miter_error_rad + saw.cradles[0].yaw_per_n * saw.clamp_change_n;
  const double tilt = saw.blade_tilt_rad;
  return {std::sin(level) * std::cos(tilt), std::sin(tilt), std::cos(level) * std::cos(tilt)};
}

double lean_angle(int lean) {
  return lean * 2 * kQuarter;
}

// A far miter leans along its lean, which the roll brings to +a. Turned end for end, about the vertical, the lean of a
// near miter points the other way in a.
Turn work_to_saw(const Cut& cut, const SawState& saw) {
  const double lean = lean_angle(cut.miter.lean);
  if (!cut.end_for_end) return after(cradle(saw), turn(0, 1, -lean));
  const double seen = std::atan2(std::sin(lean), -std::cos(lean));
  return after(cradle(saw), after(turn(0, 1, -seen), turn(0, 2, 4 * kQuarter)));
}

std::vector<Half> stick(const SawState& saw) {
  const auto& s = saw.sticks[0];
  const double grown_1 = s.side_1_mm * (1 + s.movement_1 * s.moisture_change);
  const double grown_2 = s.side_2_mm * (1 + s.movement_2 * s.moisture_change);
  // The corner up is the angle between two sides whose normals are 180 degrees less that angle apart.
  const double up = 2 * kQuarter + s.corner_error_rad;
  const double c = std::cos(up / 2), d = std::sin(up / 2);
  return {{{c, d, 0}, grown_1 / 2, -1},  {{-c, -d, 0}, grown_1 / 2, -2}, {{c, -d, 0}, grown_2 / 2, -3},
          {{-c, d, 0}, grown_2 / 2, -4}, {{0, 0, -1}, 1000, -5},         {{0, 0, 1}, 1000, -6}};
}

Half starting_miter(const Program& program, const SawState& saw) {
  const Turn to_saw = after(cradle(saw), turn(0, 1, 4 * kQuarter - lean_angle(program.start.lean)));
  const Triple n = blade_normal(saw);
  const double at = static_cast<double>(program.start.at) * saw.planned_mm / std::sqrt(2.0);
  Half h{seen_from_work(to_saw, n), n[2] * at, 0};
  for (double& x : h.n) x = -x;
  h.c = -h.c;
  return h;
}

double number(const std::vector<double>& all, std::size_t i) {
  return i < all.size() ? all[i] : 0;
}

Half cut_by(const std::vector<Half>& body, const Program& program, std::size_t i, const SawState& saw) {
  const Cut& cut = program.cuts[i];
  const Turn to_saw = work_to_saw(cut, saw);
  const Triple blade = blade_normal(saw);
  const bool square = program.stops[static_cast<std::size_t>(cut.stop)].face == StopFace::square;
  const Triple face = square ? Triple{0, 0, 1} : blade;
  const Triple face_in_work = seen_from_work(to_saw, face);
  double nearest = INFINITY;
  for (const Corner& p : corners(body)) nearest = std::min(nearest, times(face_in_work, p.at) / face[2]);
  const double crosses = plain::distance(program, i, saw) + nearest;
  return {seen_from_work(to_saw, blade), blade[2] * crosses - saw.run_out_mm, static_cast<int>(i) + 1};
}

double determinant(const Triple& x, const Triple& y, const Triple& z) {
  return x[0] * (y[1] * z[2] - y[2] * z[1]) - x[1] * (y[0] * z[2] - y[2] * z[0]) + x[2] * (y[0] * z[1] - y[1] * z[0]);
}

// Cramer's rule.   returns  how far the three are from meeting in a line or not at all: 1 for square planes, 0 for none
double meet(const Half& f, const Half& g, const Half& h, Triple& p) {
  const double whole = determinant(f.n, g.n, h.n);
  if (std::abs(whole) < kNoCorner) return 0;
  for (int i = 0; i < 3; ++i) {
    Triple x = f.n, y = g.n, z = h.n;
    x[i] = f.c, y[i] = g.c, z[i] = h.c;
    p[i] = determinant(x, y, z) / whole;
  }
  return std::abs(whole);
}

}  // namespace

double distance(const Program& program, std::size_t cut, const SawState& saw) {
  const auto k = static_cast<std::size_t>(program.cuts[cut].stop);
  const double wanted = static_cast<double>(program.stops[k].distance) * saw.planned_mm / std::sqrt(2.0);
  const double when_set = saw.gauge_temperature_c - 20, at_the_cut = when_set + saw.cradle_warmer_k;
  double standing = 0, stack_left = 0;
  if (program.stops[k].face == StopFace::square) {
    stack_left = number(saw.stack_behind_mm, k);
    standing = saw.back_to_blade_mm - wanted - stack_left;
  } else {
    standing = saw.back_to_blade_mm - (wanted + wanted * saw.gauge_expansion * when_set);
  }
  const double sled = saw.back_to_blade_mm + saw.back_to_blade_mm * saw.sled_expansion * saw.cradle_warmer_k;
  const double stop = standing + standing * saw.stop_expansion * saw.cradle_warmer_k;
  const double stack = stack_left + stack_left * saw.gauge_expansion * at_the_cut;
  return sled - stop - stack + number(saw.stop_error_mm, k) - number(saw.seating_mm, cut);
}

std::vector<Corner> corners(const std::vector<Half>& body) {
  std::vector<Corner> found;
  for (std::size_t i = 0; i < body.size(); ++i)
    for (std::size_t j = i + 1; j < body.size(); ++j)
      for (std::size_t k = j + 1; k < body.size(); ++k) {
        Triple p{};
        const double spread = meet(body[i], body[j], body[k], p);
        if (spread == 0) continue;
        if (std::all_of(body.begin(), body.end(), [&](const Half& h) { return times(h.n, p) <= h.c + kOutside; }))
          found.push_back({p, kRounding / spread});
      }
  return found;
}

std::vector<Half> half_spaces(const Program& program, const SawState& saw) {
  std::vector<Half> body = stick(saw);
  body.push_back(starting_miter(program, saw));
  for (std::size_t i = 0; i < program.cuts.size(); ++i) body.push_back(cut_by(body, program, i, saw));
  return body;
}

}  // namespace stickwright::plain
