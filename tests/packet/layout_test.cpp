#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <regex>

#include "packet/packet.h"
#include "packet/printed.h"
#include "packet/printed_pages.h"
#include "packet/printed_words.h"
#include "packet/solid.h"
#include "support/other_shop.h"
#include "support/scratch.h"

namespace stickwright {
namespace {

constexpr const char* kLongName =
    "A puzzle with an exceedingly long name that will not fit on any line of a sheet of paper however small it is set";

// A batch with long names, many puzzles, long blocks and two stops in one set-up.
struct HardCases {
  Scratch scratch{"hard_cases"};
  std::string batch_file;

  HardCases() {
    const std::filesystem::path examples = STICKWRIGHT_SOURCE "/examples/wrenfield";
    for (const char* file : {"shop.toml", "star.toml"}) std::filesystem::copy(examples / file, scratch.path / file);
    std::string batch =
        "format = 1\nname = \"Batch: " + std::string(kLongName) +
        "\"\nshop = \"shop.toml\"\nstick = \"19 mm\"\nstart = 2031-01-28\ndue = 2031-02-03\nspares = \"8 %\"\n"
        "spares_at_least = 2\ntolerance = \"0.05 mm\"\n";
    for (const char* shape : {"5-cell block", "7-cell block", "10-cell block", "12-cell block, form 2"})
      batch += puzzle(shape, "black cherry");
    batch += puzzle("tetrahedral block", "sugar maple");
    batch += "[[puzzle]]\ndesign = \"star.toml\"\ncopies = 3\nwoods = { \"*\" = \"walnut\" }\n";
    batch_file = scratch.write("batch.toml", batch);
  }

 private:
  std::string puzzle(const std::string& shape, const std::string& wood) const {
    const std::string file = shape + ".toml";
    scratch.write(file, "format = 1\nname = \"" + std::string(kLongName) + ": " + shape +
                            "\"\nfamily = \"mitered\"\n[[piece]]\nname = \"" + kLongName +
                            "\"\nblocks = [{ shape = \"" + shape + "\" }]\n");
    return "[[puzzle]]\ndesign = \"" + file + "\"\ncopies = 3\nwoods = { \"*\" = \"" + wood + "\" }\n";
  }
};

constexpr double kEdge = 5 * 72 / 25.4;  // points: the 5 mm at the edge that many printers leave white; no source

void expect_no_words_collide(const std::string& batch_file, Paper paper, double width, double height) {
  const auto plan = plan_batch(batch_file);
  ASSERT_TRUE(plan) << plan.problem().say;
  const Scratch scratch("layout");
  const std::string pdf = (scratch.path / "packet.pdf").string();
  ASSERT_TRUE(write_packet(plan.value(), paper, pdf));
  const auto pages = words_of(pdf);
  ASSERT_GE(pages.size(), 9u);
  for (std::size_t p = 0; p < pages.size(); ++p)
    for (std::size_t i = 0; i < pages[p].size(); ++i) {
      const Word& w = pages[p][i];
      EXPECT_TRUE(w.x1 > kEdge && w.x2 < width - kEdge && w.y1 > kEdge && w.y2 < height - kEdge)
          << "page " << p + 1 << ": " << w.text;
      for (std::size_t j = 0; j < i; ++j)
        EXPECT_FALSE(overlap(w, pages[p][j])) << "page " << p + 1 << ": " << w.text << " on " << pages[p][j].text;
    }
}

// Sizes in points: ISO 216 A4 (210 mm x 297 mm) and ANSI letter (8.5 in x 11 in).
TEST(Layout, NoWordsCollideOrLeaveThePaperInTheExample) {
  expect_no_words_collide(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml", Paper::a4, 595.276, 841.89);
  expect_no_words_collide(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml", Paper::letter, 612, 792);
}

TEST(Layout, NoWordsCollideOrLeaveThePaperWithLongNamesAndTwoStops) {
  const HardCases hard;
  expect_no_words_collide(hard.batch_file, Paper::a4, 595.276, 841.89);
  expect_no_words_collide(hard.batch_file, Paper::letter, 612, 792);
}

TEST(Layout, NoWordsCollideOrLeaveThePaperInAShopThatSaysLittleOfItself) {
  const OtherShop bare = bare_shop();
  expect_no_words_collide(bare.batch_file, Paper::a4, 595.276, 841.89);
  expect_no_words_collide(bare.batch_file, Paper::letter, 612, 792);
}

TEST(Layout, NoWordsCollideOrLeaveThePaperWithManyLeavesAndATrueMiter) {
  const OtherShop fine(Changes{{"leaves = \\[[^\\]]*\\]",
                                "leaves = [\"0.0015 in\", \"0.002 in\", \"0.0025 in\", \"0.003 in\", \"0.004 in\", "
                                "\"0.005 in\", \"0.006 in\", \"0.007 in\", \"0.008 in\", \"0.010 in\"]"},
                               {"\nmiter = \"0.01 deg\"", "\nmiter = \"0.002 deg\""},
                               {"\nlayer = \"30 mm\"", "\nlayer = \"3 mm\""}});
  expect_no_words_collide(fine.batch_file, Paper::a4, 595.276, 841.89);
  expect_no_words_collide(fine.batch_file, Paper::letter, 612, 792);
}

TEST(Layout, TheCoverNamesThePagesOfTruingAndOfMeasuring) {
  const auto plan = plan_batch(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml");
  const Scratch scratch("contents");
  const std::string pdf = (scratch.path / "packet.pdf").string();
  ASSERT_TRUE(write_packet(plan.value(), Paper::letter, pdf));
  const auto pages = pages_of(pdf);
  const std::regex line("page ([0-9]+) (Truing the saw|Set-up [0-9]+: measure and correct)");
  std::size_t found = 0, before = 0;
  for (std::sregex_iterator i(pages[0].begin(), pages[0].end(), line), end; i != end; ++i, ++found) {
    const std::size_t n = std::stoul((*i)[1]);
    ASSERT_LE(n, pages.size());
    EXPECT_TRUE(pages[n - 1].starts_with((*i)[2].str())) << pages[n - 1].substr(0, 60);
    EXPECT_GT(n, before);
    before = n;
  }
  EXPECT_EQ(found, plan.value().batch.set_ups.size() + 1);
}

TEST(Layout, TheCoverNamesThePageOfEverySetUp) {
  const auto plan = plan_batch(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml");
  const Scratch scratch("contents");
  const std::string pdf = (scratch.path / "packet.pdf").string();
  ASSERT_TRUE(write_packet(plan.value(), Paper::a4, pdf));
  const std::string cover = printed_by("pdftotext -layout -l 1 '" + pdf + "' -");
  const std::regex line("page +([0-9]+) +(Set-up [0-9]+ of [0-9]+: [^\n]*)");
  int found = 0;
  for (std::sregex_iterator i(cover.begin(), cover.end(), line), end; i != end; ++i, ++found) {
    const std::string n = (*i)[1], title = (*i)[2];
    const std::string page = printed_by("pdftotext -layout -f " + n + " -l " + n + " '" + pdf + "' -");
    EXPECT_EQ(page.rfind(title, 0), 0u) << page.substr(0, 80);
  }
  EXPECT_EQ(found, static_cast<int>(plan.value().batch.set_ups.size()));
}

TEST(Layout, TestPiecesAndTheCutsOfEveryFaceAreOnTheCards) {
  const HardCases hard;
  const auto plan = plan_batch(hard.batch_file);
  ASSERT_TRUE(plan) << plan.problem().say;
  const Scratch scratch("cards");
  const std::string pdf = (scratch.path / "packet.pdf").string();
  ASSERT_TRUE(write_packet(plan.value(), Paper::a4, pdf));
  const std::string text = printed_by("pdftotext -layout '" + pdf + "' -");
  for (const char* words : {"measure here", "test piece:", "stack out", "STOP 2: ", "STOP: square face",
                            "never hold it by", "days after the due date", "One piece: nothing comes apart"})
    EXPECT_NE(text.find(words), std::string::npos) << words;
}

TEST(LabelSpots, LieOnTheBodyThatIsSeenAndMissTheOneInFront) {
  const Cells cell = {{4, 2, 0}};
  // The second stands between the first and the eye, far enough along to hide it whole; the third stands aside.
  const std::vector<DrawnBody> bodies = {{cell, {}}, {cell, 2 * kEye}, {cell, {0, 8, 0}}};
  const Projection p{{100, 100}, 5};
  const auto spots = label_spots(mitered(), bodies, p);
  EXPECT_FALSE(spots[0]);
  ASSERT_TRUE(spots[1] && spots[2]);
  for (std::size_t i : {1u, 2u}) {
    const auto m = middle_of(mitered(), bodies[i]);
    const At middle = p(m[0], m[1], m[2]);
    EXPECT_LT(std::hypot(spots[i]->x - middle.x, spots[i]->y - middle.y), 5.0);
  }
}

}  // namespace
}  // namespace stickwright
