#include <gtest/gtest.h>

#include "text/toml_reader.h"

namespace stickwright {
namespace {

Document document(std::string_view text) {
  auto read = parse_toml(text, "test.toml");
  EXPECT_TRUE(read) << read.problem().say;
  return read.take();
}

TEST(TomlMeasures, EveryKindIsRead) {
  const Document d = document(R"(
number = 0.35
whole = 3450
angle = "3 arcmin"
temperature = "68 F"
difference = "1.5 C"
force = "150 N"
speed = "3 m/min"
modulus = "2.8 GPa"
expansion = "23.8 um/m/K"
)");
  const Table t = d.root();
  EXPECT_DOUBLE_EQ(t.number("number", {0, 1}), 0.35);
  EXPECT_DOUBLE_EQ(t.number("whole", {100, 20'000}), 3450);
  EXPECT_DOUBLE_EQ(t.angle("angle", {Angle{}, Angle::degrees(1)}).deg(), 0.05);
  EXPECT_EQ(t.temperature("temperature", {Celsius{0}, Celsius{50}}), Celsius{20});
  EXPECT_EQ(t.temperature_difference("difference", {Kelvin{0}, Kelvin{20}}), Kelvin{1.5});
  EXPECT_EQ(t.force("force", {Newton{0}, Newton{1000}}), Newton{150});
  EXPECT_DOUBLE_EQ(t.speed("speed", {MmPerSecond{1}, MmPerSecond{500}}).v, 50);
  EXPECT_EQ(t.modulus("modulus", {Megapascal{1}, Megapascal{1e6}}), Megapascal{2800});
  EXPECT_DOUBLE_EQ(t.expansion("expansion", {PerKelvin{0}, PerKelvin{1e-3}}).v, 23.8e-6);
  EXPECT_FALSE(d.finish());
}

TEST(TomlMeasures, ASingleValueCountsAsAListOfOne) {
  const Document d =
      document("share = \"45 %\"\nshares = [\"5 %\", \"95 %\"]\nwarm = \"68 F\"\nwarms = [\"0 C\", \"20 C\"]\n");
  const Table t = d.root();
  EXPECT_EQ(t.share_or_shares("share", {0, 1}), (std::vector{0.45}));
  EXPECT_EQ(t.share_or_shares("shares", {0, 1}), (std::vector{0.05, 0.95}));
  EXPECT_EQ(t.temperature_or_temperatures("warm", {Celsius{0}, Celsius{50}}), (std::vector{Celsius{20}}));
  EXPECT_EQ(t.temperature_or_temperatures("warms", {Celsius{0}, Celsius{50}}), (std::vector{Celsius{0}, Celsius{20}}));
  EXPECT_FALSE(d.finish());
}

TEST(TomlMeasures, AListIsCheckedElementByElement) {
  const Document d = document("shares = [\"5 %\", \"105 %\"]");
  d.root().share_or_shares("shares", {0, 1});
  const auto problem = d.finish();
  ASSERT_TRUE(problem);
  EXPECT_EQ(problem->code, "out_of_range");
  EXPECT_EQ(problem->where, "test.toml:1:18");
}

// The problem of a file with the one line `line`, read as an angle of at most one degree.
Problem angle_problem(std::string_view line) {
  const Document d = document(line);
  d.root().angle("angle", {Angle{}, Angle::degrees(1)});
  const auto problem = d.finish();
  EXPECT_TRUE(problem) << line;
  return problem.value_or(Problem{});
}

TEST(TomlMeasures, MistakesAreToldAtTheirPlaceInTheUnitsOfTheTrade) {
  EXPECT_EQ(angle_problem("angle = 0.02").code, "wrong_type");
  EXPECT_NE(angle_problem("angle = 0.02").say.find("write the unit, \"0.02 deg\""), std::string::npos);
  EXPECT_EQ(angle_problem("angle = \"0.02\"").code, "bad_angle");
  EXPECT_EQ(angle_problem("angle = \"1.5 deg\"").code, "out_of_range");
  EXPECT_NE(angle_problem("angle = \"1.5 deg\"").say.find("from \"0 deg\" to \"1 deg\""), std::string::npos);
  EXPECT_EQ(angle_problem("angle = \"1.5 deg\"").where, "test.toml:1:9");
  EXPECT_EQ(angle_problem("").code, "missing_key");
}

TEST(TomlMeasures, ANumberIsNoText) {
  const Document d = document("number = \"0.35\"");
  EXPECT_EQ(d.root().number("number", {0, 1}), 0);
  ASSERT_TRUE(d.finish());
  EXPECT_EQ(d.finish()->code, "wrong_type");
  const Document infinite = document("number = inf");
  infinite.root().number("number", {0, 1});
  ASSERT_TRUE(infinite.finish());
  EXPECT_EQ(infinite.finish()->code, "wrong_type");
}

}  // namespace
}  // namespace stickwright
