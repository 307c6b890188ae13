// physical.h - angles, temperatures, forces, speeds and how materials yield and grow, with their units.
#pragma once
#include <compare>
#include <numbers>
#include <string_view>

#include "quantity/result.h"

namespace stickwright {

class Angle {
 public:
  constexpr Angle() = default;
  static constexpr Angle radians(double rad) { return Angle(rad); }
  static constexpr Angle degrees(double deg) { return Angle(deg * std::numbers::pi / 180); }
  constexpr double rad() const { return rad_; }
  constexpr double deg() const { return rad_ * 180 / std::numbers::pi; }
  friend constexpr auto operator<=>(Angle, Angle) = default;
  friend constexpr Angle operator+(Angle a, Angle b) { return Angle(a.rad_ + b.rad_); }
  friend constexpr Angle operator-(Angle a, Angle b) { return Angle(a.rad_ - b.rad_); }
  friend constexpr Angle operator*(double k, Angle a) { return Angle(k * a.rad_); }

 private:
  explicit constexpr Angle(double rad) : rad_(rad) {}
  double rad_ = 0;
};

// A temperature, and apart from it a difference of temperatures: 1 C on the thermometer is 33.8 F, but a difference
// of 1 C is one of 1.8 F.
struct Celsius {
  double v = 0;
  friend constexpr auto operator<=>(Celsius, Celsius) = default;
};
struct Kelvin {
  double v = 0;
  friend constexpr auto operator<=>(Kelvin, Kelvin) = default;
};
constexpr Kelvin operator-(Celsius a, Celsius b) {
  return Kelvin{a.v - b.v};
}

struct Newton {
  double v = 0;
  friend constexpr auto operator<=>(Newton, Newton) = default;
};

struct MmPerSecond {
  double v = 0;
  constexpr double m_per_min() const { return v * 60 / 1000; }
  friend constexpr auto operator<=>(MmPerSecond, MmPerSecond) = default;
};

// N/mm2: pressures and moduli of elasticity.
struct Megapascal {
  double v = 0;
  friend constexpr auto operator<=>(Megapascal, Megapascal) = default;
};

// Growth as a share of the length, for each kelvin: 23.8e-6 for aluminum.
struct PerKelvin {
  double v = 0;
  friend constexpr auto operator<=>(PerKelvin, PerKelvin) = default;
};

// Reads "0.02 deg", "3 arcmin", "20 arcsec", "1.5 mrad", "0.001 rad".   errors  bad_angle
Result<Angle> parse_angle(std::string_view text);

// Reads "21 C", "70 F".   errors  bad_temperature
Result<Celsius> parse_temperature(std::string_view text);

// Reads a difference: "1.5 C" and "1.5 K" are the same, "2.7 F" is 1.5 K.   errors  bad_temperature
Result<Kelvin> parse_temperature_difference(std::string_view text);

// Reads "150 N", "0.15 kN", "30 lbf".   errors  bad_force
Result<Newton> parse_force(std::string_view text);

// Reads "3 m/min", "50 mm/s", "0.05 m/s", "10 ft/min", "2 in/s".   errors  bad_speed
Result<MmPerSecond> parse_speed(std::string_view text);

// Reads "70 GPa", "690 MPa", "157 ksi", "0.157 Mpsi".   errors  bad_modulus
Result<Megapascal> parse_modulus(std::string_view text);

// Reads "23.8 um/m/K", "13.2 um/m/F".   errors  bad_expansion
Result<PerKelvin> parse_expansion(std::string_view text);

}  // namespace stickwright
