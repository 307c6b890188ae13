// What a caliper types and what a spreadsheet writes.
#include <gtest/gtest.h>

#include <ostream>

#include "ledger/reading_csv.h"
#include "ledger/typed_value.h"

namespace stickwright {
namespace {

struct Form {
  const char* text;
  std::int64_t nm;
};
void PrintTo(const Form& f, std::ostream* out) {
  *out << f.text;
}
class TypedForm : public testing::TestWithParam<Form> {};

TEST_P(TypedForm, IsRead) {
  const auto r = parse_typed(GetParam().text, Unit::mm);
  ASSERT_TRUE(r) << r.problem().say;
  EXPECT_EQ(r.value().v, GetParam().nm);
}
// An inch is 25.4 mm, exactly: 0.6307 in are 16.01978 mm.
INSTANTIATE_TEST_SUITE_P(Typed, TypedForm,
                         testing::Values(Form{"16.02", 16'020'000}, Form{"16.02 mm", 16'020'000},
                                         Form{" 0.6307in", 16'019'780}, Form{"+16.020\r\n", 16'020'000},
                                         Form{"16,02", 16'020'000}, Form{"16.02\t", 16'020'000}, Form{"16", 16'000'000},
                                         Form{"16.", 16'000'000}, Form{"016.0200MM", 16'020'000},
                                         Form{"0.6307 inch", 16'019'780}, Form{"0.6307\"", 16'019'780},
                                         Form{"16.0200004", 16'020'000}, Form{"\r\n16.02", 16'020'000}));

TEST(Typed, BareNumbersMayBeInches) {
  EXPECT_EQ(parse_typed("0.6307", Unit::inch).value().v, 16'019'780);
  EXPECT_EQ(parse_typed("16.02 mm", Unit::inch).value().v, 16'020'000);
}

TEST(Typed, EverythingElseIsRefused) {
  for (const char* text : {"",    " ",   "abc",  "16.02 kg", "16.0.2",   "16,0.2",   "1e3",        "-16.02",
                           "--",  "+",   "+-16", "mm",       ".",        "0",        "0.00",       "16.02 16.03",
                           "nan", "inf", "0x10", "99999999", "16.02mmm", "\xC3\xA9", "16.02 mm mm"})
    EXPECT_EQ(parse_typed(text, Unit::mm) ? "read" : parse_typed(text, Unit::mm).problem().code, "bad_value") << text;
}

TEST(Typed, AMessageShowsNoControlCharacters) {
  EXPECT_EQ(parse_typed("\x1b[2Jx", Unit::mm).problem().say.find('\x1b'), std::string::npos);
}

TEST(Typed, ALineMayHoldSeveral) {
  using Values = std::vector<std::string>;
  EXPECT_EQ(split_typed("16.02 16.03\t16,04"), (Values{"16.02", "16.03", "16,04"}));
  EXPECT_EQ(split_typed(" 16.02 mm; 0.63 in\r\n"), (Values{"16.02 mm", "0.63 in"}));
  EXPECT_EQ(split_typed("mm"), (Values{"mm"}));
  EXPECT_TRUE(split_typed(" \t\r\n").empty());
}

TEST(ReadingCsv, ColumnsInAnyOrderBothMarksQuotesAndEmptyLines) {
  const auto csv = read_csv(
      "r.csv", "\xEF\xBB\xBFwood,value,note,at\r\nwalnut,16.02,\"a, \"\"b\"\"\",2031-02-04T18:30\r\n\r\n,0.63 in\r\n",
      Unit::mm);
  ASSERT_TRUE(csv) << csv.problem().say;
  const auto& r = csv.value().readings;
  ASSERT_EQ(r.size(), 2u);
  EXPECT_EQ(r[0].reading.wood, "walnut");
  EXPECT_EQ(r[0].reading.value.v, 16'020'000);
  EXPECT_EQ(r[0].reading.note, "a, \"b\"");
  EXPECT_EQ(r[0].reading.taken_at, "2031-02-04T18:30");
  EXPECT_EQ(r[1].reading.value.v, 16'002'000);
  EXPECT_EQ(r[1].reading.note, "");
  EXPECT_EQ(r[1].at, (Place{4, 2}));
  const auto semicolons = read_csv("r.csv", "value;stick\n16,02;A 3\n", Unit::mm);
  ASSERT_TRUE(semicolons) << semicolons.problem().say;
  EXPECT_EQ(semicolons.value().readings[0].reading.value.v, 16'020'000);
  EXPECT_EQ(semicolons.value().readings[0].reading.stick, "A 3");
}

struct Mistake {
  const char* text;
  const char* code;
  const char* where;
};
void PrintTo(const Mistake& m, std::ostream* out) {
  *out << m.where;
}
class CsvMistake : public testing::TestWithParam<Mistake> {};

TEST_P(CsvMistake, IsToldAtItsPlace) {
  const auto csv = read_csv("r.csv", GetParam().text, Unit::mm);
  ASSERT_FALSE(csv);
  EXPECT_EQ(csv.problem().code, GetParam().code);
  EXPECT_EQ(csv.problem().where, GetParam().where);
}
INSTANTIATE_TEST_SUITE_P(ReadingCsv, CsvMistake,
                         testing::Values(Mistake{"size\n16\n", "bad_csv", "r.csv:1:1"},
                                         Mistake{"wood\nwalnut\n", "bad_csv", "r.csv:1:1"},
                                         Mistake{"value,wod\n16,walnut\n", "bad_csv", "r.csv:1:7"},
                                         Mistake{"value,value\n16,16\n", "bad_csv", "r.csv:1:7"},
                                         Mistake{"value\n16\n16.x\n", "bad_value", "r.csv:3:1"},
                                         Mistake{"note,value\n\xC3\xA9\xC3\xA9,12a\n", "bad_value", "r.csv:2:4"},
                                         Mistake{"value,at\n16,2031-02-30\n", "bad_time", "r.csv:2:4"},
                                         Mistake{"value\n16,17\n", "bad_csv", "r.csv:2:4"},
                                         Mistake{"value,note\n16,\"open\n", "bad_csv", "r.csv:2:4"},
                                         Mistake{"note,value\nnothing\n", "bad_value", "r.csv:2:8"},
                                         Mistake{"value,value_2\n16,x\n", "bad_value", "r.csv:2:4"},
                                         Mistake{"value,block\n16,0\n", "bad_block", "r.csv:2:4"},
                                         Mistake{"value,block\n16,2a\n", "bad_block", "r.csv:2:4"},
                                         Mistake{"value\n\n", "no_readings", "r.csv"},
                                         Mistake{"", "no_readings", "r.csv"},
                                         Mistake{"value,note\n16,a\xE4\n", "bad_csv", "r.csv:2:5"}));

TEST(ReadingCsv, WidthsHaveASecondValueAndBlocksANumber) {
  const auto csv = read_csv("r.csv", "block;value;value_2\n12;15,98;16,01\n;15,97;\n", Unit::mm);
  ASSERT_TRUE(csv) << csv.problem().say;
  const auto& rows = csv.value().readings;
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0].reading.block, 12);
  EXPECT_EQ(rows[0].reading.value.v, 15'980'000);
  EXPECT_EQ(rows[0].value_2->v, 16'010'000);
  EXPECT_EQ(rows[1].reading.block, 0);
  EXPECT_FALSE(rows[1].value_2);
}

TEST(ReadingCsv, Times) {
  for (const char* good : {"2031-02-04", "2031-02-04 18:30", "2031-02-04T18:30:05Z", "2032-02-29"})
    EXPECT_TRUE(is_time(good)) << good;
  for (const char* bad :
       {"2031-02-29", "2031-2-4", "18:30", "2031-02-04T", "2031-02-04T24:00", "2031-02-04T18:60", "2031-02-04T18:30+1"})
    EXPECT_FALSE(is_time(bad)) << bad;
}

}  // namespace
}  // namespace stickwright
