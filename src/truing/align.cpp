#include "truing/align.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace stickwright {
namespace {

constexpr int kMostSteps = 8;       // each one squares what is left; three are enough for errors of a degree
constexpr double kStill = 1e-6;     // of an unknown's scale: the step moves nothing any more
constexpr double kMostOff = 0.05;   // rad, about 3 degrees: our own guess of how far off a saw may be, 1 sigma
constexpr double kMatters = 1e-3;   // rad, mm: a change of an unknown that would matter
constexpr double kCaliperU = 0.01;  // mm, of a candidate reading by caliper or indicator; common practice, no source
constexpr double kEyeU = 0.005 / 1.7320508;  // mm, of a light gap; common practice, no source
constexpr double kArm = 60;                  // mm, of a candidate reading with the square

// The unknowns, in order: the four errors of truing first.
enum Index { kMiter, kTilt, kRoll, kPitch, kWidth1, kWidth2, kCorner, kSquare, kLength };

std::vector<Unknown> unknowns_of(bool with_length) {
  std::vector<Unknown> out = {{"miter", "rad", kMatters},
                              {"tilt", "rad", kMatters},
                              {"roll", "rad", kMatters},
                              {"pitch", "rad", kMatters},
                              {"width 1", "mm", kMatters},
                              {"width 2", "mm", kMatters},
                              {"squareness of the stick", "rad", kMatters},
                              {"square", "rad", kMatters}};
  if (with_length) out.push_back({"length of the truing block", "mm", kMatters});
  return out;
}

template <class T>
StateOf<T> state_at(const std::vector<T>& x, double planned_mm) {
  StateOf<T> s;
  s.planned_mm = planned_mm;
  s.gauge_temperature_c = T(20);
  s.miter_error_rad = x[kMiter];
  s.blade_tilt_rad = x[kTilt];
  s.cradles[0].roll_rad = x[kRoll];
  s.cradles[0].pitch_rad = x[kPitch];
  s.sticks[0].side_1_mm = x[kWidth1];
  s.sticks[0].side_2_mm = x[kWidth2];
  s.sticks[0].corner_error_rad = x[kCorner];
  s.stop_error_mm = {x.size() > kLength ? x[kLength] : T(0)};
  return s;
}

// The saw as the unknowns stand, and with each of them changing by itself. The truing block stands on its tip, one
// corner, so its shape has no kinks and one side of each derivative is enough.
struct Linearized {
  std::vector<StateOf<Dual>> states;  // one an unknown
  std::vector<BlockShape<Dual>> blocks;
  std::vector<double> x;
};

Linearized linearized_at(const std::vector<double>& x, double planned_mm) {
  Linearized l;
  l.x = x;
  for (std::size_t k = 0; k < x.size(); ++k) {
    std::vector<Dual> dual(x.begin(), x.end());
    dual[k].d = 1;
    l.states.push_back(state_at(dual, planned_mm));
    l.blocks.push_back(k == kSquare ? l.blocks.front() : block_shape(l.states.back()));
  }
  return l;
}

// The reading as the unknowns stand, and how it changes with each of them.
LinearRow row_of(const Observation& o, const Linearized& at) {
  LinearRow row;
  row.name = name_of(o);
  row.u = o.u.v;
  const double by_square = sign_of_square(o.look) * o.over.v;
  double expected = 0;
  for (std::size_t k = 0; k < at.x.size(); ++k) {
    const Dual reading = expected_reading(o, at.states[k], at.blocks[k]);
    expected = reading.v;
    row.coefficients.push_back(k == kSquare ? by_square : reading.d);
  }
  expected += by_square * at.x[kSquare];
  row.observed = o.measured.v - expected;
  return row;
}

LinearSystem system_at(std::span<const Observation> readings, const TruingKnowledge& known, const Linearized& at,
                       const std::vector<Unknown>& unknowns) {
  LinearSystem s;
  s.unknowns = unknowns;
  for (const Observation& o : readings) s.rows.push_back(row_of(o, at));
  const std::vector<double>& x = at.x;
  const double stick = known.stick.v;
  s.priors = {{kWidth1, stick - x[kWidth1], known.u_width_mm},
              {kWidth2, stick - x[kWidth2], known.u_width_mm},
              {kCorner, -x[kCorner], known.u_corner_rad},
              {kSquare, -x[kSquare], known.u_square_rad}};
  return s;
}

// Readings that could be taken besides; a difference of two lengths needs no length of the block.
std::vector<CandidateRow> candidates(const Linearized& at) {
  std::vector<CandidateRow> out;
  const auto add = [&](Observation o, double u) {
    const LinearRow row = row_of(o, at);
    out.push_back({name_of(o), row.coefficients, u});
  };
  add({Look::point, 0, {}, Mm{kArm}, Mm{kEyeU}}, kEyeU);
  add({Look::blade, 0, {}, Mm{kArm}, Mm{kEyeU}}, kEyeU);
  add({Look::bar, 0, {}, Mm{100}, Mm{kCaliperU}}, kCaliperU);
  add({Look::flanks, 0, {}, Mm{30}, Mm{kCaliperU}}, kCaliperU);
  for (int corner : {0, 1}) {
    const LinearRow here = row_of({Look::corner_length, corner, {}, {}, Mm{1}}, at);
    const LinearRow there = row_of({Look::corner_length, corner + 2, {}, {}, Mm{1}}, at);
    CandidateRow row{corner == 0 ? "truing block: its corners away and near, one less the other"
                                 : "truing block: its corners up and down, one less the other",
                     {},
                     kCaliperU * std::sqrt(2.0)};
    for (std::size_t k = 0; k < at.x.size(); ++k)
      row.coefficients.push_back(here.coefficients[k] - there.coefficients[k]);
    out.push_back(std::move(row));
  }
  return out;
}

std::vector<double> true_saw(const std::vector<Unknown>& unknowns, double stick_mm) {
  std::vector<double> x(unknowns.size(), 0);
  x[kWidth1] = x[kWidth2] = stick_mm;
  return x;
}

// "tilt" when it is simply unseen; else what makes up for what: "miter +0.01 degrees and length of the truing block
// +0.683 mm".
std::string hidden_in_words(const HiddenDirection& d, const std::vector<Unknown>& unknowns) {
  constexpr double kShown = 0.01 * std::numbers::pi / 180;  // the largest of the angles is shown as so much
  double largest = 0;
  std::vector<std::size_t> moved;
  for (std::size_t j = 0; j < unknowns.size(); ++j) {
    if (d.change[j] != 0) moved.push_back(j);
    if (unknowns[j].unit == "rad") largest = std::max(largest, std::abs(d.change[j]));
  }
  if (moved.size() == 1) return unknowns[moved[0]].name;
  const double times = largest > 0 ? kShown / largest : 1;
  std::string out;
  for (std::size_t j : moved) {
    const bool angle = unknowns[j].unit == "rad";
    const double change = d.change[j] * times * (angle ? 180 / std::numbers::pi : 1);
    out += fmt::format("{}{} {:+.2g} {}", out.empty() ? "" : " and ", unknowns[j].name, change,
                       angle ? "degrees" : unknowns[j].unit);
  }
  return out;
}

// What can be seen is asked of a saw that is true: on one that is off, what is hidden shows a little by its square.
void find_hidden(Alignment& a, const LinearFit& fit) {
  for (const HiddenDirection& d : fit.hidden) a.hidden.push_back(hidden_in_words(d, a.unknowns));
  for (std::size_t e = 0; e < a.errors.size(); ++e) a.errors[e].seen = fit.determined[e];
}

// The reading that would show most of what is hidden; else the one that sharpens the least known of the four most.
void find_next(Alignment& a, const LinearSystem& system, const Linearized& at) {
  const auto rows = candidates(at);
  std::optional<std::size_t> goal;
  if (a.hidden.empty()) {
    goal = 0;
    for (std::size_t e = 1; e < a.errors.size(); ++e)
      if (a.errors[e].u_rad > a.errors[*goal].u_rad) goal = e;
  }
  const auto order = most_telling(system, rows, goal);
  if (order.empty()) return;
  a.next = rows[order[0].candidate].name;
  a.next_shows_more = order[0].hidden + 0.5 < static_cast<double>(a.hidden.size());
}

// Steps of least squares about the point reached, until nothing moves. What is not seen stays where it is.
std::vector<double> solved(Alignment& a, std::span<const Observation> readings, const TruingKnowledge& known) {
  std::vector<double> x = true_saw(a.unknowns, known.stick.v);
  for (int step = 0; step < kMostSteps; ++step) {
    LinearSystem system = system_at(readings, known, linearized_at(x, known.stick.v), a.unknowns);
    for (std::size_t e = 0; e < a.errors.size(); ++e)
      if (!a.errors[e].seen) system.priors.push_back({e, -x[e], kMostOff});
    a.fit = solve(system);
    double moved = 0;
    for (std::size_t k = 0; k < x.size(); ++k) {
      x[k] += a.fit.value[k];
      moved = std::max(moved, std::abs(a.fit.value[k]) / a.unknowns[k].scale);
    }
    if (moved < kStill) break;
  }
  return x;
}

}  // namespace

const char* to_string(Error error) {
  constexpr std::array kNames = {"miter", "tilt", "roll", "pitch"};
  return kNames[static_cast<int>(error)];
}

Alignment align(std::span<const Observation> readings, const TruingKnowledge& known) {
  const bool with_length =
      std::any_of(readings.begin(), readings.end(), [](const Observation& o) { return o.look == Look::corner_length; });
  Alignment a;
  a.unknowns = unknowns_of(with_length);
  const Linearized at = linearized_at(true_saw(a.unknowns, known.stick.v), known.stick.v);
  const LinearSystem system = system_at(readings, known, at, a.unknowns);
  find_hidden(a, solve(system));
  const std::vector<double> x = solved(a, readings, known);
  for (std::size_t e = 0; e < a.errors.size(); ++e) {
    a.errors[e].rad = a.errors[e].seen ? x[e] : 0;
    a.errors[e].u_rad = a.errors[e].seen ? a.fit.u[e] : std::numeric_limits<double>::infinity();
  }
  find_next(a, system, at);
  return a;
}

std::optional<int> repeats_for(std::span<const Observation> readings, const TruingKnowledge& known, Error error,
                               double wanted_u_rad) {
  constexpr int kMost = 100;
  for (int n = 2; n <= kMost; ++n) {
    std::vector<Observation> sharper(readings.begin(), readings.end());
    for (Observation& o : sharper) o.u = Mm{o.u.v / std::sqrt(static_cast<double>(n))};
    if (align(sharper, known)[error].u_rad <= wanted_u_rad) return n;
  }
  return {};
}

}  // namespace stickwright
