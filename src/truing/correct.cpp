#include "truing/correct.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "metrology/least_squares.h"

namespace stickwright {
namespace {

// Whose doing a part of the deviation is.
enum class Group { stop, miter, stick, cradle, reading, rest };
constexpr std::array kGroupNames = {"stop", "miter", "stick", "cradle and blade", "seating and reading", "the rest"};

// By the name of the state's number.
Group group_of(const std::string& line) {
  if (line == "miter") return Group::miter;
  if (line.starts_with("stick")) return Group::stick;
  if (line.starts_with("cradle") || line == "blade tilt" || line == "clamp force") return Group::cradle;
  if (line.starts_with("seating")) return Group::reading;
  return line.starts_with("stop") ? Group::stop : Group::rest;
}

using Variances = std::array<double, kGroupNames.size()>;

// How far an influence reaches to one side, +1 or -1: one that takes the size the same way whichever way it goes itself
// is no cause of what lies on the other side.
double reach_towards(const Influence& i, double side) {
  const double grows = std::max(0.0, side * i.slope.up), shrinks = std::max(0.0, -side * i.slope.down);
  return std::hypot(grows, shrinks) * i.known.u;
}

// Of the mean of so many readings, across flats, by group; to one side of what was expected, or (0) to both.
Variances variances_of(const Measured& m, double side = 0) {
  const Prediction& p = *m.prediction;
  Variances v{};
  const auto add = [&](Group g, double reach) { v[static_cast<std::size_t>(g)] += reach * reach; };
  for (const Influence& i : p.influences)
    if (const Group g = group_of(i.parameter.name); g != Group::stop)
      add(g, side == 0 ? i.reach() : reach_towards(i, side));
  for (const BudgetInput& part : p.stop_parts) add(Group::stop, p.per_stop * part.sensitivity * part.input.u);
  add(Group::reading, p.reading.u);
  v[static_cast<std::size_t>(Group::reading)] /= m.readings;
  return v;
}

double of(const Variances& v, Group g) {
  return v[static_cast<std::size_t>(g)];
}

double all_of(const Variances& v) {
  double sum = 0;
  for (double x : v) sum += x;
  return sum;
}

double deviation_of(const Measured& m) {
  return m.mean_mm - m.prediction->expected().v;
}

Variances variances_of_deviation(const Measured& m) {
  return variances_of(m, deviation_of(m) < 0 ? -1 : 1);
}

// Miter and stops as unknowns with what was known of them before, every test a row.
LinearFit most_likely(std::span<const Measured> measured) {
  LinearSystem s;
  s.unknowns.push_back({"miter", "rad", 1e-3});
  for (std::size_t j = 0; j < measured.size(); ++j) s.unknowns.push_back({"stop", "mm", 1e-2});
  for (std::size_t i = 0; i < measured.size(); ++i) {
    const Prediction& p = *measured[i].prediction;
    const Variances v = variances_of_deviation(measured[i]);
    LinearRow row{"test", std::vector<double>(s.unknowns.size(), 0), deviation_of(measured[i]),
                  std::sqrt(std::max(1e-12, all_of(v) - of(v, Group::stop) - of(v, Group::miter)))};
    row.coefficients[0] = p.per_miter;
    row.coefficients[i + 1] = p.per_stop;
    s.rows.push_back(row);
    const double u_stop = std::sqrt(of(v, Group::stop)) / std::abs(p.per_stop);
    s.priors.push_back({i + 1, 0, std::max(u_stop, 1e-6)});
    const double u_miter = p.per_miter == 0 ? 0 : std::sqrt(of(v, Group::miter)) / std::abs(p.per_miter);
    if (i == 0) s.priors.push_back({0, 0, std::max(u_miter, 1e-9)});
  }
  return solve(s);
}

std::vector<LikelyCause> causes_of(std::span<const Measured> measured) {
  const Measured& m = measured.front();
  const LinearFit fit = most_likely(measured);
  const double miter = m.prediction->per_miter * fit.value[0], stop = m.prediction->per_stop * fit.value[1];
  const Variances v = variances_of_deviation(m);
  const double rest = all_of(v) - of(v, Group::stop) - of(v, Group::miter);
  std::vector<LikelyCause> out = {{kGroupNames[0], stop}, {kGroupNames[1], miter}};
  for (std::size_t g = 2; g < v.size(); ++g)
    out.push_back({kGroupNames[g], rest > 0 ? (deviation_of(m) - miter - stop) * v[g] / rest : 0});
  return out;
}

// The error that the shim cannot or should not take away.
struct Choice {
  double u = 0;                     // of the stop's error, mm
  double averaging = 0, fixed = 0;  // its variance: what more readings reduce, and what they do not
};

Choice uncertainty_of(const Measured& m) {
  const Variances v = variances_of(m);
  const double c2 = m.prediction->per_stop * m.prediction->per_stop;
  Choice c;
  c.averaging = of(v, Group::reading) / c2;
  c.fixed = (all_of(v) - of(v, Group::reading) - of(v, Group::stop)) / c2;
  c.u = std::sqrt(c.averaging + c.fixed);
  return c;
}

// As many readings in all as make the correction worth while; nothing when none do.
std::optional<int> readings_that_decide(const Measured& m, const Choice& c, double error, double left_square) {
  const double room = error * error - left_square - c.fixed;
  if (room <= 0) return {};
  const double n = m.readings * c.averaging / room;
  return n < 1000 ? std::optional(static_cast<int>(std::floor(n)) + 1) : std::nullopt;
}

std::string why_left(const Correction& c) {
  if (c.wanted.v > 0 && c.shim.leaves.empty()) return "No leaf comes nearer than none.";
  if (c.more_readings)
    return fmt::format("A correction would be smaller than what it is known by; {} readings in all would decide.",
                       *c.more_readings);
  return "The error is smaller than what it is known by, and more readings of the same kind would not change that.";
}

}  // namespace

const char* to_string(StopAdvice advice) {
  constexpr std::array kNames = {"shim", "leave", "remake", "true the miter first"};
  return kNames[static_cast<int>(advice)];
}

Correction correct_stop(std::span<const Measured> measured, std::span<const Leaf> leaves) {
  const Measured& m = measured.front();
  const Prediction& p = *m.prediction;
  Correction c;
  double known = 0;  // the stop's error that the prediction has in it already: the stack's
  for (const BudgetInput& part : p.stop_parts) known += part.sensitivity * part.input.value;
  c.error = Mm{known + deviation_of(m) / p.per_stop};
  const Choice choice = uncertainty_of(m);
  c.u = Mm{choice.u};
  c.causes = causes_of(measured);
  c.wanted = Mm{std::max(0.0, c.error.v)};
  if (!leaves.empty()) {
    const auto shim = choose_leaves(to_nm(c.wanted), leaves);
    if (shim) c.shim = shim.value();
  }
  const double left = c.error.v - to_mm(c.shim.total).v, u_shim = c.shim.u_nm * 1e-6;
  const double reached = c.error.v < 0 ? 0 : left;  // a stop that is made anew comes out where it should
  const double left_square = reached * reached + u_shim * u_shim;
  const double thinnest = leaves.empty() ? 0 : to_mm(leaves.front().thickness).v;
  c.remaining = Mm{left};
  if (left_square + choice.u * choice.u >= c.error.v * c.error.v) {
    c.advice = StopAdvice::leave;
    c.remaining = c.error;
    c.more_readings = readings_that_decide(m, choice, c.error.v, left_square);
    c.why = why_left(c);
    c.shim = {};
  } else if (std::abs(c.causes[1].mm) > std::abs(c.causes[0].mm)) {
    c.advice = StopAdvice::true_the_miter;
    c.remaining = c.error;
    c.why = fmt::format(
        "A miter that is off would read the same, and is likelier: {:+.3f} mm of the deviation of {:+.3f} mm, the stop "
        "{:+.3f} mm.",
        c.causes[1].mm, deviation_of(m), c.causes[0].mm);
    c.shim = {};
  } else if (c.error.v < 0) {
    c.advice = StopAdvice::remake;
    c.remaining = Mm{0};
    c.why = "The stop stands too near to the blade; a leaf would bring it nearer still.";
  } else if (left > std::max(thinnest, choice.u)) {
    c.advice = StopAdvice::remake;
    c.remaining = Mm{0};
    c.why = "The leaves owned do not reach that far.";
    c.shim = {};
  } else {
    c.advice = StopAdvice::shim;
    c.why = "It moves the stop's face towards the blade.";
  }
  return c;
}

}  // namespace stickwright
