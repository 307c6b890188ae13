#include "jig/movement.h"

#include <gtest/gtest.h>

#include <cmath>

namespace stickwright {
namespace {

Estimate exactly(double value) {
  return within(value, 0, Spread::rectangular, "test");
}

// The ends of the range of growth of a 300 mm fence of this material that warms up by 5 K.
std::pair<double, double> fence(std::string_view name) {
  const Estimate e = find_material(name).value().expansion;
  return {thermal_growth(Mm{300}, exactly(e.value - half_width(e)), exactly(5)).value,
          thermal_growth(Mm{300}, exactly(e.value + half_width(e)), exactly(5)).value};
}

// Computed from the published expansions (Callister, Table B.6, HDPE 106 to 198 um/m/K; data sheets of 5083-H32,
// 23.8 um/m/K): a 300 mm fence and 5 K.
TEST(ThermalGrowth, AFenceOfThreeHundredMillimeters) {
  EXPECT_NEAR(fence("HDPE").first, 0.16, 0.005);
  EXPECT_NEAR(fence("HDPE").second, 0.30, 0.005);
  EXPECT_NEAR(fence("UHMW polyethylene").second, 0.54, 0.005);
  EXPECT_NEAR(fence("acetal").first, 0.13, 0.005);
  EXPECT_NEAR(fence("acetal").second, 0.17, 0.006);
  EXPECT_LT(fence("aluminum").first, 0.0357);
  EXPECT_GT(fence("aluminum").second, 0.0357);
}

// ISO 3650:1998, expansion of steel gauge blocks 11.5e-6 /K within 1.0e-6 /K (from memory); the same middle value in
// JCGM 100:2008, H.1: 100 mm and 5 K give 5.75 um, a 300 mm fence 0.017 mm.
TEST(ThermalGrowth, SteelGaugeBlocks) {
  const Estimate steel = find_material("steel").value().expansion;
  EXPECT_NEAR(thermal_growth(Mm{100}, steel, exactly(5)).value, 0.00575, 1e-9);
  EXPECT_NEAR(thermal_growth(Mm{300}, steel, exactly(5)).value, 0.017, 0.0005);
}

// JCGM 100:2008, H.1: 50 mm, expansion difference 0 with u 0.58e-6 /K, temperature -0.1 K with u 0.41 K. First order
// gives l * 0.1 * 0.58e-6 = 2.9 nm; the term of second order (H.1.7) l * 0.58e-6 * 0.41 = 11.9 nm.
TEST(ThermalGrowth, SecondOrderCountsWhereTheMeanVanishes) {
  Estimate difference, temperature;
  difference.u = 0.58e-6;
  temperature.value = -0.1;
  temperature.u = 0.41;
  const double nm = thermal_growth(Mm{50.000623}, difference, temperature).u * 1e6;
  EXPECT_NEAR(nm, std::hypot(2.9, 11.9), 0.15);
}

TEST(MoistureGrowth, PlywoodByTheRuleOfTwoHundredthsOfAPercentForTenPercent) {
  const Estimate growth = moisture_growth(Mm{1000}, find_material("plywood").value(), exactly(0.10));
  EXPECT_NEAR(growth.value, 0.2, 1e-9);
  EXPECT_GT(growth.u, 0);
}

// Published data sheets: MDF grows by 0.3 % of its length from 30 to 90 % relative humidity.
TEST(MoistureGrowth, Mdf) {
  EXPECT_NEAR(moisture_growth(Mm{1000}, find_material("MDF").value(), exactly(0.60)).value, 3, 1e-9);
}

TEST(MoistureGrowth, MetalsTakeUpNone) {
  const Estimate growth = moisture_growth(Mm{1000}, find_material("steel").value(), exactly(0.5));
  EXPECT_EQ(growth.value, 0);
  EXPECT_EQ(growth.u, 0);
}

}  // namespace
}  // namespace stickwright
