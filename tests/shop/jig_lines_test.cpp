#include "shop/jig_lines.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "good_files.h"

namespace stickwright {
namespace {

Shop good_shop() {
  return parse_shop(kGoodShop, "shop.toml").take();
}

Shop example_shop() {
  auto read = load_shop(std::filesystem::path(STICKWRIGHT_SOURCE) / "examples/wrenfield/shop.toml");
  EXPECT_TRUE(read) << read.problem().where << ": " << read.problem().say;
  return read.take();
}

bool says(const std::vector<std::string>& lines, std::string_view words) {
  for (const std::string& line : lines)
    if (line.find(words) != std::string::npos) return true;
  return false;
}

TEST(BladeLines, NothingToSayOfAFileThatTellsNothing) {
  EXPECT_TRUE(blade_lines(good_shop(), Mm{16}).empty());
}

TEST(BladeLines, SayWhatTheFileAllows) {
  Shop shop = good_shop();  // kerf 2.6 mm, 10 in, 80 teeth
  shop.blade.plate = Mm{1.8};
  shop.blade.run_out = Mm{0.06};
  EXPECT_EQ(blade_lines(shop).size(), 1u);
  EXPECT_TRUE(says(blade_lines(shop), "0.74 mm for the set, 0.37 mm to each side"));
  shop.blade.feed = MmPerSecond{50};
  EXPECT_EQ(blade_lines(shop).size(), 1u);
  EXPECT_TRUE(says(blade_lines(shop, Mm{16}), "16.00 mm stick is 32.0 mm long"));
  shop.blade.turns_per_minute = 4000;
  // 3 m/min over 4000 * 80 teeth a minute is 0.0094 mm; 0.75 mm a turn.
  EXPECT_TRUE(says(blade_lines(shop), "0.009 mm a tooth"));
  EXPECT_TRUE(says(blade_lines(shop), "0.75 mm apart"));
  EXPECT_TRUE(says(blade_lines(shop), "scorch"));
}

TEST(CradleLines, TheStickItselfYieldsToo) {
  const Shop shop = example_shop();
  ASSERT_FALSE(shop.cradles.empty());
  const CradleYield alone = yield_of(clamped(shop.cradles[0])).value();
  const CradleYield with_stick = yield_of(clamped(shop.cradles[0], Mm{16})).value();
  EXPECT_GT(with_stick.sink.value.value, alone.sink.value.value);
}

// The invented shop is made so that its cradle matters, and not more than its trueing can take out.
TEST(CradleLines, TheExamplesCradleYieldsVisiblyButModerately) {
  const Shop shop = example_shop();
  const CradleYield y = yield_of(clamped(shop.cradles[0], Mm{16})).value();
  EXPECT_GT(std::abs(y.miter.value.value), 50e-6);
  EXPECT_LT(std::abs(y.miter.value.value), 500e-6);
  EXPECT_TRUE(y.cautions.empty());
  EXPECT_TRUE(says(cradle_lines(shop.cradles[0], Mm{16}), "the miter changes by"));
}

TEST(CradleLines, AStickThatDoesNotLieStillIsSaid) {
  Cradle c = example_shop().cradles[0];
  c.clamp_off_center = c.length;
  EXPECT_TRUE(says(cradle_lines(c), "expected the clamp within half"));
}

}  // namespace
}  // namespace stickwright
