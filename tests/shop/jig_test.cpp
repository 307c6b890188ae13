#include <gtest/gtest.h>

#include "good_files.h"
#include "shop/shop.h"

namespace stickwright {
namespace {

const std::string kJig = R"toml(
[[material]]
name = "cast nylon"
modulus = "3 GPa"
expansion = "90 um/m/K"
moisture_movement = "0.01 %"
poisson = 0.4

[[material]]
name = "granite"
modulus = "50 GPa"
expansion = "7 um/m/K"

[[cradle]]
name = "long cradle"
material = "Cast nylon"
length = "120 mm"
layer = "10 mm"
flank = "12 mm"
clamp_force = "30 lbf"
clamp_off_center = "-15 mm"
clamp_sideways = "10 %"
pivot_to_leaf = "150 mm"
leaf_at = "between the halves"
flank_spread = "40 mm"
flank_leaf_at = "under the left flank"

[[cradle]]
name = "plate"
material = "aluminum"
length = "100 mm"
layer = "20 mm"
flank = "10 mm"
clamp_force = "150 N"

[air]
temperature = "68 F"
temperature_spread = "1.5 C"
humidity = "45 %"
humidity_at_milling = "38 %"

[known]
miter = "0.02 deg"
stick = "0.02 mm"
clamp_force_spread = "15 %"

[square]
error = "10 arcsec"
arm = "100 mm"
)toml";

// The good file with these optional keys at the head of two tables, and the tables above at the end.
std::string with_jig() {
  std::string text = kGoodShop;
  const auto after = [&](const std::string& head, const std::string& keys) {
    text.insert(text.find(head) + head.size(), keys);
  };
  after("[blade]\n", "plate = \"1.8 mm\"\nrun_out = \"0.05 mm\"\nturns_per_minute = 3450\nfeed = \"3 m/min\"\n");
  after("[sled]\n",
        "base_material = \"MDF\"\nstop_material = \"cast nylon\"\ntilt_lever = \"300 mm\"\ntilt_leaf_at = \"left "
        "edge\"\n");
  return text + kJig;
}

TEST(ShopJig, AFileWithoutItIsValidAndSaysNothing) {
  const auto read = parse_shop(kGoodShop, "shop.toml");
  ASSERT_TRUE(read);
  const Shop& shop = read.value();
  EXPECT_FALSE(shop.blade.plate || shop.blade.run_out || shop.blade.turns_per_minute || shop.blade.feed);
  EXPECT_FALSE(shop.sled.base_material || shop.sled.stop_material || shop.sled.tilt_lever);
  EXPECT_TRUE(shop.cradles.empty() && shop.materials.empty());
  EXPECT_FALSE(shop.air || shop.square);
  EXPECT_FALSE(shop.known.miter || shop.known.stop || shop.known.clamp_force_spread);
}

TEST(ShopJig, BladeAndSled) {
  const auto read = parse_shop(with_jig(), "shop.toml");
  ASSERT_TRUE(read) << read.problem().where << read.problem().say;
  const Shop& shop = read.value();
  EXPECT_EQ(shop.blade.plate, Mm{1.8});
  EXPECT_EQ(shop.blade.run_out, Mm{0.05});
  EXPECT_EQ(shop.blade.turns_per_minute, 3450);
  EXPECT_DOUBLE_EQ(shop.blade.feed->v, 50);
  EXPECT_EQ(shop.sled.base_material->name, "MDF");
  EXPECT_EQ(shop.sled.stop_material->name, "cast nylon");
  EXPECT_EQ(shop.sled.tilt_lever, Mm{300});
  EXPECT_EQ(shop.sled.tilt_leaf_at, "left edge");
}

TEST(ShopJig, AMaterialOfTheMakersOwn) {
  const auto read = parse_shop(with_jig(), "shop.toml");
  ASSERT_TRUE(read);
  ASSERT_EQ(read.value().materials.size(), 2u);
  const Material& nylon = read.value().materials[0];
  EXPECT_DOUBLE_EQ(nylon.modulus.value, 3000);
  EXPECT_DOUBLE_EQ(half_width(nylon.modulus), 300);
  EXPECT_DOUBLE_EQ(nylon.expansion.value, 90e-6);
  EXPECT_DOUBLE_EQ(nylon.moisture.value, 1e-4);
  EXPECT_DOUBLE_EQ(nylon.poisson.value, 0.4);
  EXPECT_DOUBLE_EQ(read.value().materials[1].moisture.value, 0);
  EXPECT_GT(read.value().materials[1].poisson.u, 0);
}

TEST(ShopJig, Cradles) {
  const auto read = parse_shop(with_jig(), "shop.toml");
  ASSERT_TRUE(read);
  ASSERT_EQ(read.value().cradles.size(), 2u);
  const Cradle& c = read.value().cradles[0];
  EXPECT_EQ(c.material.name, "cast nylon");
  EXPECT_EQ(c.layer, Mm{10});
  EXPECT_NEAR(c.clamp_force.v, 133.4466, 5e-5);
  EXPECT_EQ(c.clamp_off_center, Mm{-15});
  EXPECT_DOUBLE_EQ(c.clamp_sideways, 0.1);
  EXPECT_EQ(c.pivot_to_leaf, Mm{150});
  EXPECT_EQ(c.leaf_at, "between the halves");
  EXPECT_EQ(c.flank_spread, Mm{40});
  EXPECT_EQ(c.flank_leaf_at, "under the left flank");
  const Cradle& plate = read.value().cradles[1];
  EXPECT_EQ(plate.material.name, "aluminum 5083 plate");
  EXPECT_EQ(plate.clamp_off_center, Mm{0});
  EXPECT_FALSE(plate.pivot_to_leaf);
}

TEST(ShopJig, AirKnownErrorsAndTheSquare) {
  const auto read = parse_shop(with_jig(), "shop.toml");
  ASSERT_TRUE(read);
  const Shop& shop = read.value();
  ASSERT_TRUE(shop.air);
  EXPECT_EQ(shop.air->temperature, Celsius{20});
  EXPECT_EQ(shop.air->gauge_temperature, Celsius{20});
  EXPECT_EQ(shop.air->temperature_spread, Kelvin{1.5});
  EXPECT_DOUBLE_EQ(*shop.air->humidity, 0.45);
  EXPECT_DOUBLE_EQ(*shop.air->humidity_at_milling, 0.38);
  EXPECT_DOUBLE_EQ(shop.known.miter->deg(), 0.02);
  EXPECT_FALSE(shop.known.tilt);
  EXPECT_EQ(shop.known.stick, Mm{0.02});
  EXPECT_DOUBLE_EQ(*shop.known.clamp_force_spread, 0.15);
  ASSERT_TRUE(shop.square);
  EXPECT_DOUBLE_EQ(shop.square->error.deg(), 10.0 / 3600);
  EXPECT_EQ(shop.square->arm, Mm{100});
}

// In the file with jigs, `find` is put in place of; the problem has this code, stands in the line of the text `put`,
// and says these words.
struct Spoiled {
  std::string find, put, code, says;
};

TEST(ShopJig, EveryMistakeIsAnsweredInItsLine) {
  const Spoiled spoiled[] = {
      {"plate = \"1.8 mm\"", "plate = \"2.7 mm\"", "bad_kerf", "within the kerf, 2.6 mm, found 2.75 mm"},
      {"turns_per_minute = 3450", "turns_per_minute = \"3450\"", "wrong_type", "without quotes"},
      {"feed = \"3 m/min\"", "feed = \"3\"", "bad_speed", "m/min"},
      {"stop_material = \"cast nylon\"", "stop_material = \"cast nilon\"", "unknown_material",
       "did you mean \"cast nylon\""},
      {"name = \"granite\"", "name = \"cast nylon\"", "bad_material", "again"},
      {"poisson = 0.4", "poisson = 0.5", "out_of_range", "0.45"},
      {"material = \"aluminum\"", "material = \"alumnium\"", "unknown_material", "\"aluminium\""},
      {"name = \"plate\"", "name = \"long cradle\"", "bad_cradle", "again"},
      {"clamp_off_center = \"-15 mm\"", "clamp_off_center = \"-60 mm\"", "bad_cradle", "beside the cradle"},
      {"clamp_sideways = \"10 %\"", "clamp_sideways = \"90 %\"", "out_of_range", "70 %"},
      {"clamp_force = \"30 lbf\"", "clamp_force = 30", "wrong_type", "\"30 N\""},
      {"temperature = \"68 F\"", "temperature = \"68 C\"", "out_of_range", "\"50 C\""},
      {"temperature_spread = \"1.5 C\"", "temperature_spraed = \"1.5 C\"", "unknown_key", "\"temperature_spread\""},
      {"humidity = \"45 %\"", "humidity = 0.45", "wrong_type", "\"45 %\""},
      {"miter = \"0.02 deg\"", "miter = \"-0.02 deg\"", "out_of_range", "0 deg"},
      {"error = \"10 arcsec\"", "error = \"10 mm\"", "bad_angle", "arcsec"},
  };
  for (const Spoiled& s : spoiled) {
    std::string text = with_jig();
    const std::size_t at = text.rfind(s.find);
    ASSERT_NE(at, std::string::npos) << s.find;
    text.replace(at, s.find.size(), s.put);
    const auto line = 1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n');
    const auto read = parse_shop(text, "shop.toml");
    ASSERT_FALSE(read) << s.put;
    EXPECT_EQ(read.problem().code, s.code) << s.put << ": " << read.problem().say;
    EXPECT_EQ(read.problem().where.rfind("shop.toml:" + std::to_string(line) + ":", 0), 0u)
        << s.put << ": " << read.problem().where;
    EXPECT_NE(read.problem().say.find(s.says), std::string::npos) << s.put << ": " << read.problem().say;
  }
}

}  // namespace
}  // namespace stickwright
