#include "truing/turn.h"

#include <fmt/core.h>

#include <array>
#include <cmath>

#include "quantity/physical.h"

namespace stickwright {
namespace {

std::string place_of(const TurnMeans& means, bool positive) {
  const std::string at = means.at.empty() ? "at the lever arm" : means.at;
  return positive ? at : fmt::format("on the other side from \"{}\"", at);
}

// What leaving a leaf out and putting it in come to, as mean squares.
bool worth_turning(double error, double u, double left, double u_shim) {
  return left * left + u * u + u_shim * u_shim < error * error;
}

std::string no_lever_in_words(double error) {
  constexpr double kArm = 100;
  return fmt::format(
      "the shop file gives no lever arm for it, or no leaves; over {:.0f} mm it takes a leaf of {:.3f} mm", kArm,
      std::abs(error) * kArm);
}

std::string why_left(const TurnBack& t) {
  if (t.shim.leaves.empty()) return "no leaf owned comes nearer than none";
  if (t.repeats)
    return fmt::format("it is no larger than what it is known by; {} readings of each kind would decide", *t.repeats);
  return "it is no larger than what it is known by, and more readings with the same square would not change that";
}

}  // namespace

const char* to_string(TurnAdvice advice) {
  constexpr std::array kNames = {"leaf", "leave", "no lever", "unseen"};
  return kNames[static_cast<int>(advice)];
}

TurnBack advise_turn(const Alignment& found, Error error, const TurnMeans& means, std::span<const Leaf> leaves,
                     std::span<const Observation> readings, const TruingKnowledge& known) {
  const Found& f = found[error];
  TurnBack t;
  t.remaining_rad = f.rad, t.u_remaining_rad = f.u_rad;
  if (!f.seen) {
    t.why = "the readings do not tell it";
    return t;
  }
  if (!means.lever || leaves.empty()) {
    t.advice = std::abs(f.rad) <= f.u_rad ? TurnAdvice::leave : TurnAdvice::no_lever;
    t.why = t.advice == TurnAdvice::leave ? "it is no larger than what it is known by" : no_lever_in_words(f.rad);
    return t;
  }
  const double lever = means.lever->v;
  t.wanted = Mm{std::abs(f.rad) * lever};
  t.at = place_of(means, f.rad > 0);
  if (const auto shim = choose_leaves(to_nm(t.wanted), leaves)) t.shim = shim.value();
  const double left = f.rad - std::copysign(to_mm(t.shim.total).v / lever, f.rad);
  const double u_shim = t.shim.u_nm * 1e-6 / lever;
  if (worth_turning(f.rad, f.u_rad, left, u_shim)) {
    t.advice = TurnAdvice::leaf;
    t.remaining_rad = left, t.u_remaining_rad = std::hypot(f.u_rad, u_shim);
    t.why = fmt::format("turns it by {:.4f} degrees", Angle::radians(f.rad - left).deg());
    return t;
  }
  t.advice = TurnAdvice::leave;
  const double room = f.rad * f.rad - left * left - u_shim * u_shim;
  if (room > 0) t.repeats = repeats_for(readings, known, error, std::sqrt(room));
  t.why = why_left(t);
  return t;
}

}  // namespace stickwright
