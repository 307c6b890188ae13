#include "packet/fit_view.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <random>

#include "packet/bars.h"
#include "packet/plot_axis.h"
#include "packet/printed_words.h"
#include "packet/svg_shapes.h"
#include "support/scratch.h"

namespace stickwright {
namespace {

const PictureCaption kCaption = {"a puzzle", "its batch", "2031-01-28T00:00:00"};
constexpr double kNear = 0.02;  // mm: what an SVG rounds to, and more

PlaySpread spread(double from, double width, std::vector<std::int64_t> count) {
  PlaySpread s;
  s.bars = {from, width, std::move(count)};
  s.p05 = from + width, s.median = from + 3.4 * width, s.p95 = from + 5 * width;
  s.closes.share = 0.9;
  return s;
}

// Seven bars from -0.03 to 0.04 mm, the second cut in two by the play from which on a puzzle closes.
PlayView seven_bars() {
  return {spread(-0.03, 0.01, {3, 6, 12, 20, 11, 7, 2}), {}, 0.031, {-0.016, 0, 0.06}};
}

template <class View, class Draw>
std::string file_of(Draw draw, const View& view, Drawing drawing) {
  const auto bytes = draw(kCaption, view, drawing);
  EXPECT_TRUE(bytes);
  return bytes ? bytes.value() : "";
}

std::vector<SvgShape> boxes_of(const std::vector<SvgShape>& shapes, double fill) {
  std::vector<SvgShape> out;
  for (const SvgShape& s : shapes)
    if (s.is_box() && std::abs(s.fill - fill) < 1e-6) out.push_back(s);
  return out;
}

// Mm of paper of a play, from the first bar of seven_bars() that closes whole and the last one.
struct Scale {
  double left, right;
  double at(double mm) const { return left + (mm + 0.01) / 0.05 * (right - left); }
};

struct SevenDrawn {
  std::vector<SvgShape> shapes = shapes_of(file_of(play_drawing, seven_bars(), Drawing::svg));
  std::vector<SvgShape> gray = boxes_of(shapes, 0.72);  // the last one is in the key
  Scale x{gray[1].left(), gray[5].right()};
};

TEST(PlayView, BarsAreAsHighAsTheirShareOfThePuzzles) {
  const SevenDrawn d;
  ASSERT_EQ(d.gray.size(), 7u);  // six that close, in part or whole, and the key's
  const double per_puzzle = (d.gray[2].bottom() - d.gray[2].top()) / 20;
  const double count[] = {6, 12, 20, 11, 7, 2};
  for (std::size_t k = 0; k < 6; ++k) {
    EXPECT_NEAR(d.gray[k].bottom() - d.gray[k].top(), count[k] * per_puzzle, kNear) << k;
    EXPECT_NEAR(d.gray[k].right(), d.x.at(-0.01 + 0.01 * static_cast<double>(k)), kNear) << k;
  }
}

TEST(PlayView, WhatDoesNotCloseIsHatchedUpToThePlayFromWhichOnItDoes) {
  const SevenDrawn d;
  EXPECT_NEAR(d.gray[0].left(), d.x.at(-0.016), kNear);
  std::vector<SvgShape> white = boxes_of(d.shapes, 1);
  ASSERT_GE(white.size(), 3u);  // the ground of the picture, then both
  EXPECT_NEAR(white[1].left(), d.x.at(-0.03), kNear);
  EXPECT_NEAR(white[1].right(), d.x.at(-0.02), kNear);
  EXPECT_NEAR(white[2].right(), d.x.at(-0.016), kNear);
  EXPECT_NEAR(white[2].top(), d.gray[0].top(), kNear);
}

TEST(PlayView, LinesStandAtTheirPlays) {
  const SevenDrawn d;
  for (const double mm : {0.031, 0.004, -0.02, 0.02}) {
    const bool found = std::any_of(d.shapes.begin(), d.shapes.end(), [&](const SvgShape& s) {
      return s.points.size() == 2 && s.fill < 0 && std::abs(s.points[0].x - d.x.at(mm)) < kNear &&
             std::abs(s.points[1].x - s.points[0].x) < 1e-6 && std::abs(s.points[1].y - d.gray[0].bottom()) < kNear &&
             s.points[0].y < d.gray[2].top();
    });
    EXPECT_TRUE(found) << mm;
  }
}

TEST(PlayView, ThePlaysThatAreAskedForHaveAGrayGround) {
  const SevenDrawn d;
  const std::vector<SvgShape> ground = boxes_of(d.shapes, 0.9);
  ASSERT_EQ(ground.size(), 2u);  // and the key's
  EXPECT_NEAR(ground[0].left(), d.x.at(0), kNear);
  EXPECT_NEAR(ground[0].right(), d.x.at(0.06), kNear);
}

// The outline's bars are twice as wide: as many puzzles in one make half the height.
TEST(PlayView, TheOutlineComparesByArea) {
  PlayView v = seven_bars();
  v.advised = spread(-0.02, 0.02, {31, 20, 10});
  const auto shapes = shapes_of(file_of(play_drawing, v, Drawing::svg));
  const auto outline =
      std::find_if(shapes.begin(), shapes.end(), [](const SvgShape& s) { return s.points.size() == 8; });
  ASSERT_NE(outline, shapes.end());
  const SvgShape twenty = boxes_of(shapes, 0.72)[2];
  const double bottom = outline->points.front().y, first = bottom - outline->points[1].y;
  EXPECT_NEAR(first, (twenty.bottom() - twenty.top()) * 31.0 / 20 / 2, kNear);
  EXPECT_NEAR(outline->points[3].x, twenty.left(), kNear);  // -0.02 + 0.02 is where the fourth bar begins
}

const Word* word(const std::vector<Word>& words, const std::string& text, double below_y) {
  for (const Word& w : words)
    if (w.text == text && w.y1 > below_y) return &w;
  return nullptr;
}

TEST(PlayView, TheInchScaleAgreesWithTheMillimeters) {
  const Scratch scratch("inches");
  const std::string pdf = scratch.write("play.pdf", file_of(play_drawing, seven_bars(), Drawing::pdf));
  const std::vector<Word> words = words_of(pdf).at(0);
  const Word *zero = word(words, "0.00", 0), *five = word(words, "0.05", 0);
  ASSERT_TRUE(zero && five);
  const Word *inch_zero = word(words, "0.0000", 0), *inch = word(words, "0.0010", 0);
  if (!inch) inch_zero = word(words, "0.000", zero->y1 + 1), inch = word(words, "0.001", zero->y1 + 1);
  ASSERT_TRUE(inch_zero && inch);
  const auto middle = [](const Word* w) { return (w->x1 + w->x2) / 2; };
  EXPECT_NEAR(middle(inch_zero), middle(zero), 0.3);
  EXPECT_NEAR((middle(inch) - middle(zero)) / (middle(five) - middle(zero)), 0.0254 / 0.05, 0.005);
}

Contributions four_sources() {
  return {{{"sticks", 0.5, 0.6}, {"stops", 0.3, 0.3}, {"a", 0.004, 0.004}, {"b", 0.003, 0.003}}, 0.19, 0.02, 1000};
}

TEST(ContributionsView, BarsAreAsLongAsTheSharesAndWhatIsSmallIsHatchedTogether) {
  const auto shapes = shapes_of(file_of(contributions_drawing, four_sources(), Drawing::svg));
  const std::vector<SvgShape> gray = boxes_of(shapes, 0.72), white = boxes_of(shapes, 1);
  ASSERT_EQ(gray.size(), 2u);
  ASSERT_EQ(white.size(), 2u);  // the ground of the picture, and the rest
  const double per_share = (gray[0].right() - gray[0].left()) / 0.5;
  EXPECT_NEAR(gray[1].right() - gray[1].left(), 0.3 * per_share, kNear);
  EXPECT_NEAR(white[1].right() - white[1].left(), 0.007 * per_share, kNear);
  const bool reaches = std::any_of(shapes.begin(), shapes.end(), [&](const SvgShape& s) {
    return s.points.size() == 2 && std::abs(s.points[1].x - (gray[0].left() + 0.6 * per_share)) < kNear &&
           std::abs(s.points[0].x - gray[0].right()) < kNear;
  });
  EXPECT_TRUE(reaches);
}

TEST(Bars, OneThatWouldBeTheRestAloneIsNamed) {
  EXPECT_EQ(bars_by_themselves(5, 4, 10), 5u);
  EXPECT_EQ(bars_by_themselves(6, 4, 10), 4u);
  EXPECT_EQ(bars_by_themselves(12, 12, 10), 9u);
  EXPECT_EQ(bars_by_themselves(10, 10, 10), 10u);
}

// The play falls by 0.03 mm for each percent of moisture, which goes up and down once a year.
YearView one_wave() {
  YearView v;
  v.window = {-0.01, 0, 0.1};
  v.year.at_making = 8, v.year.lag_days = 9;
  for (std::size_t m = 0; m < 12; ++m) {
    MonthFit& f = v.year.months[m];
    f.moisture.wood = 8 - 2 * std::cos(2 * M_PI * static_cast<double>(m) / 12);
    f.median = 0.04 - 0.03 * (f.moisture.wood - 8), f.p05 = f.median - 0.02;
    f.closes.share = f.median > 0 ? 1 : 0.4;
  }
  v.year.tightest = 6, v.year.loosest = 0;
  return v;
}

TEST(YearView, PointsStandAtTheirPlaysAndTheLineWhereItJams) {
  const YearView v = one_wave();
  const auto shapes = shapes_of(file_of(year_drawing, v, Drawing::svg));
  std::vector<SvgShape> curves;
  for (const SvgShape& s : shapes)
    if (s.points.size() == 12) curves.push_back(s);
  ASSERT_EQ(curves.size(), 2u);
  const auto &tight = curves[0], &middle = curves[1];
  EXPECT_TRUE(tight.dashed && !middle.dashed);
  const double per_mm = (middle.points[6].y - middle.points[0].y) / 0.12;  // downwards: the play falls by 0.12
  EXPECT_GT(per_mm, 0);
  const auto y = [&](double mm) { return middle.points[0].y + (0.1 - mm) * per_mm; };
  for (std::size_t m = 0; m < 12; ++m) {
    EXPECT_NEAR(middle.points[m].y, y(v.year.months[m].median), kNear);
    EXPECT_NEAR(tight.points[m].y, y(v.year.months[m].p05), kNear);
  }
  const bool jams = std::any_of(shapes.begin(), shapes.end(), [&](const SvgShape& s) {
    return s.points.size() == 2 && s.width > 0.6 && std::abs(s.points[0].y - y(-0.01)) < kNear &&
           s.points[1].x - s.points[0].x > 50;
  });
  EXPECT_TRUE(jams);
}

TEST(YearView, MarksTheTightestMonth) {
  YearView v = one_wave();
  for (const std::size_t tightest : {std::size_t{6}, std::size_t{0}, std::size_t{11}}) {
    v.year.tightest = tightest;
    const Scratch scratch("year");
    const std::vector<Word> words = words_of(scratch.write("y.pdf", file_of(year_drawing, v, Drawing::pdf))).at(0);
    const Word* mark = word(words, "tightest", 0);
    const Word* month = word(words, tightest == 6 ? "Jul" : tightest == 0 ? "Jan" : "Dec", 0);
    ASSERT_TRUE(mark && month);
    EXPECT_NEAR((mark->x1 + mark->x2) / 2, (month->x1 + month->x2) / 2, 0.5);
    EXPECT_GT(mark->y1, month->y2);
  }
}

void expect_no_collisions(const std::string& bytes, const std::string& of) {
  const Scratch scratch("collide");
  const std::vector<Word> words = words_of(scratch.write("picture.pdf", bytes)).at(0);
  EXPECT_GT(words.size(), 5u);
  for (std::size_t i = 0; i < words.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      EXPECT_FALSE(overlap(words[i], words[j])) << of << ": " << words[i].text << " on " << words[j].text;
}

// Narrow and wide plays, far from what is asked and about it, all negative ones as well (seed 5).
TEST(PlayView, NoWordsCollideWhateverThePlays) {
  std::mt19937 rng(5);
  std::uniform_real_distribution<double> any(-0.3, 0.3), width(0.0003, 0.02);
  for (int k = 0; k < 40; ++k) {
    const double from = any(rng), w = width(rng);
    PlayView v{spread(from, w, {1, 5, 9, 20, 9, 5, 1}), {}, 0.05, {-0.01, 0, 0.15}};
    if (k % 2 == 0) v.advised = spread(any(rng), w / 2, {2, 20, 30, 20, 2, 1});
    expect_no_collisions(file_of(play_drawing, v, Drawing::pdf), "plays from " + std::to_string(from));
  }
}

TEST(YearView, NoWordsCollideWhateverTheYear) {
  std::mt19937 rng(6);
  std::uniform_real_distribution<double> any(-0.2, 0.2);
  for (int k = 0; k < 15; ++k) {
    YearView v = one_wave();
    const double shift = any(rng), scale = any(rng) * (k % 3 == 0 ? 0 : 10);
    for (MonthFit& f : v.year.months) f.median = shift + scale * f.median, f.p05 = f.median - 0.01;
    v.year.tightest = static_cast<std::size_t>(k % 12);
    expect_no_collisions(file_of(year_drawing, v, Drawing::pdf), "year " + std::to_string(k));
  }
}

TEST(FitPictures, AreTheSamePdfEveryTime) {
  EXPECT_EQ(file_of(play_drawing, seven_bars(), Drawing::pdf), file_of(play_drawing, seven_bars(), Drawing::pdf));
  EXPECT_EQ(file_of(year_drawing, one_wave(), Drawing::pdf), file_of(year_drawing, one_wave(), Drawing::pdf));
}

TEST(FitPictures, OfPuzzlesThatAreAllAlikeAreDrawn) {
  PlayView v{{}, {}, 0.05, {-0.01, 0, 0.1}};
  v.planned.bars = {0.02, 0.001, {100}};
  EXPECT_TRUE(play_drawing(kCaption, v, Drawing::svg));
  EXPECT_TRUE(contributions_drawing(kCaption, {}, Drawing::svg));
  YearView y = one_wave();
  for (MonthFit& f : y.year.months) f.median = f.p05 = y.window.closes_from;
  y.window.least = y.window.most = y.window.closes_from;
  EXPECT_TRUE(year_drawing(kCaption, y, Drawing::svg));
}

// Names on names and lines through names, for flags that have room on one side (seed 7).
TEST(Flags, NoNameLiesOnAnotherNorOnALine) {
  std::mt19937 rng(7);
  std::uniform_real_distribution<double> place(0, 50), width(5, 45);
  for (int trial = 0; trial < 500; ++trial) {
    const double right = 100;
    std::vector<double> x(1 + rng() % 6), widths;
    for (double& v : x) v = place(rng) + (trial % 2 == 0 ? 50 : 0);
    std::sort(x.begin(), x.end());
    std::vector<Flag> flags;
    for (const double v : x) flags.push_back({v, ""}), widths.push_back(width(rng));
    const auto at = flag_places(flags, widths, 0, right);
    for (std::size_t i = 0; i < at.size(); ++i) {
      EXPECT_TRUE(at[i].left >= -1e-9 && at[i].left + widths[i] <= right + 1e-9);
      for (std::size_t j = 0; j < at.size(); ++j) {
        if (i == j) continue;
        const bool same_row = at[i].row == at[j].row,
                   apart = at[i].left + widths[i] <= at[j].left || at[j].left + widths[j] <= at[i].left;
        EXPECT_TRUE(!same_row || apart) << trial;
        // The line of j goes up through all rows below its own.
        const bool crosses = at[j].row > at[i].row && x[j] > at[i].left && x[j] < at[i].left + widths[i];
        EXPECT_FALSE(crosses) << trial;
      }
    }
  }
}

TEST(PlacesApart, KeepTheirOrderAndTheirRoomAndMoveOnlyWhenTheyMust) {
  EXPECT_EQ(places_apart({1, 5, 9}, 3, 20), (std::vector<double>{1, 5, 9}));
  EXPECT_EQ(places_apart({1, 2, 9}, 3, 20), (std::vector<double>{1, 4, 9}));
  EXPECT_EQ(places_apart({18, 19, 20}, 3, 20), (std::vector<double>{14, 17, 20}));
}

TEST(PlotAxis, CoversItsRangeInRoundSteps) {
  const PlotAxis a = axis_for(-0.013, 0.087, 0, 100, 10);
  EXPECT_DOUBLE_EQ(a.step, 0.01);
  EXPECT_DOUBLE_EQ(a.low, -0.02);
  EXPECT_DOUBLE_EQ(a.high, 0.09);
  EXPECT_EQ(a.steps().size(), 12u);
  EXPECT_EQ(a.places(), 2);
  EXPECT_NEAR(a.at(-0.02), 0, 1e-12);
  EXPECT_NEAR(a.at(0.09), 100, 1e-12);
}

}  // namespace
}  // namespace stickwright
