#include "wood/moisture.h"

#include <gtest/gtest.h>

#include <cmath>

#include "wood/species.h"

namespace stickwright {
namespace {

double fahrenheit(double f) {
  return (f - 32) * 5 / 9;
}

struct Cell {
  double f, humidity_percent, moisture_percent;
};

// Forest Products Laboratory, Wood Handbook, FPL-GTR-282 (2021), Table 4-2. The table is rounded to 0.1 and some of its
// half-way cells are rounded down, hence 0.06.
TEST(EquilibriumMoisture, TheHandbooksTable) {
  const Cell cells[] = {{30, 75, 14.9}, {30, 95, 24.3}, {70, 5, 1.3},   {70, 30, 6.2},  {70, 50, 9.2},
                        {70, 65, 12.0}, {70, 75, 14.4}, {70, 85, 17.9}, {70, 95, 23.9}, {50, 40, 7.9},
                        {60, 55, 10.2}, {90, 60, 10.5}, {100, 50, 8.7}, {100, 90, 19.5}};
  for (const Cell& c : cells) {
    const auto moisture = equilibrium_moisture(Celsius{fahrenheit(c.f)}, c.humidity_percent / 100);
    ASSERT_TRUE(moisture) << moisture.problem().say;
    EXPECT_NEAR(moisture.value().value, c.moisture_percent, 0.06) << c.f << " F, " << c.humidity_percent << " %";
  }
}

// The same equation with the handbook's constants for degrees Fahrenheit, FPL-GTR-282, p. 4-3.
double with_fahrenheit_constants(double f, double h) {
  const double w = 330 + 0.452 * f + 0.00415 * f * f;
  const double kh = (0.791 + 0.000463 * f - 0.000000844 * f * f) * h;
  const double k1 = 6.34 + 0.000775 * f - 0.0000935 * f * f;
  const double k2 = 1.09 + 0.0284 * f - 0.0000904 * f * f;
  return 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh));
}

// Both sets of constants are printed rounded: they agree within half a unit of the table's last digit.
TEST(EquilibriumMoisture, BothUnitFormsAgree) {
  for (double f = 32; f <= 110; f += 6)
    for (const int percent : {5, 15, 25, 35, 45, 55, 65, 75, 85, 95})
      EXPECT_NEAR(equilibrium_moisture(Celsius{fahrenheit(f)}, percent / 100.0).value().value,
                  with_fahrenheit_constants(f, percent / 100.0), 0.05)
          << f << " F, " << percent;
}

// FPL-GTR-282, eq (4-6), after Glass and others (2014).
double by_the_other_equation(double celsius, double h) {
  const double t = celsius + 273.15;
  return 100 * std::pow(-0.000612 * t * std::pow(1 - t / 647.1, 2.43) * std::log(1 - h), 0.0577 * std::pow(t, 0.430));
}

// At 20 C and 65 % the other equation gives 12.48, ours 12.00. The stated uncertainty is one standard deviation, so the
// root mean square of the differences indoors has to lie within it, and each within twice of it.
TEST(EquilibriumMoisture, TheOtherEquationLiesWithinTheStatedUncertaintyIndoors) {
  EXPECT_NEAR(by_the_other_equation(20, 0.65), 12.48, 0.005);
  double squares = 0;
  int count = 0;
  for (const double celsius : {18.0, 20.0, 22.0, 24.0})
    for (const double h : {0.35, 0.40, 0.45, 0.50, 0.55, 0.60, 0.65}) {
      const Estimate ours = equilibrium_moisture(Celsius{celsius}, h).value();
      const double difference = ours.value - by_the_other_equation(celsius, h);
      EXPECT_LE(std::abs(difference), 2 * ours.u) << celsius << " C, " << h;
      squares += difference * difference;
      ++count;
    }
  EXPECT_LE(std::sqrt(squares / count), kMoistureModelU);
}

TEST(EquilibriumMoisture, DamperAirMakesDamperWoodAndWarmerAirDrierWood) {
  const auto moisture = [](double celsius, int percent) {
    return equilibrium_moisture(Celsius{celsius}, percent / 100.0).value().value;
  };
  for (int percent = 5; percent < 95; ++percent) {
    EXPECT_LT(moisture(20, percent), moisture(20, percent + 1));
    EXPECT_GT(moisture(20, percent), moisture(40, percent));
  }
}

TEST(EquilibriumMoisture, OutsideTheTableIsAProblem) {
  EXPECT_EQ(equilibrium_moisture(Celsius{20}, 0.04).problem().code, "out_of_range");
  EXPECT_EQ(equilibrium_moisture(Celsius{20}, 45).problem().code, "out_of_range");
  EXPECT_EQ(equilibrium_moisture(Celsius{-2}, 0.5).problem().code, "out_of_range");
  EXPECT_EQ(equilibrium_moisture(Celsius{133}, 0.5).problem().code, "out_of_range");
  EXPECT_TRUE(equilibrium_moisture(Celsius{-1.1}, 0.95));
}

// Wood Handbook, FPL-GTR-190 (2010), p. 13-17: a flatsawn board of white fir, 232 mm wide, coefficient 0.00245, from 8
// to 11 %: 1.7 mm, final 233.7 mm (species and the 8 % from memory).
TEST(MoistureChange, TheHandbooksBoard) {
  const Mm change = moisture_change(Mm{232}, 0.00245, 8, 11).value();
  EXPECT_NEAR(change.v, 1.7, 0.05);
  EXPECT_NEAR(232 + change.v, 233.7, 0.05);
  EXPECT_NEAR(moisture_change(Mm{9.15 * 25.4}, 0.00245, 8, 11).value().inches(), 0.067, 0.0005);
}

TEST(MoistureChange, BackAgainAndByASpecies) {
  const double cherry = find_species("black cherry").value()->tangential->value;
  EXPECT_NEAR(moisture_change(Mm{16}, cherry, 7, 11).value().v, 16 * 0.00248 * 4, 1e-12);
  EXPECT_DOUBLE_EQ(moisture_change(Mm{16}, cherry, 11, 7).value().v, -moisture_change(Mm{16}, cherry, 7, 11).value().v);
  EXPECT_EQ(moisture_change(Mm{16}, cherry, 5.9, 8).problem().code, "out_of_range");
  EXPECT_EQ(moisture_change(Mm{16}, cherry, 8, 14.1).problem().code, "out_of_range");
}

}  // namespace
}  // namespace stickwright
