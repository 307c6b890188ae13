#include "quantity/physical.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

TEST(ParseAngle, EveryUnit) {
  EXPECT_DOUBLE_EQ(parse_angle("0.02 deg").value().deg(), 0.02);
  EXPECT_DOUBLE_EQ(parse_angle("180 deg").value().rad(), 3.14159265358979323846);
  EXPECT_DOUBLE_EQ(parse_angle("0.5\u00b0").value().deg(), 0.5);
  EXPECT_DOUBLE_EQ(parse_angle("3 arcmin").value().deg(), 0.05);
  EXPECT_DOUBLE_EQ(parse_angle("18 arcsec").value().deg(), 0.005);
  EXPECT_DOUBLE_EQ(parse_angle("1.5 mrad").value().rad(), 0.0015);
  EXPECT_DOUBLE_EQ(parse_angle("40 urad").value().rad(), 40e-6);
  EXPECT_DOUBLE_EQ(parse_angle("-1/4 rad").value().rad(), -0.25);
}

TEST(Angle, AddsAndCompares) {
  EXPECT_DOUBLE_EQ((Angle::degrees(30) + Angle::degrees(15)).deg(), 45);
  EXPECT_DOUBLE_EQ((2 * Angle::radians(0.1) - Angle::radians(0.05)).rad(), 0.15);
  EXPECT_LT(Angle::degrees(1), Angle::radians(0.02));
}

TEST(ParseTemperature, FixedPointsAreExact) {
  EXPECT_EQ(parse_temperature("21 C").value(), Celsius{21});
  EXPECT_EQ(parse_temperature("-5.5 \u00b0C").value(), Celsius{-5.5});
  EXPECT_EQ(parse_temperature("32 F").value(), Celsius{0});
  EXPECT_EQ(parse_temperature("212 F").value(), Celsius{100});
  EXPECT_EQ(parse_temperature("-40 F").value(), Celsius{-40});
  EXPECT_EQ(parse_temperature("68 F").value(), Celsius{20});
}

TEST(ParseTemperatureDifference, HasNoZeroPoint) {
  EXPECT_EQ(parse_temperature_difference("1.5 C").value(), Kelvin{1.5});
  EXPECT_EQ(parse_temperature_difference("1.5 K").value(), Kelvin{1.5});
  EXPECT_DOUBLE_EQ(parse_temperature_difference("2.7 F").value().v, 1.5);
  EXPECT_EQ((Celsius{21} - Celsius{18}), Kelvin{3});
}

TEST(ParseForce, PoundsAreThoseOfTheDefinition) {
  EXPECT_EQ(parse_force("150 N").value(), Newton{150});
  EXPECT_EQ(parse_force("0.15 kN").value(), Newton{150});
  // NIST Special Publication 811 (2008), B.8: 1 lbf = 4.448222 N.
  EXPECT_NEAR(parse_force("1 lbf").value().v, 4.448222, 5e-7);
}

TEST(ParseSpeed, EveryUnit) {
  EXPECT_DOUBLE_EQ(parse_speed("3 m/min").value().v, 50);
  EXPECT_DOUBLE_EQ(parse_speed("50 mm/s").value().m_per_min(), 3);
  EXPECT_DOUBLE_EQ(parse_speed("0.05 m/s").value().v, 50);
  EXPECT_DOUBLE_EQ(parse_speed("600 mm/min").value().v, 10);
  EXPECT_DOUBLE_EQ(parse_speed("10 ft/min").value().v, 50.8);
  EXPECT_DOUBLE_EQ(parse_speed("2 in/s").value().v, 50.8);
  EXPECT_DOUBLE_EQ(parse_speed("120 in/min").value().v, 50.8);
}

TEST(ParseModulus, EveryUnit) {
  EXPECT_DOUBLE_EQ(parse_modulus("70 GPa").value().v, 70'000);
  EXPECT_DOUBLE_EQ(parse_modulus("690 MPa").value().v, 690);
  // NIST Special Publication 811 (2008), B.8: 1 psi = 6.894757e3 Pa.
  EXPECT_NEAR(parse_modulus("100 ksi").value().v, 689.4757, 5e-5);
  EXPECT_DOUBLE_EQ(parse_modulus("0.1 Mpsi").value().v, parse_modulus("100 ksi").value().v);
}

TEST(ParseExpansion, PerDegreeFahrenheitIsNineFifthsAsMuch) {
  EXPECT_DOUBLE_EQ(parse_expansion("23.8 um/m/K").value().v, 23.8e-6);
  EXPECT_DOUBLE_EQ(parse_expansion("23.8 um/m/C").value().v, 23.8e-6);
  EXPECT_DOUBLE_EQ(parse_expansion("10 um/m/F").value().v, 18e-6);
}

TEST(ParsePhysical, EverythingElseIsAProblemThatNamesTheUnits) {
  for (const char* text : {"", "0.02", "deg", "0.02 mm", "1e-3 rad", "0.02 deg 3 arcmin", "1.2345678 deg"})
    EXPECT_EQ(parse_angle(text).problem().code, "bad_angle") << text;
  EXPECT_EQ(parse_temperature("294 K").problem().code, "bad_temperature");
  EXPECT_EQ(parse_temperature_difference("2 deg").problem().code, "bad_temperature");
  EXPECT_EQ(parse_force("15 kg").problem().code, "bad_force");
  EXPECT_EQ(parse_speed("3 m").problem().code, "bad_speed");
  EXPECT_EQ(parse_modulus("70").problem().code, "bad_modulus");
  EXPECT_EQ(parse_expansion("23.8e-6 /K").problem().code, "bad_expansion");
  EXPECT_NE(parse_force("15 kg").problem().say.find("N, kN, lbf"), std::string::npos);
  EXPECT_NE(parse_force("15 kg").problem().say.find("\"15 kg\""), std::string::npos);
}

}  // namespace
}  // namespace stickwright
