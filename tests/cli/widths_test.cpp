// Widths across the stick's own sides: how they are recorded, numbered, told apart, looked back on, and what is
// refused.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "batch/wording.h"
#include "block/catalogue.h"
#include "cli/run.h"
#include "saw/forward.h"
#include "support/small_batch.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;

struct Bench {
  Scratch s{"widths"};
  std::string batch = small_batch(s);
  std::filesystem::path ledger = s.path / "batch.ledger";
  Ran record(const std::string& arguments) const { return run_program_with("record " + batch + " " + arguments); }
  Ran widths(const std::string& arguments) const { return record("--setup squat-octahedron --width " + arguments); }
  Json sizes() const { return Json::parse(run_program_with("history " + batch + " --json").out)["stops"]; }
};

// (width, block, value) of all that stands in the ledger.
std::vector<std::vector<double>> kept(const Bench& b) {
  std::vector<std::vector<double>> out;
  for (const Json& size : b.sizes())
    for (const Json& r : size["readings"]) out.push_back({size["width"], r["block"], r["value_mm"]});
  std::sort(out.begin(), out.end());
  return out;
}

using Kept = std::vector<std::vector<double>>;

TEST(Widths, BlocksAreNumberedAsTheyComeAndBothValuesOfOneBlockHaveItsNumber) {
  const Bench b;
  const Ran r = b.widths("15.98/16.01 15.97 /16.02 16.00/16.03 --json");
  ASSERT_EQ(r.exit_code, 0) << r.err;
  EXPECT_EQ(kept(b), (Kept{{1, 1, 15.98}, {1, 2, 15.97}, {1, 4, 16.00}, {2, 1, 16.01}, {2, 3, 16.02}, {2, 4, 16.03}}));
  const Json j = Json::parse(r.out);
  EXPECT_EQ(j["setup"], "squat-octahedron");
  ASSERT_EQ(j["widths"].size(), 2u);
  EXPECT_EQ(j["widths"][1]["width"], 2);
  EXPECT_TRUE(j["widths"][1]["stop"].is_null());
  EXPECT_EQ(j["widths"][0]["target_mm"], 16.0) << "the width of the sticks that was planned";
  EXPECT_EQ(j["widths"][0]["tolerance_mm"], 0.05);
  EXPECT_EQ(j["stored"].size(), 6u);
  EXPECT_EQ(j["stored"][5]["block"], 4);
  ASSERT_EQ(b.widths("15.99").exit_code, 0);
  EXPECT_EQ(kept(b)[3], (std::vector<double>{1, 5, 15.99})) << "the next call counts on";
}

TEST(Widths, TheNumberOnTheBlockCanBeSaid) {
  const Bench b;
  ASSERT_EQ(b.widths("--block 7 15.98/16.01 15.97").exit_code, 0);
  ASSERT_EQ(b.record("--setup squat-octahedron --block 8 16.02").exit_code, 0);
  const std::string lines = b.s.write("lines", "15.95\n15.96/15.97\n");
  ASSERT_EQ(b.widths("--each --block 20 < " + lines).exit_code, 0);
  const std::string table = b.s.write("table.csv", "block,value,value_2\n31,16.01,16.02\n30,16.03,\n");
  ASSERT_EQ(b.widths("--csv " + table).exit_code, 0);
  const Json sizes = b.sizes();
  EXPECT_EQ(sizes[0]["stop"], 1);
  EXPECT_TRUE(sizes[0]["width"].is_null());
  EXPECT_EQ(sizes[0]["readings"][0]["block"], 8);
  std::vector<int> numbers;
  for (const Json& r : sizes[1]["readings"]) numbers.push_back(r["block"]);
  EXPECT_EQ(numbers, (std::vector<int>{7, 8, 20, 21, 31, 30}));
  numbers.clear();
  for (const Json& r : sizes[2]["readings"]) numbers.push_back(r["block"]);
  EXPECT_EQ(numbers, (std::vector<int>{7, 21, 31}));
}

TEST(Widths, WhatCannotBeIsOneErrorAndNothingIsWritten) {
  const Bench b;
  const std::string table = b.s.write("bad.csv", "block,value,value_2\n1,16.01,16.02\n2,16.03,99\n");
  for (const std::string& bad :
       {std::string("15.98/99"), std::string("15.98/"), std::string("/"), std::string("15.98/16/16"),
        std::string("16/abc"), std::string("--block 0 16"), std::string("--stop 1 16"), "--csv " + table}) {
    const Ran r = b.widths(bad);
    EXPECT_EQ(r.exit_code, 2) << bad;
    EXPECT_FALSE(std::filesystem::exists(b.ledger)) << bad;
  }
  EXPECT_NE(b.widths("--csv " + table).err.find("bad.csv:3:9: "), std::string::npos) << b.widths("--csv " + table).err;
  EXPECT_NE(b.widths("--csv " + b.s.write("no.csv", "value,block\n16,x\n")).err.find("[bad_block]"), std::string::npos);
  const Ran none = b.record("--setup rhombic-pyramid-block --width 16");
  EXPECT_EQ(none.exit_code, 2);
  EXPECT_NE(none.err.find("[no_width]"), std::string::npos) << none.err;
  const Ran two = b.record("--setup squat-octahedron 16/16");
  EXPECT_EQ(two.exit_code, 2) << "across flats there is one value";
  EXPECT_EQ(b.record("--setup squat-octahedron --csv " + b.s.write("v2.csv", "value,value_2\n16,16\n")).exit_code, 2);
  EXPECT_FALSE(std::filesystem::exists(b.ledger));
}

TEST(Widths, AreCorrectedAndWithdrawnAsAllReadings) {
  const Bench b;
  ASSERT_EQ(b.widths("15.98/16.01").exit_code, 0);
  ASSERT_EQ(b.record("--correct 2 16.02").exit_code, 0);
  ASSERT_EQ(b.record("--withdraw 1").exit_code, 0);
  EXPECT_EQ(kept(b), (Kept{{2, 1, 16.02}}));
  EXPECT_EQ(b.record("--correct 2 18/19").exit_code, 2);
}

TEST(Widths, HaveTheirOwnHeadingChartAndColumns) {
  const Bench b;
  ASSERT_EQ(b.widths("15.98/16.01 15.97/16.02 15.99/16.00").exit_code, 0);
  const Ran page = run_program_with("history " + b.batch + " --chart " + (b.s.path / "charts").string());
  EXPECT_NE(page.out.find("squat octahedron (squat-octahedron), width 1\n"), std::string::npos) << page.out;
  EXPECT_NE(page.out.find("squat octahedron (squat-octahedron), width 2\n"), std::string::npos) << page.out;
  EXPECT_TRUE(std::filesystem::exists(b.s.path / "charts" / "squat-octahedron-width-2.svg"));
  const std::string csv = run_program_with("history " + b.batch + " --csv").out;
  EXPECT_NE(csv.find(",width,block\n"), std::string::npos) << csv;
  EXPECT_NE(csv.find("6,squat-octahedron,,16.000000,"), std::string::npos) << csv;
  EXPECT_NE(csv.find(",2,3\n"), std::string::npos) << csv;
  EXPECT_EQ(run_program_with("history " + b.batch + " --json --stop 1").out.find("15.98"), std::string::npos)
      << "widths are no readings of a stop";
}

// Readings of a stop teach, correct and move what the stop gives; widths must not get among them.
TEST(Widths, AreNotTakenForReadingsOfAStop) {
  const Bench b;
  ASSERT_EQ(b.widths("15.90/15.90 15.91/15.91").exit_code, 0);
  const Ran r = run_program_with("correct " + b.batch + " --setup squat-octahedron");
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_NE(r.err.find("[no_readings]"), std::string::npos) << r.err;
}

// Independent of the arithmetic of directions: the forward model lays the block, and its sides are looked at.
TEST(Widths, TheWordsNameTheSideThatLiesThereAtTheFirstCut) {
  int looked_at = 0;
  for (const Block& block : block_catalogue(6)) {
    const auto program = plan_cuts(block);
    if (!program) continue;
    const std::string words = widths_in_words(*program);
    const Body work = at_the_stop(*program, 0, nominal_saw(Mm{16})).work;
    for (const int side : widths_of(*program)) {
      for (const int k : {2 * side - 2, 2 * side - 1}) {
        const BodyFace* face = face_made_by(work, stick_side(k));
        ASSERT_NE(face, nullptr);
        if (face->plane.n.b < 0) continue;  // a lower side
        const std::string says = "width " + std::to_string(side) + " is across the upper side that faces " +
                                 (face->plane.n.a > 0 ? "away" : "you");
        EXPECT_NE(words.find(says), std::string::npos) << block.full_name() << ": " << words;
        ++looked_at;
      }
    }
  }
  EXPECT_GE(looked_at, 8);
}

}  // namespace
}  // namespace stickwright
