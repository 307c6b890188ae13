// Every way to spoil a shop or a batch that we could think of is answered with one problem at its place.
#include <gtest/gtest.h>

#include <filesystem>
#include <ostream>

#include "good_files.h"
#include "shop/batch.h"
#include "shop/shop.h"
#include "text/files.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

// In the good file the text `find` is put in place of; the problem then has this code and place, and says these words.
struct Spoiled {
  const char* name;
  std::string find, put;
  std::string code, at;
  std::vector<std::string> says;
};

void PrintTo(const Spoiled& s, std::ostream* out) {
  *out << s.name;
}

std::string spoil(std::string text, const Spoiled& s) {
  const std::size_t at = text.find(s.find);
  EXPECT_NE(at, std::string::npos) << s.find;
  return text.replace(at, s.find.size(), s.put);
}

void expect_problem(const Problem& problem, const Spoiled& s, const std::string& file) {
  EXPECT_EQ(problem.code, s.code) << problem.say;
  EXPECT_EQ(problem.where, file + ":" + s.at) << problem.say;
  for (const std::string& words : s.says) EXPECT_NE(problem.say.find(words), std::string::npos) << problem.say;
}

class SpoiledShop : public testing::TestWithParam<Spoiled> {};
class SpoiledBatch : public testing::TestWithParam<Spoiled> {};

TEST_P(SpoiledShop, IsAnsweredAtItsPlace) {
  const auto read = parse_shop(spoil(kGoodShop, GetParam()), "shop.toml");
  ASSERT_FALSE(read);
  expect_problem(read.problem(), GetParam(), "shop.toml");
}

TEST_P(SpoiledBatch, IsAnsweredAtItsPlace) {
  const fs::path folder = fs::path(testing::TempDir()) / ("bad_batch_" + std::string(GetParam().name));
  ASSERT_TRUE(write_file(folder / "shop.toml", kGoodShop));
  ASSERT_TRUE(write_file(folder / "batch.toml", spoil(kGoodBatch, GetParam())));
  const auto read = load_batch(folder / "batch.toml");
  ASSERT_FALSE(read);
  expect_problem(read.problem(), GetParam(), (folder / "batch.toml").string());
}

const Spoiled kShops[] = {
    {"unknown_key", "kerf = ", "kref = ", "unknown_key", "7:1", {"did you mean \"kerf\"", "[blade] takes"}},
    {"unknown_table", "[sticks]", "[stikcs]", "unknown_key", "32:2", {"\"stikcs\"", "\"sticks\""}},
    {"unknown_root_key", "paper = ", "colour = ", "unknown_key", "3:1", {"the file takes the keys"}},
    {"missing_key", "kerf = \"2.6 mm\"\n", "", "missing_key", "6:1", {"[blade] needs the key \"kerf\"", "a length"}},
    {"missing_table",
     "[caliper]\nname = \"micrometer\"\nresolution = \"0.001 mm\"\nrepeat = \"0.004 mm\"\n",
     "",
     "missing_key",
     "1:1",
     {"[caliper]"}},
    {"missing_in_second_rack", "wood = \"walnut\"\n", "", "missing_key", "41:1", {"[[rack]] number 2", "\"wood\""}},
    {"bare_number_for_a_length",
     "\"2.6 mm\"",
     "2.6",
     "wrong_type",
     "7:8",
     {"found the number 2.6", "write the unit, \"2.6 mm\""}},
    {"whole_number_for_a_length", "\"110 mm\"", "110", "wrong_type", "33:17", {"\"110 mm\""}},
    {"length_without_unit", "\"2.6 mm\"", "\"2.6\"", "bad_length", "7:8", {"found \"2.6\"", "with its unit"}},
    {"unknown_unit", "\"2.6 mm\"", "\"2.6 mil\"", "bad_length", "7:8", {"mm, cm, m, um, in, ft"}},
    {"time_for_a_length", "\"2.6 mm\"", "\"2.6 min\"", "bad_length", "7:8", {"a length"}},
    {"negative_length",
     "\"2.6 mm\"",
     "\"-2.6 mm\"",
     "out_of_range",
     "7:8",
     {"from \"0.5 mm\" to \"10 mm\"", "-2.6 mm"}},
    {"kerf_too_wide", "\"2.6 mm\"", "\"1 in\"", "out_of_range", "7:8", {"\"10 mm\"", "\"1 in\""}},
    {"comma_in_a_number", "\"2.6 mm\"", "\"2,6 mm\"", "bad_length", "7:8", {"\"2,6 mm\""}},
    {"length_in_a_table", "\"2.6 mm\"", "{ plate = \"2 mm\" }", "wrong_type", "7:8", {"found a table"}},
    {"teeth_not_whole", "teeth = 80", "teeth = 80.5", "wrong_type", "9:9", {"a whole number from 2 to 300"}},
    {"teeth_in_quotes", "teeth = 80", "teeth = \"80\"", "wrong_type", "9:9", {"without quotes"}},
    {"no_teeth", "teeth = 80", "teeth = 0", "out_of_range", "9:9", {"from 2 to 300", "0"}},
    {"more_teeth_than_64_bits", "teeth = 80", "teeth = 99999999999999999999", "bad_toml", "9:29", {"TOML"}},
    {"unknown_side",
     "\"right\"",
     "\"rigth\"",
     "bad_choice",
     "16:14",
     {"\"left\" or \"right\"", "did you mean \"right\""}},
    {"unknown_paper", "\"letter\"", "\"A5\"", "bad_choice", "3:9", {"\"A4\" or \"letter\""}},
    {"stop_reaches_the_blade", "\"80.01 mm\"", "\"190 mm\"", "bad_stop", "14:29", {"182.4 mm", "190 mm"}},
    {"stop_given_twice", "\"80.01 mm\"", "\"50.02 mm\"", "bad_stop", "14:29", {"50.02 mm again"}},
    {"closest_stop_too_far",
     "closest_stop = \"16 mm\"",
     "closest_stop = \"190 mm\"",
     "bad_stop",
     "13:16",
     {"182.4 mm"}},
    {"two_sets_of_gauge_blocks",
     "grade = ",
     "sizes = [\"1 mm\"]\ngrade = ",
     "too_many_keys",
     "20:1",
     {"\"set\"", "\"sizes\""}},
    {"no_gauge_blocks", "set = \"mm 47 (b)\"\n", "", "missing_key", "18:1", {"exactly one of", "\"set\" or \"sizes\""}},
    {"gauge_block_not_in_nanometers",
     "\"1.07 mm\"",
     "\"1/7 in\"",
     "not_whole_nm",
     "21:12",
     {"element 1", "whole nanometers"}},
    {"worn_block_without_its_length",
     "grade = \"2\"",
     "worn = [{ size = \"1.01 mm\" }]\ngrade = \"2\"",
     "missing_key",
     "20:9",
     {"\"is\""}},
    {"worn_block_with_an_unknown_word",
     "grade = \"2\"",
     "worn = [{ size = \"1.01 mm\", is = \"1.0093 mm\", wore = 3 }]\ngrade = \"2\"",
     "unknown_key",
     "20:47",
     {"wore"}},
    {"empty_list", "[\"0.10 mm\", \"0.05 mm\"]", "[]", "bad_count", "25:10", {"at least one"}},
    {"no_list", "[\"0.10 mm\", \"0.05 mm\"]", "\"0.10 mm\"", "wrong_type", "25:10", {"a list in brackets"}},
    {"bad_second_element", "\"0.05 mm\"]", "0.05]", "wrong_type", "25:22", {"element 2", "write the unit"}},
    {"unknown_wood", "\"Cherry\"", "\"chery\"", "unknown_wood", "36:8", {"did you mean", "cherry\""}},
    {"vague_wood", "\"walnut\"", "\"maple\"", "unknown_wood", "42:8", {"\"red maple\"", "\"sugar maple\""}},
    {"empty_text", "\"micrometer\"", "\"  \"", "bad_text", "28:8", {"not empty"}},
    {"two_lines_of_text", "\"micrometer\"", "\"micro\\nmeter\"", "bad_text", "28:8", {"one line"}},
    {"single_brackets",
     "[[rack]]\nwood = \"Cherry\"",
     "[rack]\nwood = \"Cherry\"",
     "bad_toml",
     "41:1",
     {"twice", "[[ ]]"}},
    {"negative_count", "count = 8", "count = -8", "out_of_range", "39:9", {"from 1 to 10000", "-8"}},
    {"time_without_unit", "\"25 s\"", "25", "wrong_type", "52:11", {"write the unit", "\"25 min\""}},
    {"unknown_time_unit", "\"25 s\"", "\"25 sec\"", "bad_duration", "52:11", {"(s, min, h, d)"}},
    {"negative_time", "\"25 s\"", "\"-25 s\"", "out_of_range", "52:11", {"\"0 s\""}},
    {"an_evening_to_cut", "cut = \"20 s\"", "cut = \"3 h\"", "out_of_range", "51:7", {"\"1 s\" to \"1 h\""}},
    {"coats_without_drying", "drying = \"0.5 d\"\n", "", "missing_key", "46:1", {"\"drying\""}},
    {"unknown_weekday", "\"Saturday\"", "\"Saterday\"", "bad_choice", "64:7", {"did you mean \"Saturday\""}},
    {"from_after_to",
     "from = \"08:30\"",
     "from = \"18:30\"",
     "bad_hours",
     "66:6",
     {"later than from, 18:30, found 12:30"}},
    {"hour_that_is_none", "from = \"08:30\"", "from = \"25:30\"", "bad_clock", "65:8", {"such as \"18:30\""}},
    {"hour_in_words", "from = \"08:30\"", "from = \"half past eight\"", "bad_clock", "65:8", {"a time of day"}},
    {"hours_overlap",
     "\"Tuesday\"\nfrom = \"18:30\"",
     "\"Saturday\"\nfrom = \"12:00\"",
     "bad_hours",
     "70:8",
     {"do not overlap", "08:30 to 12:30"}},
    {"quoted_date_that_is_none",
     "\"2031-03-04\"",
     "\"2031-02-29\"",
     "bad_date",
     "4:25",
     {"element 2", "a date of the calendar"}},
    {"key_twice", "teeth = 80", "teeth = 80\nteeth = 60", "bad_toml", "10:9", {"'teeth'", "twice"}},
    {"table_twice", "[sticks]", "[blade]", "bad_toml", "32:1", {"TOML"}},
    {"quote_not_closed", "\"Test shop\"", "\"Test shop", "bad_toml", "2:18", {"TOML"}},
    {"not_utf8", "Test shop", "Test \xE9tabli", "bad_toml", "2:14", {"UTF-8"}},
    {"format_2", "format = 1", "format = 2", "bad_format", "1:10", {"expected format = 1", "found 2"}},
    {"format_in_quotes", "format = 1", "format = \"1\"", "wrong_type", "1:10", {"expected format = 1"}},
    {"no_format", "format = 1\n", "\n", "missing_key", "1:1", {"\"format = 1\""}},
    {"empty_file", kGoodShop, "", "missing_key", "1:1", {"\"format = 1\""}},
    {"name_is_a_number", "\"Test shop\"", "12", "wrong_type", "2:8", {"a text in quotes", "the number 12"}},
    {"two_wrongs_give_the_first",
     "kerf = \"2.6 mm\"\ndiameter = \"10 in\"",
     "kerf = 0\ndiameter = 0",
     "wrong_type",
     "7:8",
     {"kerf"}},
};

const Spoiled kBatches[] = {
    {"unknown_key", "spares = ", "spare = ", "unknown_key", "7:1", {"did you mean \"spares\""}},
    {"missing_stick", "stick = \"16 mm\"\n", "", "missing_key", "1:1", {"\"stick\"", "a length"}},
    {"stick_too_thick", "\"16 mm\"", "\"16 cm\"", "out_of_range", "4:9", {"\"100 mm\"", "\"16 cm\""}},
    {"share_without_percent", "\"8 %\"", "0.08", "wrong_type", "7:10", {"write it in percent, \"8 %\""}},
    {"share_too_large", "\"8 %\"", "\"800 %\"", "out_of_range", "7:10", {"\"100 %\""}},
    {"share_in_words", "\"8 %\"", "\"a few\"", "bad_share", "7:10", {"in percent", "\"a few\""}},
    {"date_that_is_none", "start = 2031-02-25", "start = 2031-02-30", "bad_toml", "5:19", {"between 1 and 28"}},
    {"date_in_words", "start = 2031-02-25", "start = \"25 February\"", "bad_date", "5:9", {"such as 2031-03-08"}},
    {"date_with_time",
     "start = 2031-02-25",
     "start = 2031-02-25T10:00:00",
     "wrong_type",
     "5:9",
     {"a date with a time"}},
    {"due_before_start", "\"2031-04-05\"", "\"2031-02-05\"", "bad_date", "6:7", {"not before start"}},
    {"due_in_another_decade", "\"2031-04-05\"", "\"2041-04-05\"", "bad_date", "6:7", {"two years", "year"}},
    {"shop_not_there", "\"shop.toml\"", "\"shed.toml\"", "no_file", "3:8", {"shed.toml"}},
    {"shop_is_a_number", "\"shop.toml\"", "1", "wrong_type", "3:8", {"a text in quotes"}},
    {"unknown_wood",
     "arm = [\"black cherry\"",
     "arm = [\"blak cherry\"",
     "unknown_wood",
     "14:18",
     {"arm:", "\"black cherry\""}},
    {"unknown_second_wood", "\"hard maple\"", "\"hard mapel\"", "unknown_wood", "14:34", {"\"hard maple\""}},
    {"unknown_wood_of_a_piece",
     "\"long arm\" = \"walnut\"",
     "\"long arm\" = \"wallnut\"",
     "unknown_wood",
     "14:62",
     {"walnut\""}},
    {"unknown_wood_of_a_block", "block\" = \"walnut\"", "block\" = \"plastic\"", "unknown_wood", "15:51", {"plastic"}},
    {"wood_is_a_number",
     "\"long arm\" = \"walnut\"",
     "\"long arm\" = 3",
     "wrong_type",
     "14:62",
     {"long arm", "a list"}},
    {"no_wood_at_all", "{ \"*\" = \"cherry\" }", "{ }", "bad_count", "20:9", {"a wood for each piece"}},
    {"block_wood_without_block",
     "\"*\" = { \"center block\" = \"holly\" }",
     "\"*\" = \"holly\"",
     "wrong_type",
     "15:69",
     {"expected a table"}},
    {"no_copies", "copies = 6", "copies = 0", "out_of_range", "19:10", {"from 1 to 1000"}},
    {"missing_design", "design = \"star.toml\"\n", "", "missing_key", "11:1", {"[[puzzle]] number 1", "\"design\""}},
    {"tolerance_of_nothing", "\"0.05 mm\"", "\"0 mm\"", "out_of_range", "9:13", {"\"0.001 mm\""}},
    {"puzzle_in_single_brackets",
     "[[puzzle]]\ndesign = \"star.toml\"",
     "[puzzle]\ndesign = \"star.toml\"",
     "bad_toml",
     "17:1",
     {"twice"}},
};

std::string name_of(const testing::TestParamInfo<Spoiled>& info) {
  return info.param.name;
}

INSTANTIATE_TEST_SUITE_P(Each, SpoiledShop, testing::ValuesIn(kShops), name_of);
INSTANTIATE_TEST_SUITE_P(Each, SpoiledBatch, testing::ValuesIn(kBatches), name_of);

TEST(BadInput, AFileThatIsNotThereSaysWhich) {
  const auto shop = load_shop("no/such/shop.toml");
  ASSERT_FALSE(shop);
  EXPECT_EQ(shop.problem().code, "no_file");
  EXPECT_EQ(shop.problem().where, "no/such/shop.toml");
  EXPECT_EQ(load_batch("no/such/batch.toml").problem().code, "no_file");
}

TEST(BadInput, AProblemInTheShopOfABatchNamesTheShopFile) {
  const fs::path folder = fs::path(testing::TempDir()) / "bad_shop_of_batch";
  ASSERT_TRUE(write_file(folder / "shop.toml", "format = 1\nname = 3\n"));
  ASSERT_TRUE(write_file(folder / "batch.toml", kGoodBatch));
  const auto read = load_batch(folder / "batch.toml");
  ASSERT_FALSE(read);
  EXPECT_EQ(read.problem().where, (folder / "shop.toml").string() + ":1:1");
}

TEST(BadInput, TheExcerptPointsAtTheColumn) {
  const auto read = parse_shop(spoil(kGoodShop, kShops[6]), "shop.toml");
  ASSERT_FALSE(read);
  EXPECT_EQ(read.problem().excerpt, "kerf = 2.6\n       ^");
}

// Half a file is what an interrupted editor leaves: never a crash, and a problem unless only the end is missing.
TEST(BadInput, EveryBeginningOfAGoodShopIsReadOrRefused) {
  for (std::size_t n = 0; n + 1 < kGoodShop.size(); n += 3) {
    const auto read = parse_shop(kGoodShop.substr(0, n), "shop.toml");
    if (read) {
      EXPECT_GT(n, kGoodShop.find("12:30:00"));
    } else {
      EXPECT_FALSE(read.problem().say.empty());
    }
  }
}

}  // namespace
}  // namespace stickwright
