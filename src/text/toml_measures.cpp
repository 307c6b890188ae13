#include "text/toml_measures.h"

#include <fmt/core.h>

#include "text/toml_amount.h"

namespace stickwright {
namespace {

// What a message says about one kind of measure: its noun with the units, and the unit in which we say the bounds.
struct Words {
  std::string_view noun, unit;
};

Words words(Angle) {
  return {"an angle in quotes with its unit (deg, arcmin, arcsec, mrad, rad)", "deg"};
}
Words words(Celsius) {
  return {"a temperature in quotes with its unit (C, F)", "C"};
}
Words words(Kelvin) {
  return {"a difference of temperatures in quotes with its unit (C, K, F)", "C"};
}
Words words(Newton) {
  return {"a force in quotes with its unit (N, kN, lbf)", "N"};
}
Words words(MmPerSecond) {
  return {"a speed in quotes with its unit (m/min, mm/s, ft/min, in/s)", "mm/s"};
}
Words words(Megapascal) {
  return {"a modulus of elasticity in quotes with its unit (GPa, MPa, ksi, Mpsi)", "GPa"};
}
Words words(PerKelvin) {
  return {"an expansion in quotes with its unit (um/m/K, um/m/F)", "um/m/K"};
}

double in_said_unit(Angle a) {
  return a.deg();
}
double in_said_unit(Megapascal e) {
  return e.v / 1000;
}
double in_said_unit(PerKelvin e) {
  return e.v * 1e6;
}
template <class T>
double in_said_unit(T measure) {
  return measure.v;
}

Result<Angle> parse(std::string_view text, Angle) {
  return parse_angle(text);
}
Result<Celsius> parse(std::string_view text, Celsius) {
  return parse_temperature(text);
}
Result<Kelvin> parse(std::string_view text, Kelvin) {
  return parse_temperature_difference(text);
}
Result<Newton> parse(std::string_view text, Newton) {
  return parse_force(text);
}
Result<MmPerSecond> parse(std::string_view text, MmPerSecond) {
  return parse_speed(text);
}
Result<Megapascal> parse(std::string_view text, Megapascal) {
  return parse_modulus(text);
}
Result<PerKelvin> parse(std::string_view text, PerKelvin) {
  return parse_expansion(text);
}

}  // namespace

template <class T>
std::string MeasureKind<T>::expected() const {
  const Words w = words(T{});
  return fmt::format("{}, from \"{:.6g} {}\" to \"{:.6g} {}\"", w.noun, in_said_unit(range.least), w.unit,
                     in_said_unit(range.most), w.unit);
}

template <class T>
Result<T> MeasureKind<T>::read(const TomlNode& node) const {
  const auto by_kind = [](const std::string& text) { return parse(text, T{}); };
  return in_range(read_amount<T>(node, expected(), words(T{}).unit, by_kind), range, expected(), node);
}

template struct MeasureKind<Angle>;
template struct MeasureKind<Celsius>;
template struct MeasureKind<Kelvin>;
template struct MeasureKind<Newton>;
template struct MeasureKind<MmPerSecond>;
template struct MeasureKind<Megapascal>;
template struct MeasureKind<PerKelvin>;

}  // namespace stickwright
