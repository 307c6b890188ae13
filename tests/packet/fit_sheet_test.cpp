#include <fmt/core.h>
#include <gtest/gtest.h>

#include <regex>

#include "batch/fit_wording.h"
#include "packet/fit_stops.h"
#include "packet/fit_tables.h"
#include "packet/owner_year.h"
#include "packet/packet.h"
#include "packet/printed_pages.h"
#include "packet/printed_words.h"
#include "packet/star_plan.h"
#include "wood/moisture.h"

namespace stickwright {
namespace {

std::vector<std::string> printed(const FullPlan& plan, Paper paper = Paper::a4) {
  const Scratch scratch("fit_sheet");
  const std::string pdf = (scratch.path / "packet.pdf").string();
  const auto pages = write_packet(plan, paper, pdf);
  EXPECT_TRUE(pages) << pages.problem().say;
  std::vector<std::string> texts = pages_of(pdf);
  // Numbers are kept with their units by a space that does not break.
  const std::regex kept("\u00a0");
  for (std::string& t : texts) t = std::regex_replace(t, kept, " ");
  return texts;
}

std::string fit_text(const FullPlan& plan) {
  return pages_titled(printed(plan), "Will it close: six-piece star");
}

TEST(FitSheet, SaysFirstWhatTheScreenSays) {
  const FullPlan& plan = star_plan();
  const std::string text = fit_text(plan);
  for (const std::string& said : fit_in_words(plan.batch, plan.fit, plan.fit.puzzles[0])) {
    const std::string sentence = std::regex_replace(said, std::regex("\\+-"), "±");
    EXPECT_NE(text.find(sentence), std::string::npos) << sentence << "\n" << text;
  }
}

TEST(FitSheet, ComesBeforeTheSetUpCards) {
  const std::vector<std::string> pages = printed(star_plan());
  std::size_t fit = 0, card = 0;
  for (std::size_t i = pages.size(); i-- > 1;) {
    if (pages[i].starts_with("Will it close: six-piece star")) fit = i;
    if (pages[i].starts_with("Set-up 1 of")) card = i;
  }
  EXPECT_GT(fit, 0u);
  EXPECT_LT(fit, card);
  EXPECT_NE(pages[0].find(fmt::format("page {} Will it close: six-piece star", fit + 1)), std::string::npos);
}

TEST(FitSheet, ListsEverySizeAndEveryContactThatBinds) {
  const FullPlan& plan = star_plan();
  const PuzzleFit& p = plan.fit.puzzles[0];
  const std::string text = fit_text(plan);
  for (const Dimension& size : p.sizes) EXPECT_NE(text.find(size.name), std::string::npos) << size.name;
  double told = 0;
  for (const Row& row : tight_rows(plan, p, 12)) told += std::stod(row[2]);
  EXPECT_NEAR(told, 100, 1);
  for (const Row& row : tight_rows(plan, p, 8)) EXPECT_NE(text.find(row[0].substr(0, 12)), std::string::npos) << row[0];
  EXPECT_EQ(tight_rows(plan, p, 3).size(), 4u);
  EXPECT_EQ(tight_rows(plan, p, 3).back()[0], fmt::format("{} more", tight_rows(plan, p, 1000).size() - 3));
}

TEST(FitSheet, APuzzleThatDoesNotBindHasWordsOnly) {
  FullPlan plan = star_plan();
  PuzzleFit& p = plan.fit.puzzles[0];
  PuzzleFit loose;
  loose.puzzle = p.puzzle, loose.closed = p.closed, loose.contacts = p.contacts, loose.sizes = p.sizes;
  loose.binds = false;
  loose.allowances.mm.assign(p.sizes.size(), 0);
  loose.sliding = {SlidingStep{}};
  p = loose;
  const std::vector<std::string> pages = printed(plan);
  const std::string text = pages_titled(pages, "Will it close: six-piece star");
  EXPECT_NE(text.find("Its contacts cannot jam"), std::string::npos);
  for (const char* none : {"How much play", "What to set", "Where it binds", "differ from the next", "1 in 20"})
    EXPECT_EQ(text.find(none), std::string::npos) << none;
  const std::string all = pages_titled(pages, "");
  for (const char* none : {"So that the puzzles close", "Asked play", "this puzzle is tightest"})
    EXPECT_EQ(all.find(none), std::string::npos) << none;
}

TEST(FitSheet, PuzzlesThatCannotJamShareTheFirstSheet) {
  FullPlan plan = star_plan();
  PuzzleFit loose;
  loose.binds = false;
  loose.sliding = {SlidingStep{}};
  plan.fit.puzzles.insert(plan.fit.puzzles.begin(), loose);
  plan.fit.puzzles.push_back(loose);
  const std::vector<std::string> pages = printed(plan);
  const std::string text = pages_titled(pages, "Will it close: six-piece star; six-piece star; six-piece star");
  const std::size_t said = text.find("Its contacts cannot jam");
  EXPECT_NE(said, std::string::npos);
  EXPECT_EQ(text.find("Its contacts cannot jam", said + 1), std::string::npos);  // once of both
  const std::string all = pages_titled(printed(star_plan()), "Will it close");
  EXPECT_EQ(all.find("Its contacts cannot jam"), std::string::npos);
}

// A stop of the star's second set-up, whose test block tells something of it.
struct OneStop {
  FullPlan plan = star_plan();
  std::size_t at = 0;  // its size
  const SetUp* set_up = nullptr;
  OneStop() {
    const PuzzleFit& p = plan.fit.puzzles[0];
    while (p.sizes[at].stop != 1) ++at;
    for (const SetUp& s : plan.batch.set_ups)
      if (s.shape == p.sizes[at].shape) set_up = &s;
  }
  void allow(double mm) { plan.fit.puzzles[0].allowances.mm[at] = mm; }
  void need(double mm) {
    plan.fit.puzzles[0].tolerances.reachable = true;
    for (NeededTolerance& n : plan.fit.puzzles[0].tolerances.needed) n.tolerance_mm = mm;
  }
};

TEST(StopOnTheCard, NamesTheAllowanceAndWhatTheTestBlockThenMeasures) {
  OneStop s;
  s.allow(-0.02);
  const TestBlock& t = s.set_up->tests[1].test;
  const std::string words = allowance_on_card(s.plan, *s.set_up, 1);
  EXPECT_NE(words.find("set this stop 0.020 mm (0.0008 in) short"), std::string::npos) << words;
  EXPECT_NE(words.find(fmt::format("{:.3f} mm", t.across_flats.v - 0.02 * t.per_stop)), std::string::npos) << words;
  EXPECT_NE(words.find("stack above and the box beside are without it"), std::string::npos) << words;
  EXPECT_NE(words.find("nearer to the blade: saw unplugged"), std::string::npos) << words;
  s.allow(0.02);
  const std::string longer = allowance_on_card(s.plan, *s.set_up, 1);
  EXPECT_NE(longer.find("long"), std::string::npos);
  EXPECT_EQ(longer.find("nearer"), std::string::npos);
}

// A stop that was read is changed from where it stands, and so is its test block.
TEST(StopOnTheCard, GoesOnFromWhereTheStopStands) {
  OneStop s;
  s.allow(-0.02);
  const TestBlock& t = s.set_up->tests[1].test;
  StopAsRead read;
  read.set_up = static_cast<std::size_t>(s.set_up - s.plan.batch.set_ups.data()), read.stop = 1;
  read.error.value = -0.05;
  s.plan.fit.read = {read};
  const std::string words = allowance_on_card(s.plan, *s.set_up, 1);
  EXPECT_NE(words.find("short of where"), std::string::npos) << words;
  EXPECT_NE(words.find(fmt::format("{:.3f} mm", t.across_flats.v - 0.07 * t.per_stop)), std::string::npos) << words;
}

// Sticks of another width change the test block as well.
TEST(StopOnTheCard, DoesNotPromiseAReadingWhenTheSticksAreToBeOtherOnes) {
  OneStop s;
  s.allow(-0.02);
  const std::vector<Dimension>& sizes = s.plan.fit.puzzles[0].sizes;
  for (std::size_t d = 0; d < sizes.size(); ++d)
    if (sizes[d].size_of == SizeOf::stick) s.plan.fit.puzzles[0].allowances.mm[d] = 0.05;
  const std::string words = allowance_on_card(s.plan, *s.set_up, 1);
  EXPECT_NE(words.find("set this stop 0.020 mm (0.0008 in) short, together with the sticks"), std::string::npos)
      << words;
  EXPECT_EQ(words.find("measures"), std::string::npos) << words;
}

TEST(StopOnTheCard, SaysNothingOfLessThanAMicrometer) {
  OneStop s;
  s.allow(-0.0009);
  EXPECT_EQ(allowance_on_card(s.plan, *s.set_up, 1), "");
  s.allow(-0.001);
  EXPECT_NE(allowance_on_card(s.plan, *s.set_up, 1), "");
}

TEST(StopOnTheCard, NamesThePuzzlesWhereTheyWantItDifferently) {
  OneStop s;
  s.allow(-0.02);
  s.plan.fit.puzzles.push_back(s.plan.fit.puzzles[0]);
  s.plan.fit.puzzles[1].allowances.mm[s.at] = -0.03;
  const std::string words = allowance_on_card(s.plan, *s.set_up, 1);
  EXPECT_NE(words.find("for the six-piece star set this stop 0.020 mm"), std::string::npos) << words;
  EXPECT_NE(words.find("for the six-piece star set this stop 0.030 mm"), std::string::npos) << words;
}

TEST(StopOnTheCard, TellsTheToleranceAlongTheStickAndAcrossFlatsAndWhichIsStricter) {
  OneStop s;
  const double per_stop = std::abs(s.set_up->tests[1].test.per_stop), own = s.plan.batch.batch.tolerance.v;
  s.need(0.2);
  std::string words = needed_in_words(s.plan, *s.set_up, 1);
  EXPECT_NE(words.find("± 0.200 mm (0.0079 in)"), std::string::npos) << words;
  EXPECT_NE(words.find(fmt::format("± {:.3f} mm", 0.2 * per_stop)), std::string::npos) << words;
  ASSERT_GT(0.2 * per_stop, own);
  EXPECT_NE(words.find("above is stricter"), std::string::npos) << words;
  s.need(0.01);
  EXPECT_NE(needed_in_words(s.plan, *s.set_up, 1).find("keep to it"), std::string::npos);
  s.need(kLooseTolerance);
  EXPECT_EQ(needed_in_words(s.plan, *s.set_up, 1), "");
}

TEST(StopOnTheCard, IsPrinted) {
  OneStop s;
  s.allow(-0.02), s.need(0.02);
  const std::string text = pages_titled(printed(s.plan), "Set-up 2 of");
  EXPECT_NE(text.find("set this stop 0.020 mm (0.0008 in) short"), std::string::npos);
  EXPECT_NE(text.find("the stop must stand to ± 0.020 mm"), std::string::npos);
}

// Air of 20 C from 30 to 60 % and back, wood that follows at once, play that falls by 0.03 mm for each percent.
struct Home {
  Customer customer;
  YearFit year;
  explicit Home(double play_at_30) {
    for (std::size_t m = 0; m < 12; ++m) {
      const double humidity = 0.45 - 0.15 * std::cos(2 * M_PI * static_cast<double>(m) / 12);
      customer.air[m] = {Celsius{20}, humidity};
      year.months[m].moisture.wood = equilibrium_moisture(Celsius{20}, humidity).value().value;
      year.months[m].p05 = play_at_30 - 0.03 * (year.months[m].moisture.wood - year.months[0].moisture.wood);
    }
    year.tightest = 6;
  }
};

TEST(OwnersYear, AirThatWillDoAllYearIsWhatWasLookedAt) {
  const Home home(1.0);
  const auto air = air_that_will_do(home.year, home.customer, 0);
  ASSERT_TRUE(air);
  EXPECT_NEAR(air->from, 0.30, 1e-9);
  EXPECT_NEAR(air->to, 0.60, 1e-9);
  const std::string words = year_for_the_owner(home.year, home.customer, 0);
  EXPECT_NE(words.find("end of July"), std::string::npos);
  EXPECT_NE(words.find("within 30 and 60\u00a0% humidity"), std::string::npos) << words;
}

TEST(OwnersYear, TheUpperBoundIsInsideTheAirOfTheMonthsThatJam) {
  const Home home(0.09);
  double jams = 1, closes = 0;
  for (std::size_t m = 0; m < 12; ++m) {
    const double humidity = home.customer.air[m].humidity;
    home.year.months[m].p05 < 0 ? jams = std::min(jams, humidity) : closes = std::max(closes, humidity);
  }
  ASSERT_LT(closes, jams);
  ASSERT_LT(jams, 0.601);
  const auto air = air_that_will_do(home.year, home.customer, 0);
  ASSERT_TRUE(air);
  EXPECT_LT(air->to, closes + 1e-6);
  EXPECT_NEAR(air->from, 0.30, 1e-9);
}

TEST(OwnersYear, WithoutAirThatWillDoOnlyTheMonthIsNamed) {
  const Home never(-1), hardly(0.01);
  EXPECT_FALSE(air_that_will_do(never.year, never.customer, 0));
  EXPECT_FALSE(air_that_will_do(hardly.year, hardly.customer, 0));
  const std::string words = year_for_the_owner(never.year, never.customer, 0);
  EXPECT_NE(words.find("July"), std::string::npos);
  EXPECT_EQ(words.find("humidity"), std::string::npos);
}

TEST(OwnersYear, IsOnTheSheetForTheOwner) {
  const FullPlan& plan = star_plan();
  ASSERT_TRUE(plan.fit.puzzles[0].year);
  const std::string text = pages_titled(printed(plan, Paper::letter), "For the owner: six-piece star");
  EXPECT_NE(text.find("tightest about the end of " + month_name(plan.fit.puzzles[0].year->tightest)),
            std::string::npos);
}

TEST(FitSheet, NoWordsCollideOnEitherPaper) {
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const Scratch scratch("fit_layout");
    const std::string pdf = (scratch.path / "packet.pdf").string();
    ASSERT_TRUE(write_packet(star_plan(), paper, pdf));
    const auto pages = words_of(pdf);
    for (std::size_t p = 0; p < pages.size(); ++p)
      for (std::size_t i = 0; i < pages[p].size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
          EXPECT_FALSE(overlap(pages[p][i], pages[p][j]))
              << "page " << p + 1 << ": " << pages[p][i].text << " on " << pages[p][j].text;
  }
}

}  // namespace
}  // namespace stickwright
