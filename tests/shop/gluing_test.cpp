// Gluing, fit and the customer's air: what the files may say of them.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "good_files.h"
#include "shop/batch.h"
#include "text/files.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

const std::string kGlueAndFit = R"toml(
[glue]
line = "0.03 mm"
line_spread = "10 um"
slip = "0.002 in"
slip_in_jig = "0.015 mm"

[fit]
hand_gives = "0.01 mm"
eased = "3 mm"
)toml";

const std::string kFitAndCustomer = R"toml(
[fit]
play = "0.04 mm"
least_play = "0.01 mm"
most_play = "0.1 mm"
chance = "90 %"
samples = 20000

[customer]
place = "by the sea"
temperature = "68 F"
humidity = ["30 %", "31 %", "35 %", "40 %", "47 %", "54 %", "57 %", "56 %", "51 %", "44 %", "37 %", "95 %"]
finish_days = 15
)toml";

Result<Batch> batch_with(const std::string& more) {
  const auto* test = testing::UnitTest::GetInstance()->current_test_info();
  const fs::path folder = fs::path(testing::TempDir()) / ("gluing_" + std::string(test->name()));
  EXPECT_TRUE(write_file(folder / "shop.toml", kGoodShop));
  EXPECT_TRUE(write_file(folder / "batch.toml", kGoodBatch + more));
  return load_batch(folder / "batch.toml");
}

TEST(GlueAndFit, AFileWithoutThemIsValidAndSaysNothing) {
  const auto shop = parse_shop(kGoodShop, "shop.toml");
  ASSERT_TRUE(shop);
  const GlueMeans& glue = shop.value().glue;
  EXPECT_FALSE(glue.line || glue.line_spread || glue.slip || glue.slip_in_jig);
  EXPECT_FALSE(shop.value().fit.hand_gives || shop.value().fit.eased);
  const auto batch = batch_with("");
  ASSERT_TRUE(batch);
  const FitAsked& fit = batch.value().fit;
  EXPECT_FALSE(fit.play || fit.least_play || fit.most_play || fit.chance || fit.samples);
  EXPECT_FALSE(batch.value().customer);
}

TEST(GlueAndFit, TheShopSaysWhatGluingDoes) {
  const auto read = parse_shop(kGoodShop + kGlueAndFit, "shop.toml");
  ASSERT_TRUE(read) << read.problem().where << read.problem().say;
  const Shop& shop = read.value();
  EXPECT_EQ(shop.glue.line, Mm{0.03});
  EXPECT_DOUBLE_EQ(shop.glue.line_spread->v, 0.01);
  EXPECT_DOUBLE_EQ(shop.glue.slip->v, 0.0508);
  EXPECT_EQ(shop.glue.slip_in_jig, Mm{0.015});
  EXPECT_EQ(shop.fit.hand_gives, Mm{0.01});
  EXPECT_EQ(shop.fit.eased, Mm{3});
}

TEST(GlueAndFit, TheBatchSaysWhatPlayIsWanted) {
  const auto read = batch_with(kFitAndCustomer);
  ASSERT_TRUE(read) << read.problem().where << read.problem().say;
  const FitAsked& fit = read.value().fit;
  EXPECT_EQ(fit.play, Mm{0.04});
  EXPECT_EQ(fit.least_play, Mm{0.01});
  EXPECT_EQ(fit.most_play, Mm{0.1});
  EXPECT_DOUBLE_EQ(*fit.chance, 0.9);
  EXPECT_EQ(fit.samples, 20'000);
}

TEST(GlueAndFit, TheEndsOfTheWindowBelongToIt) {
  EXPECT_TRUE(batch_with("[fit]\nplay = \"0.1 mm\"\nleast_play = \"0.1 mm\"\nmost_play = \"0.1 mm\"\n"));
  EXPECT_TRUE(batch_with("[fit]\nleast_play = \"0 mm\"\nmost_play = \"1 mm\"\nchance = \"99.9 %\"\n"));
}

TEST(Customer, OneValueStandsForEveryMonthAndAListIsJanuaryToDecember) {
  const auto read = batch_with(kFitAndCustomer);
  ASSERT_TRUE(read) << read.problem().where << read.problem().say;
  const std::optional<Customer>& customer = read.value().customer;
  ASSERT_TRUE(customer);
  EXPECT_EQ(customer->place, "by the sea");
  EXPECT_EQ(customer->finish_days, 15);
  for (const MonthAir& month : customer->air) EXPECT_NEAR(month.temperature.v, 20, 1e-12);
  EXPECT_DOUBLE_EQ(customer->air[0].humidity, 0.30);
  EXPECT_DOUBLE_EQ(customer->air[6].humidity, 0.57);
  EXPECT_DOUBLE_EQ(customer->air[11].humidity, 0.95);
}

TEST(Customer, PlaceAndFinishMayBeLeftOut) {
  const auto read = batch_with("[customer]\ntemperature = \"21 C\"\nhumidity = \"45 %\"\n");
  ASSERT_TRUE(read) << read.problem().say;
  EXPECT_TRUE(read.value().customer->place.empty());
  EXPECT_FALSE(read.value().customer->finish_days);
  EXPECT_DOUBLE_EQ(read.value().customer->air[7].humidity, 0.45);
}

TEST(GlueAndFit, TheExampleSaysAllOfIt) {
  const auto read = load_batch(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml");
  ASSERT_TRUE(read) << read.problem().where << read.problem().say;
  const Batch& batch = read.value();
  EXPECT_TRUE(batch.shop.glue.line && batch.shop.glue.slip && batch.shop.fit.eased && batch.fit.play);
  ASSERT_TRUE(batch.customer);
  EXPECT_NE(batch.customer->air[0].humidity, batch.customer->air[6].humidity);
}

// `find` is put in place of; the problem has this code, stands in the line of the text `put`, and says these words.
struct Slip {
  std::string find, put, code, says;
};

std::string with_slip(std::string text, const Slip& s, std::string& line) {
  const std::size_t at = text.rfind(s.find);
  EXPECT_NE(at, std::string::npos) << s.find;
  text.replace(at, s.find.size(), s.put);
  line = std::to_string(1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
  return text;
}

void expect_answer(const Problem& problem, const Slip& s, const std::string& line) {
  EXPECT_EQ(problem.code, s.code) << s.put << ": " << problem.say;
  EXPECT_NE(problem.where.find(".toml:" + line + ":"), std::string::npos) << s.put << ": " << problem.where;
  EXPECT_NE(problem.say.find(s.says), std::string::npos) << s.put << ": " << problem.say;
}

TEST(GlueAndFit, EveryMistakeInTheShopIsAnsweredInItsLine) {
  const Slip slips[] = {
      {"line = \"0.03 mm\"", "line = 0.03", "wrong_type", "write the unit, \"0.03 mm\""},
      {"line = \"0.03 mm\"", "line = \"3 mm\"", "out_of_range", "from \"0 mm\" to \"1 mm\""},
      {"line = \"0.03 mm\"", "line = \"-0.03 mm\"", "out_of_range", "-0.03 mm"},
      {"line_spread", "line_spraed", "unknown_key", "did you mean \"line_spread\""},
      {"slip = \"0.002 in\"", "slip = \"2 thou\"", "bad_length", "with its unit"},
      {"slip_in_jig = \"0.015 mm\"", "slip_in_jig = \"15 mm\"", "out_of_range", "\"1 mm\""},
      {"[glue]", "[gleu]", "unknown_key", "did you mean \"glue\""},
      {"hand_gives = \"0.01 mm\"", "hand_gives = \"1.1 mm\"", "out_of_range", "\"1 mm\""},
      {"eased = \"3 mm\"", "eased = \"3.1 mm\"", "out_of_range", "from \"0 mm\" to \"3 mm\""},
      {"eased = \"3 mm\"", "play = \"0.04 mm\"", "unknown_key", "[fit] takes"},
  };
  for (const Slip& s : slips) {
    std::string line;
    const auto read = parse_shop(with_slip(kGoodShop + kGlueAndFit, s, line), "shop.toml");
    ASSERT_FALSE(read) << s.put;
    expect_answer(read.problem(), s, line);
  }
}

TEST(GlueAndFit, EveryMistakeInTheBatchIsAnsweredInItsLine) {
  const std::string humidity = kFitAndCustomer.substr(kFitAndCustomer.find("humidity = "));
  const std::string list = humidity.substr(0, humidity.find('\n'));
  const Slip slips[] = {
      {"\nplay = \"0.04 mm\"", "\nplay = \"-0.04 mm\"", "out_of_range", "from \"0 mm\" to \"1 mm\""},
      {"least_play = \"0.01 mm\"", "least_play = \"0.05 mm\"", "bad_play", "at most play, 0.04 mm, found 0.05 mm"},
      {"most_play = \"0.1 mm\"", "most_play = \"0.1\"", "bad_length", "with its unit"},
      {"chance = \"90 %\"", "chance = \"40 %\"", "out_of_range", "from \"50 %\" to \"99.9 %\""},
      {"chance = \"90 %\"", "chance = \"100 %\"", "out_of_range", "\"99.9 %\""},
      {"chance = \"90 %\"", "chance = 0.9", "wrong_type", "\"90 %\""},
      {"samples = 20000", "samples = 999", "out_of_range", "from 1000 to 10000000"},
      {"samples = 20000", "samples = 2e4", "wrong_type", "a whole number"},
      {"samples", "sampels", "unknown_key", "did you mean \"samples\""},
      {"place = \"by the sea\"", "place = \"\"", "bad_text", "not empty"},
      {"temperature = \"68 F\"", "temperature = \"-2 C\"", "out_of_range", "from \"-1 C\" to \"60 C\""},
      {"temperature = \"68 F\"", "temperature = 20", "wrong_type", "\"20 C\""},
      {"temperature = \"68 F\"", "temperature = [\"20 C\", \"21 C\"]", "wrong_count",
       "twelve, January to December; found 2"},
      {"temperature = \"68 F\"", "temperature = []", "bad_count", "at least one"},
      {list, "humidity = \"96 %\"", "out_of_range", "from \"5 %\" to \"95 %\""},
      {list, "humidity = 0.45", "wrong_type", "\"45 %\""},
      {", \"95 %\"]", ", \"4 %\"]", "out_of_range", "element 12"},
      {", \"95 %\"]", "]", "wrong_count", "found 11"},
      {", \"95 %\"]", ", \"95 %\", \"40 %\"]", "wrong_count", "found 13"},
      {"finish_days = 15", "finish_days = 0", "out_of_range", "0.01"},
      {"finish_days = 15", "finish_days = \"15 d\"", "wrong_type", "without quotes"},
      {"[customer]", "[custumer]", "unknown_key", "did you mean \"customer\""},
  };
  for (const Slip& s : slips) {
    std::string line;
    std::string text = with_slip(kGoodBatch + kFitAndCustomer, s, line);
    if (s.put.starts_with('\n')) line = std::to_string(std::stoi(line) + 1);
    const auto read = batch_with(text.substr(kGoodBatch.size()));
    ASSERT_FALSE(read) << s.put;
    expect_answer(read.problem(), s, line);
  }
}

TEST(GlueAndFit, AWindowTheWrongWayRoundIsAProblemWithOrWithoutThePlayWanted) {
  const auto high = batch_with("[fit]\nplay = \"0.2 mm\"\nmost_play = \"0.1 mm\"\n");
  ASSERT_FALSE(high);
  EXPECT_EQ(high.problem().code, "bad_play");
  EXPECT_NE(high.problem().say.find("play: expected at most most_play, 0.1 mm, found 0.2 mm"), std::string::npos)
      << high.problem().say;
  const auto crossed = batch_with("[fit]\nleast_play = \"0.2 mm\"\nmost_play = \"0.1 mm\"\n");
  ASSERT_FALSE(crossed);
  EXPECT_EQ(crossed.problem().code, "bad_play");
}

TEST(Customer, TemperatureAndHumidityAreNeeded) {
  for (const char* only : {"temperature = \"21 C\"", "humidity = \"45 %\""}) {
    const auto read = batch_with("[customer]\n" + std::string(only) + "\n");
    ASSERT_FALSE(read) << only;
    EXPECT_EQ(read.problem().code, "missing_key");
    EXPECT_NE(read.problem().say.find("or a list of them"), std::string::npos) << read.problem().say;
  }
}

}  // namespace
}  // namespace stickwright
