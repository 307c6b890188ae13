#include "shop/shop.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "good_files.h"
#include "shop/batch.h"
#include "text/files.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;
using std::chrono::Saturday, std::chrono::Tuesday;
using namespace std::chrono_literals;

fs::path folder_with_good_files() {
  const fs::path folder = fs::path(testing::TempDir()) / "shop_test";
  EXPECT_TRUE(write_file(folder / "shop.toml", kGoodShop));
  EXPECT_TRUE(write_file(folder / "batch.toml", kGoodBatch));
  return folder;
}

TEST(Shop, AGoodFileGivesEveryValue) {
  const auto read = parse_shop(kGoodShop, "shop.toml");
  ASSERT_TRUE(read) << read.problem().where << read.problem().say;
  const Shop& shop = read.value();
  EXPECT_EQ(shop.name, "Test shop");
  EXPECT_EQ(shop.paper, Paper::letter);
  EXPECT_EQ(shop.days_off, (std::vector{2031y / 3 / 4, 2031y / 3 / 11}));
  EXPECT_EQ(shop.blade.kerf, Mm{2.6});
  EXPECT_EQ(shop.blade.diameter, Mm{254});
  EXPECT_EQ(shop.blade.teeth, 80);
  EXPECT_EQ(shop.sled.back_to_blade, Mm{182.4});
  EXPECT_EQ(shop.sled.back_to_blade_at, (Place{12, 17}));
  EXPECT_EQ(shop.sled.square_stops, (std::vector{Mm{50.02}, Mm{80.01}}));
  EXPECT_EQ(shop.sled.clamp_side, Side::right);
  EXPECT_EQ(shop.gauge_blocks.set, "mm 47 (b)");
  EXPECT_EQ(shop.gauge_blocks.missing, (std::vector{Nm{1'070'000}}));
  EXPECT_EQ(shop.gauge_blocks.within, Nm{3000});
  EXPECT_EQ(shop.feeler_leaves, (std::vector{Nm{50'000}, Nm{100'000}}));
  EXPECT_EQ(shop.caliper.repeat, Mm{0.004});
  EXPECT_EQ(shop.shortest_tail, Mm{110});
  ASSERT_EQ(shop.rack.size(), 2u);
  EXPECT_EQ(shop.rack[0].wood, "black cherry");
  EXPECT_EQ(shop.rack[0].section, Mm{16});
  EXPECT_DOUBLE_EQ(shop.rack[0].length.v, 914.4);
  EXPECT_FALSE(shop.rack[1].section);
  EXPECT_EQ(shop.times.glue, Seconds{90});
  EXPECT_EQ(shop.times.drying, Seconds{12 * 3600});
  EXPECT_EQ(shop.times.turn, Seconds{0});
  EXPECT_EQ(shop.times.measured_every, 5);
}

TEST(Shop, HoursComeByDayOfTheWeek) {
  const auto read = parse_shop(kGoodShop, "shop.toml");
  ASSERT_TRUE(read);
  const auto& hours = read.value().hours;
  ASSERT_EQ(hours.size(), 2u);
  EXPECT_EQ(hours[0].day, Tuesday);
  EXPECT_EQ(hours[1].day, Saturday);
  EXPECT_EQ(hours[1].from, Seconds{8 * 3600 + 1800});
  EXPECT_EQ(hours[1].to, Seconds{12 * 3600 + 1800});
}

TEST(Batch, AGoodFileGivesEveryValueAndItsShop) {
  const fs::path folder = folder_with_good_files();
  const auto read = load_batch(folder / "batch.toml");
  ASSERT_TRUE(read) << read.problem().where << read.problem().say;
  const Batch& batch = read.value();
  EXPECT_EQ(batch.shop.name, "Test shop");
  EXPECT_EQ(batch.stick, Mm{16});
  EXPECT_EQ(batch.start, 2031y / 2 / 25);
  EXPECT_EQ(batch.due, 2031y / 4 / 5);
  EXPECT_EQ(batch.paper(), Paper::letter);
  ASSERT_EQ(batch.puzzles.size(), 2u);
  EXPECT_EQ(batch.puzzles[0].design, folder / "star.toml");
  EXPECT_EQ(batch.puzzles[1].design, (folder / "../other/second.toml").lexically_normal());
  EXPECT_EQ(batch.puzzles[0].copies, 10);
}

TEST(Batch, WoodsKeepTheirOrderTheirSpeciesAndTheirPlaces) {
  const auto read = load_batch(folder_with_good_files() / "batch.toml");
  ASSERT_TRUE(read);
  const PuzzleOrder& star = read.value().puzzles[0];
  ASSERT_EQ(star.woods.size(), 3u);
  EXPECT_EQ(star.woods[0].woods, (std::vector<std::string>{"black cherry", "sugar maple"}));
  EXPECT_EQ(star.woods[0].piece_at, (Place{14, 11}));
  EXPECT_EQ(star.woods[0].wood_at, (std::vector{Place{14, 18}, Place{14, 34}}));
  EXPECT_EQ(star.woods[1].piece, "long arm");
  EXPECT_EQ(star.woods[1].wood_at, (std::vector{Place{14, 62}}));
  ASSERT_EQ(star.block_woods.size(), 2u);
  EXPECT_EQ(star.block_woods[0].block, "rhombic pyramid block");
  EXPECT_EQ(star.block_woods[0].wood, "black walnut");
  EXPECT_EQ(star.block_woods[0].block_at, (Place{15, 25}));
}

TEST(Batch, APieceWithoutAnEntryTakesThatOfEveryPiece) {
  const auto read = load_batch(folder_with_good_files() / "batch.toml");
  ASSERT_TRUE(read);
  const PuzzleOrder& star = read.value().puzzles[0];
  EXPECT_EQ(woods_of(star, "arm")->woods.size(), 2u);
  EXPECT_EQ(woods_of(star, "key piece")->woods.front(), "teak");
  EXPECT_EQ(block_wood_of(star, "arm", "rhombic pyramid block")->wood, "black walnut");
  EXPECT_EQ(block_wood_of(star, "arm", "center block")->wood, "American holly");
  EXPECT_EQ(block_wood_of(star, "long arm", "rhombic pyramid block"), nullptr);
  PuzzleOrder one = star;
  one.woods.pop_back();
  EXPECT_EQ(woods_of(one, "key piece"), nullptr);
}

TEST(Batch, SparesAreRoundedUpPerShape) {
  Batch batch;
  batch.spares = 0.08;
  batch.spares_at_least = 2;
  EXPECT_EQ(spares_for(batch, 0), 0);
  EXPECT_EQ(spares_for(batch, 1), 2);
  EXPECT_EQ(spares_for(batch, 25), 2);
  EXPECT_EQ(spares_for(batch, 26), 3);
  EXPECT_EQ(spares_for(batch, 100), 8);
  EXPECT_EQ(spares_for(batch, 101), 9);
}

TEST(Batch, TheExampleIsReadWhole) {
  const auto read = load_batch(fs::path(STICKWRIGHT_SOURCE) / "examples/wrenfield/batch.toml");
  ASSERT_TRUE(read) << read.problem().where << ": " << read.problem().say;
  const Batch& batch = read.value();
  EXPECT_EQ(batch.shop.name, "Wrenfield Joinery");
  ASSERT_EQ(batch.puzzles.size(), 2u);
  EXPECT_EQ(batch.puzzles[0].copies, 10);
  EXPECT_EQ(woods_of(batch.puzzles[0], "arm")->woods.size(), 6u);
  EXPECT_EQ(woods_of(batch.puzzles[1], "wing")->woods.front(), "black cherry");
  EXPECT_EQ(batch.shop.hours.size(), 3u);
}

TEST(Shop, WornBlocks) {
  std::string text = kGoodShop;
  text.insert(text.find("within = \"3 um\""),
              "worn = [{ size = \"1.01 mm\", is = \"1.0093 mm\" },\n"
              "        { size = \"1.02 mm\", is = \"1.0195 mm\", give_or_take = \"0.5 um\" }]\n");
  const auto read = parse_shop(text, "shop.toml");
  ASSERT_TRUE(read) << read.problem().say;
  const std::vector<WornSize>& worn = read.value().gauge_blocks.worn;
  ASSERT_EQ(worn.size(), 2u);
  EXPECT_EQ(worn[0].size, Nm{1'010'000});
  EXPECT_EQ(worn[0].is, Nm{1'009'300});
  EXPECT_FALSE(worn[0].give_or_take);
  EXPECT_EQ(worn[1].give_or_take, Nm{500});
}

}  // namespace
}  // namespace stickwright
