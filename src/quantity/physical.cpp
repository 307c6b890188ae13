#include "quantity/physical.h"

#include <array>
#include <optional>
#include <span>

#include "quantity/amount.h"

namespace stickwright {
namespace {

// (number - zero) * times / per, in our unit.
struct Scale {
  std::string_view name;
  double times = 1, per = 1, zero = 0;
};

constexpr double kPi = std::numbers::pi;
constexpr std::array kAngles = {Scale{"deg", kPi, 180},
                                Scale{"\u00b0", kPi, 180},  // degree sign
                                Scale{"arcmin", kPi, 180 * 60},
                                Scale{"arcsec", kPi, 180 * 3600},
                                Scale{"mrad", 1, 1000},
                                Scale{"urad", 1, 1e6},
                                Scale{"rad", 1, 1}};
constexpr std::array kTemperatures = {Scale{"C"}, Scale{"\u00b0C"}, Scale{"F", 5, 9, 32}, Scale{"\u00b0F", 5, 9, 32}};
constexpr std::array kDifferences = {Scale{"K"}, Scale{"C"}, Scale{"\u00b0C"}, Scale{"F", 5, 9},
                                     Scale{"\u00b0F", 5, 9}};
// The pound-force is that of 0.45359237 kg at 9.80665 m/s2, the inch 25.4 mm: both exact, by definition.
constexpr double kNewtonPerPound = 0.45359237 * 9.80665;
constexpr double kMegapascalPerPsi = kNewtonPerPound / (25.4 * 25.4);
constexpr std::array kForces = {Scale{"N"}, Scale{"kN", 1000}, Scale{"lbf", kNewtonPerPound}};
constexpr std::array kSpeeds = {Scale{"mm/s"},
                                Scale{"m/min", 1000, 60},
                                Scale{"m/s", 1000},
                                Scale{"mm/min", 1, 60},
                                Scale{"ft/min", 304.8, 60},
                                Scale{"in/s", 25.4},
                                Scale{"in/min", 25.4, 60}};
constexpr std::array kModuli = {Scale{"GPa", 1000}, Scale{"MPa"}, Scale{"ksi", 1000 * kMegapascalPerPsi},
                                Scale{"Mpsi", 1e6 * kMegapascalPerPsi}};
constexpr std::array kExpansions = {Scale{"um/m/K", 1, 1e6}, Scale{"um/m/C", 1, 1e6}, Scale{"um/m/F", 9, 5e6}};

std::optional<double> scaled(std::string_view text, std::span<const Scale> scales) {
  const auto read = number_with_unit(text);
  if (!read) return {};
  for (const Scale& s : scales)
    if (s.name == read->unit) return (read->number.value() - s.zero) * s.times / s.per;
  return {};
}

}  // namespace

Result<Angle> parse_angle(std::string_view text) {
  const auto rad = scaled(text, kAngles);
  if (!rad)
    return bad_amount("bad_angle", "an angle with its unit (deg, arcmin, arcsec, mrad, rad)",
                      "\"0.02 deg\" or \"1.5 mrad\"", text);
  return Angle::radians(*rad);
}

Result<Celsius> parse_temperature(std::string_view text) {
  const auto v = scaled(text, kTemperatures);
  if (!v) return bad_amount("bad_temperature", "a temperature with its unit (C, F)", "\"21 C\" or \"70 F\"", text);
  return Celsius{*v};
}

Result<Kelvin> parse_temperature_difference(std::string_view text) {
  const auto v = scaled(text, kDifferences);
  if (!v)
    return bad_amount("bad_temperature", "a difference of temperatures with its unit (C, K, F)", "\"1.5 C\" or \"3 F\"",
                      text);
  return Kelvin{*v};
}

Result<Newton> parse_force(std::string_view text) {
  const auto v = scaled(text, kForces);
  if (!v) return bad_amount("bad_force", "a force with its unit (N, kN, lbf)", "\"150 N\" or \"30 lbf\"", text);
  return Newton{*v};
}

Result<MmPerSecond> parse_speed(std::string_view text) {
  const auto v = scaled(text, kSpeeds);
  if (!v)
    return bad_amount("bad_speed", "a speed with its unit (m/min, mm/s, ft/min, in/s)", "\"3 m/min\" or \"10 ft/min\"",
                      text);
  return MmPerSecond{*v};
}

Result<Megapascal> parse_modulus(std::string_view text) {
  const auto v = scaled(text, kModuli);
  if (!v)
    return bad_amount("bad_modulus", "a modulus of elasticity with its unit (GPa, MPa, ksi, Mpsi)",
                      "\"70 GPa\" or \"157 ksi\"", text);
  return Megapascal{*v};
}

Result<PerKelvin> parse_expansion(std::string_view text) {
  const auto v = scaled(text, kExpansions);
  if (!v)
    return bad_amount("bad_expansion", "an expansion with its unit (um/m/K, um/m/F)",
                      "\"23.8 um/m/K\" or \"13.2 um/m/F\"", text);
  return PerKelvin{*v};
}

}  // namespace stickwright
