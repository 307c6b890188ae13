// The calls about the fit: worked out once, tried while a slider moves.
#include "answers/fit_json.h"
#include "batch/tried_fit.h"
#include "serve/two_puzzles_bench.h"

namespace stickwright {
namespace {

TwoPuzzlesBench& desk() {
  static TwoPuzzlesBench desk;
  return desk;
}

// Worked out by the first test that asks.
const Json& job() {
  static const Json done = [] {
    EXPECT_EQ(desk().get("/api/fit").body, Json({{"ready", false}}));
    return desk().done("/api/fit");
  }();
  return done;
}

Answer tried(const Json& allowances, int puzzle = 0) {
  return desk().post("/api/fit/try", {{"batch", "batch.toml"}, {"puzzle", puzzle}, {"allowances_mm", allowances}});
}

TEST(FitCall, HandsOutEachPuzzleAndKeepsWhatItFound) {
  ASSERT_EQ(job()["state"], "done") << job();
  const Json& result = job()["result"];
  EXPECT_TRUE(result["complete"]);
  ASSERT_EQ(result["puzzles"].size(), 2U);
  ASSERT_EQ(job()["items"].size(), 2U);
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_EQ(job()["items"][k]["index"], k);
    EXPECT_EQ(job()["items"][k]["puzzle"], result["puzzles"][k]);
  }
  EXPECT_EQ(desk().get("/api/fit").body, result);
}

TEST(FitCall, SaysWhatTheVerbSays) {
  ASSERT_TRUE(job()["result"]["ready"]);  // from then on the fit is at hand
  const auto fitted = desk().bench().plans().fitted_at_hand("batch.toml");
  ASSERT_TRUE(fitted && fitted.value());
  const Json verb = fit_json(*fitted.value()->set_ups, fitted.value()->fit);
  for (std::size_t k = 0; k < 2; ++k)
    for (const auto& [key, value] : verb["puzzles"][k].items()) {
      if (key == "sizes") continue;
      EXPECT_EQ(job()["result"]["puzzles"][k][key], value) << key;
    }
  for (std::size_t d = 0; d < verb["puzzles"][0]["sizes"].size(); ++d)
    for (const auto& [key, value] : verb["puzzles"][0]["sizes"][d].items())
      EXPECT_EQ(job()["result"]["puzzles"][0]["sizes"][d][key], value) << key;
}

TEST(FitCall, TryingAgreesWithTheFitAsPlannedAndAsAdvised) {
  const Json& star = job()["result"]["puzzles"][0];
  Json none = Json::array(), advised = Json::array();
  for (const Json& size : star["sizes"]) none.push_back(0), advised.push_back(size["advised_mm"]);
  for (const auto& [mm, spread] : {std::pair{none, star["as_planned"]}, {advised, star["as_advised"]}}) {
    const Answer a = tried(mm);
    ASSERT_EQ(a.status, 200) << a.body;
    // Of the fit's 6000 puzzles it draws the same and 2192 more: medians differ by some hundredths of the spread.
    const double spread_mm = spread["play_mm"]["p95"].get<double>() - spread["play_mm"]["p05"].get<double>();
    EXPECT_NEAR(a.body["play_mm"]["median"].get<double>(), spread["play_mm"]["median"].get<double>(), 0.03 * spread_mm);
    EXPECT_NEAR(a.body["closes"]["share"].get<double>(), spread["closes"]["share"].get<double>(), 0.005);
    EXPECT_EQ(a.body["samples"], kTriedSamples);
  }
}

TEST(FitCall, WiderSticksGiveMorePlayByTheirSlope) {
  const Json& star = job()["result"]["puzzles"][0];
  Json none = Json::array();
  std::size_t sticks = 0;
  for (std::size_t d = 0; d < star["sizes"].size(); ++d) {
    none.push_back(0);
    if (star["sizes"][d]["name"] == "width of the sticks") sticks = d;
  }
  Json wider = none;
  wider[sticks] = 0.02;
  const double change =
      tried(wider).body["play_mm"]["median"].get<double>() - tried(none).body["play_mm"]["median"].get<double>();
  EXPECT_NEAR(change / 0.02, star["sizes"][sticks]["play_per_mm"].get<double>(), 0.1);
}

TEST(FitCall, TryingRefusesWhatIsNoAllowance) {
  const std::size_t sizes = job()["result"]["puzzles"][0]["sizes"].size();
  const Json none(sizes, 0.0);
  Json too_much = none, words = none;
  too_much[0] = 0.6;
  words[0] = "much";
  EXPECT_EQ(tried(Json::array()).body["where"], "allowances_mm");
  EXPECT_EQ(tried(too_much).body["where"], "allowances_mm");
  EXPECT_EQ(tried(words).body["where"], "allowances_mm");
  EXPECT_EQ(tried(none, 7).body["where"], "puzzle");
  EXPECT_EQ(tried(none, 1).body["code"], "never_binds");
}

TEST(FitCall, CancelledItKeepsWhatIsDoneAndDoesNotCountAsWorkedOut) {
  TwoPuzzlesBench own;
  std::string text = slurp(own.batch());
  text.replace(text.find("samples = 6000"), 14, "samples = 10000000");
  own.scratch().write("batch.toml", text);
  const Answer begun = own.post("/api/fit", {{"batch", "batch.toml"}});
  EXPECT_EQ(own.post("/api/fit", {{"batch", "batch.toml"}}).body, begun.body) << "the same while it runs";
  const std::string id = begun.body.at("job");
  while ((*own.bench().jobs().snapshot(id))["share"] <= 0.0) std::this_thread::sleep_for(std::chrono::milliseconds(5));
  own.bench().jobs().cancel(id);
  const Json over = own.over(id);
  EXPECT_EQ(over["state"], "cancelled");
  EXPECT_EQ(over["result"]["complete"], false);
  EXPECT_EQ(over["result"]["of"], 2);
  EXPECT_EQ(own.get("/api/fit").body, Json({{"ready", false}}));
}

TEST(SortCall, WithoutReadingsSaysHowToMeasure) {
  const Json over = desk().done("/api/sort");
  EXPECT_EQ(over["state"], "failed");
  EXPECT_EQ(over["problem"]["code"], "nothing_to_sort");
}

}  // namespace
}  // namespace stickwright
