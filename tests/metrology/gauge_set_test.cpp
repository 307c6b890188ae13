#include "metrology/gauge_set.h"

#include <gtest/gtest.h>

#include <array>
#include <set>

namespace stickwright {
namespace {

GaugeSystem system_of(std::string_view set_name) {
  return set_name.starts_with("mm") ? GaugeSystem::metric : GaugeSystem::inch;
}

GaugeSet standard(std::string_view name) {
  return standard_gauge_set(name, system_of(name) == GaugeSystem::metric ? "1" : "AS-1").take();
}

std::int64_t sum_nm(const GaugeSet& set) {
  std::int64_t sum = 0;
  for (const GaugeBlock& b : set.blocks) sum += b.size.v;
  return sum;
}

Nm nominal(std::string_view text) {
  return parse_nominal(text).value();
}

std::int64_t tolerance_nm(std::string_view size, std::string_view grade, GaugeSystem system) {
  return gauge_tolerance(nominal(size), grade, system).value().v;
}

struct Known {
  std::string_view name;
  std::size_t count;
  std::string_view sum;
};

// Trade lists of set compositions: inch 81 from a published selection guide, the others from memory with the sums
// worked out from the printed compositions.
constexpr std::array kKnown = {
    Known{"mm 32", 32, "188.955 mm"},       Known{"mm 46", 46, "626.995 mm"},   Known{"mm 47 (a)", 47, "573.955 mm"},
    Known{"mm 47 (b)", 47, "629.305 mm"},   Known{"mm 76", 76, "482.255 mm"},   Known{"mm 87", 87, "715.295 mm"},
    Known{"mm 88", 88, "716.2955 mm"},      Known{"mm 103", 103, "924.755 mm"}, Known{"mm 112", 112, "933.7955 mm"},
    Known{"mm 122", 122, "1310.7955 mm"},   Known{"inch 36", 36, "11.7495 in"}, Known{"inch 81", 81, "26.5295 in"},
    Known{"inch 28 thin", 28, "0.87955 in"}};

TEST(StandardGaugeSet, TradeListsCountsAndSums) {
  ASSERT_EQ(gauge_set_names().size(), kKnown.size());
  for (const Known& k : kKnown) {
    const GaugeSet set = standard(k.name);
    EXPECT_EQ(set.blocks.size(), k.count) << k.name;
    EXPECT_EQ(sum_nm(set), nominal(k.sum).v) << k.name;
    EXPECT_EQ(set.name, k.name);
  }
}

TEST(StandardGaugeSet, NoSizeTwiceAndEveryNameBuilds) {
  for (const std::string_view name : gauge_set_names()) {
    std::set<std::int64_t> sizes;
    for (const GaugeBlock& b : standard(name).blocks) EXPECT_TRUE(sizes.insert(b.size.v).second) << name;
  }
}

TEST(StandardGaugeSet, UnknownNameAndGradeSayWhatThereIs) {
  const auto set = standard_gauge_set("mm 48", "1");
  ASSERT_FALSE(set);
  EXPECT_EQ(set.problem().code, "unknown_gauge_set");
  EXPECT_NE(set.problem().say.find("mm 47 (a)"), std::string::npos);
  const auto metric = standard_gauge_set("mm 88", "AS-1");
  ASSERT_FALSE(metric);
  EXPECT_EQ(metric.problem().code, "unknown_grade");
  EXPECT_NE(metric.problem().say.find("K, 0, 1, 2"), std::string::npos);
  const auto inch = standard_gauge_set("inch 81", "1");
  ASSERT_FALSE(inch);
  EXPECT_NE(inch.problem().say.find("AS-2"), std::string::npos);
}

// DIN 861 table, printed as corresponding to ISO 3650:1998: length deviation of grades 0, 1, 2.
TEST(GaugeTolerance, Iso3650LengthDeviation) {
  const auto t = [](std::string_view size, std::string_view grade) {
    return tolerance_nm(size, grade, GaugeSystem::metric);
  };
  EXPECT_EQ(t("0.5 mm", "0"), 120);
  EXPECT_EQ(t("10 mm", "1"), 200);
  EXPECT_EQ(t("10.5 mm", "1"), 300);
  EXPECT_EQ(t("25 mm", "2"), 600);
  EXPECT_EQ(t("50 mm", "0"), 200);
  EXPECT_EQ(t("75 mm", "1"), 500);
  EXPECT_EQ(t("100 mm", "2"), 1200);
  EXPECT_EQ(t("150 mm", "0"), 400);
  EXPECT_EQ(t("200 mm", "1"), 1000);
  EXPECT_EQ(t("250 mm", "2"), 2400);
}

TEST(GaugeTolerance, Iso3650GradeKFromMemory) {
  EXPECT_EQ(tolerance_nm("10 mm", "K", GaugeSystem::metric), 200);
  EXPECT_EQ(tolerance_nm("100 mm", "K", GaugeSystem::metric), 600);
}

// ASME B89.1.9-2002, from memory; the 1 in row, 6/12/24 microinches, also printed on a trade page.
TEST(GaugeTolerance, InchTableFromMemoryAndOneInchRow) {
  const auto t = [](std::string_view size, std::string_view grade) {
    return tolerance_nm(size, grade, GaugeSystem::inch);
  };
  EXPECT_EQ(t("1 in", "0"), 152);     // 152.4
  EXPECT_EQ(t("1 in", "AS-1"), 305);  // 304.8
  EXPECT_EQ(t("1 in", "AS-2"), 610);  // 609.6
  EXPECT_EQ(t("0.05 in", "0"), 152);
  EXPECT_EQ(t("0.1001 in", "0"), 127);
  EXPECT_EQ(t("4 in", "AS-2"), 1219);
}

TEST(GaugeTolerance, InchSizeBetweenRowsTakesTheLargerRow) {
  const auto t = [](std::string_view size) { return tolerance_nm(size, "AS-1", GaugeSystem::inch); };
  EXPECT_EQ(t("0.4 in"), 203);   // 8 microinches
  EXPECT_EQ(t("0.42 in"), 305);  // 12
  EXPECT_EQ(t("1.5 in"), 406);   // 16
  EXPECT_EQ(t("2.5 in"), 508);   // 20
}

TEST(CustomGaugeSet, KeepsTheOrderAndPermitsASizeTwice) {
  const std::array sizes = {Nm{2'000'000}, Nm{30'000'000}, Nm{2'000'000}};
  const GaugeSet set = custom_gauge_set(sizes, "2").take();
  ASSERT_EQ(set.blocks.size(), 3u);
  EXPECT_EQ(set.blocks[1], (GaugeBlock{Nm{30'000'000}, Nm{800}}));
  EXPECT_EQ(set.blocks[2], (GaugeBlock{Nm{2'000'000}, Nm{450}}));
}

TEST(CustomGaugeSet, BadInputs) {
  const auto code = [](const std::vector<Nm>& sizes, std::string_view grade) {
    const auto set = custom_gauge_set(sizes, grade);
    return set ? std::string("none") : set.problem().code;
  };
  EXPECT_EQ(code({}, "1"), "empty_set");
  EXPECT_EQ(code({Nm{0}}, "1"), "bad_block_size");
  EXPECT_EQ(code({Nm{250'000'001}}, "1"), "bad_block_size");
  EXPECT_EQ(code({Nm{1'000'000}}, "3"), "unknown_grade");
  EXPECT_EQ(code(std::vector<Nm>(128, Nm{1'000'000}), "1"), "none");
  EXPECT_EQ(code(std::vector<Nm>(129, Nm{1'000'000}), "1"), "too_many_blocks");
}

TEST(Without, TakesAwayTheLostBlocks) {
  const GaugeSet set = standard("mm 47 (a)");
  const std::array lost = {nominal("1.005 mm"), nominal("24 mm")};
  const GaugeSet rest = without(set, lost).take();
  EXPECT_EQ(rest.blocks.size(), 45u);
  EXPECT_EQ(sum_nm(rest), sum_nm(set) - 25'005'000);
  EXPECT_EQ(rest.name, "mm 47 (a), 2 missing");
}

TEST(Without, ASizeThatIsNotThereIsAProblemAndNamesItsNeighbors) {
  const GaugeSet set = standard("mm 47 (a)");
  const std::array wrong = {nominal("24.5 mm")};
  const auto rest = without(set, wrong);
  ASSERT_FALSE(rest);
  EXPECT_EQ(rest.problem().code, "no_such_block");
  EXPECT_NE(rest.problem().say.find("24 mm"), std::string::npos);
  EXPECT_NE(rest.problem().say.find("25 mm"), std::string::npos);
  const std::array twice = {nominal("24 mm"), nominal("24 mm")};
  EXPECT_EQ(without(set, twice).problem().code, "no_such_block");
}

TEST(Without, AnEmptyRestIsAProblem) {
  const std::array one = {Nm{2'000'000}};
  EXPECT_EQ(without(custom_gauge_set(one, "1").value(), one).problem().code, "empty_set");
}

TEST(ShowNominal, KeepsEveryNanometerAndTurnsToMicrometersWhenSmall) {
  EXPECT_EQ(show_nominal(nominal("58.345 mm")), "58.345 mm (2.29705 in)");
  EXPECT_EQ(show_nominal(Nm{33'941'125}), "33.941125 mm (1.33626 in)");
  EXPECT_EQ(show_nominal(Nm{1'500}), "1.5 um (59.06 uin)");
  EXPECT_EQ(show_nominal(Nm{0}), "0 um (0 uin)");
}

}  // namespace
}  // namespace stickwright
