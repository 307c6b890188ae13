#include "shop/jig_lines.h"

#include <fmt/core.h>

#include <cmath>

#include "jig/blade_work.h"

namespace stickwright {
namespace {

// How far the blade stands out above the stick, where nobody says: common practice, no source.
constexpr Mm kRimAbove{5};

std::string kerf_line(const Blade& b) {
  const Mm set = b.kerf - *b.plate - b.run_out.value_or(Mm{0});
  const std::string run_out =
      b.run_out ? fmt::format(", {:.2f} mm run-out", b.run_out->v) : std::string(", run-out not measured");
  return fmt::format("Kerf {:.2f} mm: {:.2f} mm plate{}; that leaves {:.2f} mm for the set, {:.2f} mm to each side.",
                     b.kerf.v, b.plate->v, run_out, set.v, set.v / 2);
}

std::string teeth_line(const Blade& b, const BladeWork& work) {
  return fmt::format(
      "{:.0f} turns a minute and {:.1f} m/min of feed: {:.3f} mm a tooth ({:.4f} in), rim {:.0f} m/s, {:.0f} teeth a "
      "second.",
      *b.turns_per_minute, b.feed->m_per_min(), work.feed_per_tooth.v, work.feed_per_tooth.inches(), work.rim_speed,
      work.tooth_frequency);
}

std::string marks_line(const BladeWork& work) {
  return fmt::format(
      "Saw marks {:.2f} mm apart are one a turn. The feed alone leaves humps of {:.1f} um between them; deeper marks "
      "come "
      "from run-out or vibration.",
      work.feed_per_turn.v, work.hump_per_turn.v * 1000);
}

std::string travel_line(const Blade& b, Mm stick) {
  const Mm travel = sawing_travel(stick, b.diameter, kRimAbove);
  return fmt::format(
      "The cut through a {:.2f} mm stick is {:.1f} mm long; with the rim {:.0f} mm above the stick the sled saws for "
      "{:.1f} mm, {:.1f} s.",
      stick.v, 2 * stick.v, kRimAbove.v, travel.v, travel.v / b.feed->v);
}

double to_deg(double rad) {
  return Angle::radians(rad).deg();
}

std::string turn_words(const CradleYield& y) {
  return fmt::format(
      "its end towards the blade {} by {:.4f} deg (u {:.4f}), and the miter changes by {:+.4f} deg (u {:.4f})",
      y.pitch.value.value > 0 ? "rises" : "drops", to_deg(std::abs(y.pitch.value.value)), to_deg(y.pitch.value.u),
      to_deg(y.miter.value.value), to_deg(y.miter.value.u));
}

std::string yield_line(const Cradle& c, const CradleYield& y) {
  return fmt::format(
      "Cradle \"{}\" ({}): at {:.0f} N the stick sinks by {:.1f} um (u {:.1f}), {}. Truing with the same cradle and "
      "the "
      "same clamp force takes that out; 10 N more or less change the miter by {:.4f} deg.",
      c.name, c.material.name, c.clamp_force.v, y.sink.value.value * 1000, y.sink.value.u * 1000, turn_words(y),
      to_deg(std::abs(10 * y.miter.per_newton)));
}

}  // namespace

std::vector<std::string> blade_lines(const Shop& shop, std::optional<Mm> stick) {
  const Blade& b = shop.blade;
  std::vector<std::string> lines;
  if (b.plate) lines.push_back(kerf_line(b));
  if (b.feed && b.turns_per_minute) {
    const BladeWork work = blade_work({b.diameter, b.teeth, *b.turns_per_minute, *b.feed});
    lines.push_back(teeth_line(b, work));
    lines.push_back(marks_line(work));
    for (const std::string& caution : blade_cautions(work)) lines.push_back(caution);
  }
  if (b.feed && stick) lines.push_back(travel_line(b, *stick));
  return lines;
}

ClampedCradle clamped(const Cradle& c, std::optional<Mm> stick) {
  ClampedCradle result{c.length, c.flank, {{c.material, c.layer}}, c.clamp_force, c.clamp_off_center, c.clamp_sideways};
  // Its figures are those of wood pressed across the grain.
  if (stick) result.layers.push_back({find_material("hardwood along the grain").value(), 0.5 * *stick});
  return result;
}

std::vector<std::string> cradle_lines(const Cradle& c, std::optional<Mm> stick) {
  const auto yield = yield_of(clamped(c, stick));
  if (!yield) return {fmt::format("Cradle \"{}\": {}.", c.name, yield.problem().say)};
  std::vector<std::string> lines = {yield_line(c, yield.value())};
  for (const std::string& caution : yield.value().cautions) lines.push_back(caution);
  return lines;
}

}  // namespace stickwright
