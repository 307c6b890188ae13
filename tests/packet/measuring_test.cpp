#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>

#include "batch/truing_look.h"
#include "packet/known_table.h"
#include "packet/packet.h"
#include "packet/printed_pages.h"
#include "packet/shim_table_view.h"
#include "packet/truing_check.h"
#include "support/example_plan.h"
#include "support/other_shop.h"

namespace stickwright {
namespace {

std::vector<std::string> printed(const FullPlan& plan, Paper paper) {
  const Scratch scratch("measuring");
  const std::string pdf = (scratch.path / "packet.pdf").string();
  EXPECT_TRUE(write_packet(plan, paper, pdf));
  return pages_of(pdf);
}

std::string card_of(const std::vector<std::string>& pages, std::size_t set_up) {
  return pages_titled(pages, fmt::format("Set-up {} of", set_up + 1));
}
std::string measure_page_of(const std::vector<std::string>& pages, std::size_t set_up) {
  return pages_titled(pages, fmt::format("Set-up {}: measure and correct", set_up + 1));
}

// The rows as they should stand on paper, in this test's own words.
std::string rows_in_words(const std::vector<ShimRow>& rows, const std::vector<Nm>& leaves) {
  std::string out;
  for (const ShimRow& r : rows) {
    const std::string from = fmt::format("{:.3f}", r.first.v), to = fmt::format("{:.3f}", r.last.v);
    out += (from == to ? from : from + "–" + to) + " ";
    if (r.advice == StopAdvice::leave) out += "leave it";
    if (r.advice == StopAdvice::remake) out += "remake";
    if (r.advice == StopAdvice::true_the_miter) out += "true the miter first";
    std::string shim;
    for (const std::size_t i : r.shim.leaves)
      shim = fmt::format("{:.2f}", to_mm(leaves[i]).v) + (shim.empty() ? "" : " + ") + shim;
    out += shim + " ";
  }
  return out;
}

TEST(SetUpCard, SaysWhatTheSawAsItIsKnownShouldGiveAndHowWellThatIsKnown) {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const auto pages = printed(example(), paper);
    for (std::size_t i = 0; i < example().batch.set_ups.size(); ++i) {
      const std::string card = card_of(pages, i);
      for (const TestPlan& t : example().batch.set_ups[i].tests) {
        const std::string gives = fmt::format("The saw as it is known best gives {:.3f} mm.", t.expected().v);
        EXPECT_NE(card.find(gives), std::string::npos) << gives;
        EXPECT_NE(card.find(budget_sentence(t.prediction.budget)), std::string::npos);
        EXPECT_EQ(card.find("drawn:") != std::string::npos,
                  std::any_of(example().batch.set_ups[i].tests.begin(), example().batch.set_ups[i].tests.end(),
                              [](const TestPlan& o) { return o.prediction.bends; }));
        if (!t.prediction.bends) continue;
        const Interval& drawn = t.prediction.sampled->symmetric;
        EXPECT_NE(card.find(fmt::format("drawn: {:.3f} to {:.3f} mm (95 %)", drawn.low, drawn.high)),
                  std::string::npos);
        EXPECT_EQ(card.find("They agree.") != std::string::npos, t.prediction.compared->agrees);
      }
    }
  }
}

bool has_shims(const std::vector<ShimRow>& rows) {
  return std::any_of(rows.begin(), rows.end(), [](const ShimRow& r) { return r.advice == StopAdvice::shim; });
}

void expect_shim_tables_printed(const FullPlan& plan, Paper paper) {
  const auto pages = printed(plan, paper);
  for (std::size_t i = 0; i < plan.batch.set_ups.size(); ++i) {
    const SetUp& s = plan.batch.set_ups[i];
    const std::string page = measure_page_of(pages, i);
    for (std::size_t k = 0; k < s.tests.size(); ++k) {
      const auto& leaves = plan.batch.batch.shop.feeler_leaves;
      const std::string now = rows_in_words(s.tests[k].shim_table, leaves);
      EXPECT_NE(page.find("As the saw is known now measured leaves, mm " + now), std::string::npos) << now << "\n"
                                                                                                    << page;
      if (has_shims(s.tests[k].shim_table)) continue;  // then no second table is needed
      const std::string trued = rows_in_words(trued_shim_table(plan.batch, s, k), leaves);
      EXPECT_NE(page.find("with the square measured leaves, mm " + trued), std::string::npos) << trued << "\n" << page;
    }
  }
}

TEST(MeasurePage, ItsShimTablesAreThoseOfThePlan) {
  expect_shim_tables_printed(example(), Paper::a4);
  expect_shim_tables_printed(example(), Paper::letter);
}

// A miter that may be far off leaves no room for shims: then the page has the table of a trued miter as well.
TEST(MeasurePage, HasTheTableOfATruedMiterWhereTheMiterIsHardlyKnown) {
  const OtherShop trued(Changes{{"\nmiter = \"0.01 deg\"", "\nmiter = \"0.3 deg\""}});
  const auto plan = plan_batch(trued.batch_file);
  ASSERT_TRUE(plan) << plan.problem().say;
  ASSERT_FALSE(has_shims(plan.value().batch.set_ups.front().tests.front().shim_table));
  expect_shim_tables_printed(plan.value(), Paper::letter);
}

TEST(MeasurePage, HasABoxForEveryReadingThatThePlanAsksFor) {
  const auto pages = printed(example(), Paper::a4);
  for (std::size_t i = 0; i < example().batch.set_ups.size(); ++i) {
    const int wanted = example().batch.set_ups[i].readings(example().batch.batch.shop.times.measured_every);
    const std::string page = measure_page_of(pages, i);
    const auto from = page.find(fmt::format("Readings across flats, mm: {} of them", wanted));
    ASSERT_NE(from, std::string::npos) << page;
    EXPECT_NE(page.find(fmt::format(" {} ", wanted), from + 30), std::string::npos) << page.substr(from);
  }
}

std::vector<ShimRow> numbered_rows(int count) {
  std::vector<ShimRow> rows;
  for (int k = 0; k < count; ++k) {
    ShimRow r;
    r.first = Mm{16 + 0.01 * k}, r.last = Mm{16.005 + 0.01 * k};
    rows.push_back(r);
  }
  return rows;
}

TEST(ShimTableView, TooManyRowsLeaveThoseAboutTheTarget) {
  const auto rows = numbered_rows(40);
  const auto some = rows_about(rows, Mm{16.2}, 12);
  ASSERT_EQ(some.size(), 12u);
  EXPECT_LT(some.front().first.v, 16.2);
  EXPECT_GT(some.back().last.v, 16.2);
  for (const ShimRow& r : some) EXPECT_LT(std::abs(r.first.v - 16.2), 0.08);
  EXPECT_EQ(rows_about(rows, Mm{16}, 12).front().first, Mm{16});
  EXPECT_EQ(rows_about(rows, Mm{16.2}, 50).size(), 40u);
}

TEST(ShimTableView, LeavesReadFromTheThickestOn) {
  const std::vector<Nm> owned = {Nm{38'100}, Nm{50'000}, Nm{100'000}};
  EXPECT_EQ(leaves_in_words(owned, {1, 2}), "0.10 + 0.05");
  EXPECT_EQ(leaves_in_words(owned, {0}), "0.038");
}

TEST(TruingCard, PrintsTheLeavesOfThisShop) {
  const auto pages = printed(example(), Paper::a4);
  const std::string card = pages_titled(pages, "Truing the saw");
  const Shop& shop = example().batch.batch.shop;
  for (const Look look : {Look::blade, Look::flanks, Look::point}) {
    std::string readings = "up to", leaves = "leaves";
    for (const LeafRow& r : leaves_for(truing_look(shop, Mm{16}, look), shop, 12)) {
      readings += fmt::format(" {:.3f}", to_mm(r.last).v);
      leaves += fmt::format(" {}", r.leaves.empty() ? "none" : leaves_in_words(shop.feeler_leaves, r.leaves));
    }
    EXPECT_NE(card.find(readings), std::string::npos) << readings << "\n" << card;
    for (const auto& words : {shop.sled.tilt_leaf_at, shop.cradles[0].flank_leaf_at, shop.cradles[0].leaf_at})
      EXPECT_NE(card.find(words), std::string::npos) << words;
  }
  // Common practice, no source: two miters make the light, so 0.05 mm over 75 mm is half of 0.0382 degrees.
  EXPECT_NE(card.find("miter = light / (2 × 75 mm): 0.05 mm is 0.019°"), std::string::npos) << card;
  EXPECT_NE(card.find("the point is wider than 90°, the miter error is +"), std::string::npos);
  EXPECT_NE(card.find("Saw unplugged"), std::string::npos);
  // The truing block by hand: 4 u is 4 / sqrt 2 times 16 mm; e rad more of miter make it 8 u e longer.
  const double u = 16 / std::numbers::sqrt2, per_hundredth = 0.01 / (8 * u) * 180 / std::numbers::pi;
  EXPECT_NE(card.find(fmt::format("{:.3f} mm for 16.00 mm", 4 * u)), std::string::npos);
  EXPECT_NE(card.find(fmt::format("{:+.4f}°", per_hundredth)), std::string::npos) << per_hundredth;
}

// In steps of 0.02 mm of height no column stands for all readings up to it.
TEST(TruingCard, CoarseStepsSayNear) {
  Shop shop = example().batch.batch.shop;
  shop.feeler_leaves = {Nm{38'000},  Nm{51'000},  Nm{64'000},  Nm{76'000},
                        Nm{102'000}, Nm{127'000}, Nm{152'000}, Nm{203'000}};
  const auto coarse = strip_rows(truing_checks(shop, Mm{16})[1], shop);
  const auto fine = strip_rows(truing_checks(example().batch.batch.shop, Mm{16})[1], example().batch.batch.shop);
  EXPECT_EQ(coarse[0].front(), "near");
  EXPECT_EQ(fine[0].front(), "up to");
  EXPECT_EQ(coarse[0].size(), coarse[1].size());
}

TEST(TruingCard, WithoutLeversItNamesTheKeysThatAreMissing) {
  const OtherShop bare = bare_shop();
  const auto plan = plan_batch(bare.batch_file);
  ASSERT_TRUE(plan) << plan.problem().say;
  const std::string card = pages_titled(printed(plan.value(), Paper::letter), "Truing the saw");
  for (const char* words : {"sled.tilt_lever", "flank_spread of the [[cradle]]", "pivot_to_leaf of the [[cradle]]",
                            "miter = light / (2 × 60 mm): 0.05 mm is 0.024°", "assumed"})
    EXPECT_NE(card.find(words), std::string::npos) << words;
}

TEST(KnownTable, HasEveryNumberThatIsUncertainOnceWithWhereItComesFrom) {
  const auto rows = known_rows(example().batch.saw);
  const auto count = [&](const std::string& name) {
    return std::count_if(rows.begin(), rows.end(), [&](const Row& r) { return r[0] == name; });
  };
  for (const char* name :
       {"miter", "blade tilt", "cradle roll", "cradle pitch", "run-out", "stick: width", "stick: squareness",
        "clamp force, change since truing", "seating at the stop", "warming since then"})
    EXPECT_EQ(count(name), 1) << name;
  for (const std::string& wood : example().batch.saw.woods) EXPECT_EQ(count(wood + ": movement of width"), 1) << wood;
  const auto width = std::find_if(rows.begin(), rows.end(), [](const Row& r) { return r[0] == "stick: width"; });
  EXPECT_EQ(*width, (Row{"stick: width", "16.000 mm", "0.020 mm", "shop file, [known]"}));
  EXPECT_EQ(rows.front(), (Row{"miter", "0.000°", "0.010°", "shop file, [known]"}));
  for (const Row& r : rows) EXPECT_FALSE(r[3].empty()) << r[0];
}

}  // namespace
}  // namespace stickwright
