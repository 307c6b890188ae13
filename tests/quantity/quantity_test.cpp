#include "quantity/quantity.h"

#include <gtest/gtest.h>

namespace stickwright {
namespace {

// The inch is 25.4 mm exactly (international inch of 1959); the foot is 12 inches.
TEST(ParseLength, UnitsAndFractions) {
  const struct {
    const char* text;
    double mm;
  } rows[] = {{"16 mm", 16},     {"16mm", 16},      {" 1.6 cm ", 16},       {"0.016 m", 16},        {"80 um", 0.08},
              {"1 in", 25.4},    {"3/4 in", 19.05}, {"1 1/2 in", 38.1},     {"5/8\"", 15.875},      {"4 ft", 1219.2},
              {"-0.5 mm", -0.5}, {".5 mm", 0.5},    {"80 \xC2\xB5m", 0.08}, {"80 \xCE\xBCm", 0.08}, {"0.1 mm", 0.1}};
  for (const auto& row : rows) {
    const auto length = parse_length(row.text);
    ASSERT_TRUE(length) << row.text;
    EXPECT_DOUBLE_EQ(length.value().v, row.mm) << row.text;
  }
}

TEST(ParseLength, WhatIsNoLengthIsRefused) {
  for (const char* text : {"",
                           "mm",
                           "16",
                           "16 kg",
                           "16 MM",
                           "1,6 mm",
                           "1.6.1 mm",
                           "1/0 in",
                           "1 1/2/3 in",
                           "--1 mm",
                           "1.-0 mm",
                           "-0.-5 mm",
                           "+1 mm",
                           "1e3 mm",
                           "0x10 mm",
                           "nan mm",
                           "inf mm",
                           "16 mm 2",
                           "1 -1/2 in",
                           "1 1 1/2 in",
                           "99999999999999999999 mm",
                           "1.2345678 mm",
                           "5. mm"}) {
    const auto length = parse_length(text);
    ASSERT_FALSE(length) << text;
    EXPECT_EQ(length.problem().code, "bad_length") << text;
  }
}

TEST(ParseNominal, IsExact) {
  EXPECT_EQ(parse_nominal("1.005 mm").value(), Nm{1'005'000});
  EXPECT_EQ(parse_nominal("0.1001 in").value(), Nm{2'542'540});
  EXPECT_EQ(parse_nominal("1/64 in").value(), Nm{396'875});
  EXPECT_EQ(parse_nominal("0.000001 mm").value(), Nm{1});
  EXPECT_EQ(parse_nominal("1/7 in").problem().code, "not_whole_nm");
  EXPECT_EQ(parse_nominal("0.5 nm").problem().code, "not_whole_nm");
  EXPECT_EQ(parse_nominal("1 s").problem().code, "bad_length");
}

// The inverse of showing: every whole nanometer up to a millimeter, in steps of a prime.
TEST(ParseNominal, ReadsBackWhatMillimetersSay) {
  for (std::int64_t nm = 1; nm < 1'000'000; nm += 997) {
    std::string digits = std::to_string(nm);
    digits.insert(0, 6 - digits.size(), '0');
    EXPECT_EQ(parse_nominal("0." + digits + " mm").value(), Nm{nm});
  }
}

TEST(ToNm, RoundsToTheNearest) {
  EXPECT_EQ(to_nm(Mm{1.0000004}), Nm{1'000'000});
  EXPECT_EQ(to_nm(Mm{1.0000006}), Nm{1'000'001});
  EXPECT_EQ(to_nm(to_mm(Nm{22'627'417})), Nm{22'627'417});
}

TEST(ParseDuration, UnitsAndRounding) {
  EXPECT_EQ(parse_duration("12 s").value(), Seconds{12});
  EXPECT_EQ(parse_duration("20 min").value(), Seconds{1200});
  EXPECT_EQ(parse_duration("1.5 h").value(), Seconds{5400});
  EXPECT_EQ(parse_duration("1 1/2 h").value(), Seconds{5400});
  EXPECT_EQ(parse_duration("2 d").value(), Seconds{172800});
  EXPECT_EQ(parse_duration("12").problem().code, "bad_duration");
  EXPECT_EQ(parse_duration("12 mm").problem().code, "bad_duration");
}

TEST(ParseShare, IsInPercent) {
  EXPECT_DOUBLE_EQ(parse_share("8 %").value(), 0.08);
  EXPECT_DOUBLE_EQ(parse_share("12.5%").value(), 0.125);
  EXPECT_EQ(parse_share("0.08").problem().code, "bad_share");
}

TEST(ShowMmInch, BothUnits) {
  EXPECT_EQ(show_mm_inch(Mm{22.627417}), "22.627 mm (0.8908 in)");
}

}  // namespace
}  // namespace stickwright
