// `fit` through the built program.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "cli/run.h"
#include "support/small_batch.h"

namespace stickwright {
namespace {

using Json = nlohmann::json;

const std::string kBatch = STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml";

Json fit_of(const std::string& batch) {
  const Ran r = run_program_with("fit " + batch + " --json");
  EXPECT_EQ(r.exit_code, 0) << r.err;
  return Json::parse(r.out);
}

const Json& example_fit() {
  static const Json fit = fit_of(kBatch);
  return fit;
}

TEST(Fit, SaysWhatIsAsked) {
  const Json& fit = example_fit();
  EXPECT_EQ(fit["puzzle"], "six-piece star");  // the other one cannot jam
  EXPECT_LT(fit["play_mm"]["p05"], fit["play_mm"]["median"]);
  EXPECT_LT(fit["play_mm"]["median"], fit["play_mm"]["p95"]);
  EXPECT_GE(fit["closes"], 0);
  EXPECT_LE(fit["closes"], 1);
  EXPECT_EQ(fit["months"].size(), 12u);
  EXPECT_EQ(fit["needed"].size(), 2u);  // the two set-ups whose blocks it is made of
  for (const char* key : {"samples", "solves", "seconds"}) EXPECT_TRUE(fit[key].is_number()) << key;
  ASSERT_EQ(fit["puzzles"].size(), 2u);
  EXPECT_FALSE(fit["puzzles"][1]["binds"]);
  EXPECT_TRUE(fit["puzzles"][1]["play_mm"].is_null());
}

TEST(Fit, SharesAddUp) {
  const Json& fit = example_fit();
  double shares = fit["together"];
  for (const Json& c : fit["contributions"]) shares += c["share"].get<double>();
  // Each share is known to u only, and none is told below 0.
  EXPECT_NEAR(shares, 1, 5 * fit["contributions"][0]["u"].get<double>());
  double force = 0;
  for (const Json& c : fit["tight"]) force += c["force"].get<double>();
  EXPECT_NEAR(force, 1, 1e-4);
  std::int64_t counted = 0;
  for (const Json& n : fit["as_planned"]["bars"]["count"]) counted += n.get<std::int64_t>();
  EXPECT_EQ(counted, fit["samples"]);
}

// The advice is what it says: with it the median is what was asked for, and slopes times allowances make the change.
TEST(Fit, TheAdviceGivesTheAskedPlay) {
  const Json& fit = example_fit();
  EXPECT_NEAR(fit["as_advised"]["play_mm"]["median"], fit["asked"]["play_mm"].get<double>(), 0.001);
  double change = 0;
  for (const Json& a : fit["advice"])
    for (const Json& size : fit["sizes"])
      if (size["name"] == a["stop"]) change += size["play_per_mm"].get<double>() * a["allowance_mm"].get<double>();
  EXPECT_NEAR(change, fit["as_advised"]["play_mm"]["median"].get<double>() - fit["play_mm"]["median"].get<double>(),
              0.002);
}

// By hand (docs/derivations/fit-linear.md and the stacks in tests/fit): pyramids' stops do nothing, glue lines all.
TEST(Fit, TheStarsSlopesAreThoseFoundByHand) {
  for (const Json& size : example_fit()["sizes"]) {
    if (size["name"] == "glue lines") {
      EXPECT_NEAR(size["play_per_mm"], 1, 1e-6);
    }
    if (size["set_up"] == "rhombic-pyramid-block") {
      EXPECT_NEAR(size["play_per_mm"], 0, 1e-6);
    }
  }
}

TEST(Fit, DampMonthsAreTheTightOnes) {
  const Json& months = example_fit()["months"];
  for (std::size_t m = 1; m < 12; ++m) {
    const double wetter = months[m]["wood_percent"].get<double>() - months[m - 1]["wood_percent"].get<double>();
    const double looser = months[m]["play_mm"].get<double>() - months[m - 1]["play_mm"].get<double>();
    EXPECT_LT(wetter * looser, 1e-9) << m;
  }
}

TEST(Fit, IsTheSameOnEveryRunButForTheEffort) {
  const Scratch s("fit_twice");
  const std::string batch = small_batch(s);
  const auto run = [&] {
    Json fit = fit_of(batch);
    for (const char* key : {"seconds", "solves", "fresh_solves"}) {
      fit.erase(key);
      for (Json& p : fit["puzzles"]) p.erase(key);
    }
    return fit;
  };
  EXPECT_EQ(run(), run());
}

TEST(Fit, WithoutACustomerThereIsNoYear) {
  const Scratch s("fit_small");
  const std::string batch = small_batch(s);
  EXPECT_TRUE(fit_of(batch)["months"].empty());
  const Ran r = run_program_with("fit " + batch);
  EXPECT_EQ(r.exit_code, 0);
  EXPECT_EQ(r.out.find("customer"), std::string::npos);
  EXPECT_NE(r.out.find("close by hand"), std::string::npos);
}

// Test blocks in the ledger say where the stop stands: off by 0.1 mm across flats, it takes the play with it.
TEST(Fit, TestBlocksInTheLedgerCount) {
  const Scratch s("fit_ledger");
  const std::string batch = small_batch(s);
  const Json before = fit_of(batch);
  EXPECT_TRUE(before["stops_read"].empty());
  const Ran r = run_program_with("record " + batch + " --setup squat-octahedron --stop 2 16.10 16.10 16.10 16.10");
  EXPECT_LE(r.exit_code, 1) << r.err;
  const Json after = fit_of(batch);
  ASSERT_EQ(after["stops_read"].size(), 1u);
  EXPECT_EQ(after["stops_read"][0]["readings"], 4);
  EXPECT_GT(after["stops_read"][0]["error_mm"], 0.01);
  EXPECT_NE(run_program_with("fit " + batch).out.find("short of where its test blocks say"), std::string::npos);
  EXPECT_LT(after["play_mm"]["median"], before["play_mm"]["median"].get<double>() - 0.003);
}

TEST(Fit, BadInputIsOneMessage) {
  const Scratch s("fit_bad");
  const std::string batch = small_batch(s);
  std::string text = slurp(batch);
  text += "[fit]\nplay = \"0.2 mm\"\nmost_play = \"0.1 mm\"\n";
  const std::string bad = s.write("bad.toml", text);
  const Ran r = run_program_with("fit " + bad);
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_NE(r.err.find("bad.toml:"), std::string::npos) << r.err;
  EXPECT_EQ(r.out, "");
}

// The batch with one line of a file replaced.
std::string batch_with(const Scratch& s, const std::string& file, const std::string& line, const std::string& now) {
  const std::string batch = small_batch(s);
  std::string text = slurp(s.path / file);
  const std::size_t at = text.find(line);
  EXPECT_NE(at, std::string::npos) << line;
  if (at != std::string::npos) text.replace(at, line.size(), now);
  s.write(file, text);
  return batch;
}

// Glue lines give play millimeter for millimeter: with thicker ones the same play takes stops that are set long.
TEST(Fit, WhatIsTooLooseIsSetTighter) {
  const Scratch s("fit_loose");
  const Json fit = fit_of(batch_with(s, "shop.toml", "line = \"0.03 mm\"", "line = \"0.08 mm\""));
  EXPECT_EQ(fit["advice_verdict"], "found");
  EXPECT_GT(fit["play_mm"]["median"], fit["asked"]["play_mm"].get<double>() + 0.02);
  EXPECT_NEAR(fit["as_advised"]["play_mm"]["median"], fit["asked"]["play_mm"].get<double>(), 0.001);
}

// However large the batch is, one puzzle of it is as uncertain as one of a small batch.
TEST(Fit, OnePuzzleIsTheSameInABatchOfAnySize) {
  const Scratch few("fit_few"), many("fit_many");
  const Json one = fit_of(small_batch(few));
  const std::string rack = std::regex_replace(slurp(few.path / "shop.toml"), std::regex("count = "), "count = 9");
  const std::string batch = batch_with(many, "batch.toml", "copies = 1\n", "copies = 100\n");
  many.write("shop.toml", rack);
  const Json hundred = fit_of(batch);
  for (const char* key : {"play_mm", "closes", "contributions", "advice", "needed", "sliding"})
    EXPECT_EQ(one[key], hundred[key]) << key;
}

// With stops that are as uncertain as the tolerance lets them be, as many close as were asked for.
TEST(Fit, StopsAtTheirToleranceCloseAsManyAsAsked) {
  const Scratch s("fit_tolerance"), again("fit_at_tolerance");
  const Json fit = fit_of(small_batch(s));
  double tolerance = 0;
  for (const Json& n : fit["needed"])
    if (n["setup"] == "squat-octahedron") tolerance = n["tolerance_mm"];
  ASSERT_GT(tolerance, 0.05);
  ASSERT_LT(tolerance, 0.5);
  std::string stop = "stop = \"";
  stop.append(std::to_string(tolerance / 2)).append(" mm\"");
  const Json at_it = fit_of(batch_with(again, "shop.toml", "stop = \"0.02 mm\"", stop));
  EXPECT_NEAR(at_it["as_advised"]["closes"]["share"], fit["asked"]["chance"].get<double>(), 0.02);
}

// What the year advises is asked for: then as many close in the tightest month as should.
TEST(Fit, ThePlayThatTheYearAdvisesDoes) {
  const std::string customer =
      "[customer]\ntemperature = \"20 C\"\nhumidity = \"56 %\"\n[fit]\nmost_play = \"0.3 mm\"\n";
  const Scratch s("fit_year");
  const std::string batch = small_batch(s), text = slurp(batch) + customer;
  s.write("batch.toml", text);
  const std::string said = run_program_with("fit " + batch).out, before = "ask for ";
  const std::size_t at = said.find(before);
  ASSERT_NE(at, std::string::npos) << said;
  EXPECT_NE(said.find("all year"), std::string::npos) << said;  // the air keeps still: no month is tightest
  const std::string play = said.substr(at + before.size(), 5);
  s.write("batch.toml", text + "play = \"" + play + " mm\"\n");
  double least = 1;
  const Json fit = fit_of(batch);
  for (const Json& m : fit["months"]) least = std::min(least, m["closes"]["share"].get<double>());
  EXPECT_GE(least, 0.895);
  EXPECT_LE(least, 0.93);
}

TEST(Fit, OfASinglePieceThereIsNothingToClose) {
  const Scratch s("fit_single");
  const std::string batch = small_batch(s);
  s.write("star.toml",
          "format = 1\nname = \"block\"\nfamily = \"mitered\"\n[[piece]]\nname = \"one\"\ncopies = 1\n"
          "blocks = [{ shape = \"squat octahedron\" }]\n");
  const Ran r = run_program_with("fit " + batch);
  EXPECT_EQ(r.exit_code, 0) << r.err;
  EXPECT_NE(r.out.find("single piece"), std::string::npos) << r.out;
  EXPECT_EQ(r.out.find("jam"), std::string::npos) << r.out;
}

TEST(Fit, WhatTheFilesDoNotSayIsToldAsGuessed) {
  const Scratch s("fit_guessed");
  const std::string batch = batch_with(s, "shop.toml", "line = \"0.03 mm\" ", "# ");
  const Ran r = run_program_with("fit " + batch);
  EXPECT_NE(r.out.find("Guessed"), std::string::npos);
  EXPECT_NE(r.out.find("glue lines of 0.030 mm"), std::string::npos);
  EXPECT_EQ(r.out.find("-0.000"), std::string::npos);
  EXPECT_EQ(r.out.find("-0.00 "), std::string::npos);
  EXPECT_EQ(run_program_with("fit " + kBatch).out.find("Guessed"), std::string::npos);
}

TEST(Sort, WithoutReadingsSaysWhatToMeasure) {
  const Scratch s("sort_none");
  const Ran r = run_program_with("sort " + small_batch(s));
  EXPECT_EQ(r.exit_code, 2);
  EXPECT_NE(r.err.find("record"), std::string::npos) << r.err;
  EXPECT_EQ(r.out, "");
}

}  // namespace
}  // namespace stickwright
