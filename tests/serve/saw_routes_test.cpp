#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>

#include "answers/batch_json.h"
#include "answers/correct_answer.h"
#include "answers/truing_answer.h"
#include "answers/truing_readings.h"
#include "serve/wrenfield_bench.h"

namespace stickwright {
namespace {

using std::numbers::sqrt2;

// The readings of the example's truing file, as the page sends them.
Json example_readings() {
  return Json::array({{{"of", "point"}, {"gap", "0.05 mm"}, {"light", "tip"}, {"over", "60 mm"}},
                      {{"of", "blade"}, {"gap", "0.03 mm"}, {"light", "foot"}, {"over", "60 mm"}},
                      {{"of", "bar"}, {"higher", "0.04 mm"}, {"end", "far"}, {"over", "100 mm"}},
                      {{"of", "flanks"}, {"higher", "0.02 mm"}, {"flank", "near"}, {"over", "30 mm"}},
                      {{"of", "corner"}, {"at", "up"}, {"length", "45.233 mm"}},
                      {{"of", "corner"}, {"at", "down"}, {"length", "45.277 mm"}},
                      {{"of", "width"}, {"across", 1}, {"length", "16.01 mm"}},
                      {{"of", "width"}, {"across", 2}, {"length", "15.99 mm"}, {"u", "0.005 mm"}}});
}

TEST(SetUpsCall, SaysWhatTheVerbSaysAndWhatTheCardsDo) {
  WrenfieldBench w;
  const Told told = w.get("/api/setups");
  ASSERT_EQ(told.status, 200);
  const Json verb = setups_json(w.desk.plan());
  EXPECT_EQ(told.body["stick_mm"], verb["stick_mm"]);
  EXPECT_EQ(told.body["saw"], verb["saw"]);
  ASSERT_EQ(told.body["setups"].size(), verb["setups"].size());
  for (std::size_t i = 0; i < verb["setups"].size(); ++i) {
    const Json &ours = told.body["setups"][i], &theirs = verb["setups"][i];
    for (const char* key : {"id", "shape", "hand", "blocks", "needed", "spares", "cuts", "start"})
      EXPECT_EQ(ours[key], theirs[key]) << key;
    for (std::size_t k = 0; k < theirs["stops"].size(); ++k)
      for (const char* list : {"stops", "tests"})
        for (const auto& [key, value] : theirs[list][k].items()) EXPECT_EQ(ours[list][k][key], value) << list << key;
    EXPECT_EQ(ours["number"], i + 1);
    EXPECT_FALSE(ours["start_says"].get<std::string>().empty());
    EXPECT_GE(ours["cautions"].size(), 3u);
  }
  EXPECT_EQ(told.body["batch"], "batch.toml");
  EXPECT_EQ(told.body["batch_name"], "Spring market");
  EXPECT_EQ(told.body["leaves_mm"], Json({0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5}));
  EXPECT_EQ(told.body["setups"][1]["name"], "prism block, right-handed");
}

// Every stop is set, every cut made and every test measured once, and a stop stands before it is used.
TEST(SetUpsCall, TheStepsSetEveryStopMakeEveryCutAndMeasureEveryTest) {
  WrenfieldBench w;
  const Json set_ups = w.get("/api/setups").body["setups"];
  ASSERT_EQ(set_ups.size(), 3u);
  for (const Json& s : set_ups) {
    std::vector<int> stops, cuts, tests;
    for (const Json& step : s["steps"]) {
      if (step["does"] == "stop")
        stops.push_back(step["stop"]);
      else
        EXPECT_NE(std::find(stops.begin(), stops.end(), step["stop"]), stops.end()) << step;
      if (step["does"] == "cut") cuts.push_back(step["cut"]);
      if (!step["measure_mm"].is_null()) tests.push_back(step["test"]);
    }
    const auto each_once = [](std::vector<int> seen, std::size_t n) {
      std::vector<int> all(n);
      std::iota(all.begin(), all.end(), 1);
      std::sort(seen.begin(), seen.end());
      return seen == all;
    };
    EXPECT_TRUE(each_once(stops, s["stops"].size()));
    EXPECT_TRUE(each_once(cuts, s["cuts"].size()));
    EXPECT_TRUE(each_once(tests, s["tests"].size()));
  }
}

TEST(DrawingCall, EveryStepIsDrawnWithWatertightBodies) {
  WrenfieldBench w;
  int drawn = 0;
  const Json set_ups = w.get("/api/setups").body["setups"];
  for (const Json& s : set_ups)
    for (std::size_t k = 1; k <= s["steps"].size(); ++k) {
      const Told told = w.get("/api/setups/drawing", {{"setup", s["id"]}, {"step", std::to_string(k)}});
      ASSERT_EQ(told.status, 200) << told.body;
      EXPECT_EQ(told.body["says"], s["steps"][k - 1]["says"]);
      for (const Json& b : told.body["bodies"]) {
        std::map<std::pair<int, int>, int> sides;
        const auto tri = b["mesh"]["tri"].get<std::vector<int>>();
        const int corners = static_cast<int>(b["mesh"]["xyz"].size()) / 3;
        ASSERT_EQ(tri.size() % 3, 0u);
        for (std::size_t i = 0; i < tri.size(); i += 3)
          for (std::size_t j = 0; j < 3; ++j) {
            ASSERT_LT(tri[i + j], corners);
            ++sides[{tri[i + j], tri[i + (j + 1) % 3]}];
          }
        for (const auto& [side, times] : sides)
          EXPECT_TRUE(times == 1 && sides.contains({side.second, side.first})) << b["what"];
      }
      ++drawn;
    }
  EXPECT_GE(drawn, 10);
}

// Page's frame: x from the stop to the blade, y away from the operator, z up. The blade stands at 45 degrees to both x
// and y, so at the axis its near plane is x + y = distance.
TEST(DrawingCall, TheBladeStandsAtTheStopsDistanceInThePagesFrame) {
  WrenfieldBench w;
  const Json set_up = w.get("/api/setups").body["setups"][2];
  for (std::size_t cut = 1; cut <= set_up["cuts"].size(); ++cut) {
    const Json d = w.get("/api/setups/drawing", {{"setup", "3"}, {"cut", std::to_string(cut)}}).body;
    const double distance = set_up["stops"][d["stop"].get<std::size_t>() - 1]["distance_mm"];
    double least = 1e9;
    for (const Json& b : d["bodies"])
      if (b["what"] == "blade")
        for (std::size_t i = 0; i < b["mesh"]["xyz"].size(); i += 3)
          least = std::min(least, b["mesh"]["xyz"][i].get<double>() + b["mesh"]["xyz"][i + 1].get<double>());
    EXPECT_NEAR(least, distance, 1e-5) << cut;
    EXPECT_EQ(d["lines"].size() >= 1, true);
  }
}

TEST(DrawingCall, WhatIsNotThereIsAProblemThatNamesItsKey) {
  WrenfieldBench w;
  using Query = std::map<std::string, std::string>;
  const std::vector<std::pair<Query, std::string>> cases = {{{{"setup", "no-such"}, {"step", "1"}}, "setup"},
                                                            {{{"setup", "1"}, {"step", "99"}}, "step"},
                                                            {{{"setup", "1"}, {"cut", "99"}}, "cut"},
                                                            {{{"setup", "1"}}, "step"},
                                                            {{{"setup", "1"}, {"step", "1"}, {"cut", "1"}}, "step"},
                                                            {{{"setup", "1"}, {"step", "0"}}, "step"},
                                                            {{{"setup", "1"}, {"step", "one"}}, "step"},
                                                            {{{"setup", "1"}, {"cut", "99999999999999"}}, "cut"}};
  for (const auto& [query, where] : cases) {
    const Told told = w.get("/api/setups/drawing", query);
    EXPECT_EQ(told.status, 422) << where;
    EXPECT_EQ(told.body["where"], where) << told.body;
  }
}

TEST(AlignCall, ReadingsSentAnswerLikeTheSameReadingsInAFile) {
  WrenfieldBench w;
  const Told told = w.post("/api/align", {{"readings", example_readings()}});
  ASSERT_EQ(told.status, 200) << told.body;
  const Batch& batch = w.desk.plan().batch;
  TruingTexts texts;
  texts.file = (w.s.path / "truing.toml").string();
  const TruingAnswer verb = truing_answer(batch, truing_readings(texts, batch.shop.caliper).take());
  const Json expected = truing_json(verb);
  for (const auto& [key, value] : expected.items()) EXPECT_EQ(told.body[key], value) << key;
  EXPECT_EQ(told.body["report"], truing_report(verb));
  EXPECT_EQ(told.body["kept"], false);
  EXPECT_FALSE(std::filesystem::exists(w.ledger));
}

// Two opposite miters make a point that is too wide by twice the error of one: a gap g at an arm D is an error of
// g / 2D (docs/measuring.md), but for what the square itself is off.
TEST(AlignCall, AGapIsTwiceTheMiterErrorTimesTheArm) {
  WrenfieldBench w;
  const Told told = w.post("/api/align", {{"gaps", {"0.12 mm"}}, {"over", "60 mm"}, {"light", "tip"}});
  ASSERT_EQ(told.status, 200) << told.body;
  const double expected = 0.12 / (2 * 60) * 180 / std::numbers::pi;
  EXPECT_NEAR(told.body["miter_error_deg"], expected, 0.02 * expected);
}

TEST(AlignCall, WhatIsWrongIsToldWithTheKeyThatItStandsUnder) {
  WrenfieldBench w;
  const auto with = [](std::size_t k, const char* key, const Json& value) {
    Json readings = example_readings();
    readings[k][key] = value;
    return Json{{"readings", readings}};
  };
  const std::vector<std::pair<Json, std::string>> cases = {
      {with(1, "gap", 0.03), "readings[1].gap"},
      {with(1, "gap", "0.03"), "readings[1].gap"},
      {with(2, "end", "left"), "readings[2].end"},
      {with(0, "of", "moon"), "readings[0].of"},
      {with(6, "across", 3), "readings[6].across"},
      {with(6, "across", "1"), "readings[6].across"},
      {with(3, "size", "1 mm"), "readings[3].size"},
      {{{"readings", 7}}, "readings"},
      {{{"readings", {1}}}, "readings[0]"},
      {{{"gaps", {"0.1 mm"}}}, "over"},
      {{{"gaps", {"0.1"}}, {"over", "60 mm"}}, "gaps"},
      {Json::object(), "readings"},
      {{{"gaps", {1}}, {"over", "60 mm"}}, "gaps"},
      {{{"keep", "yes"}}, "keep"},
      {{{"batch", 1}}, "batch"},
      {with(0, "gap", "0.05 mm\"\nof = \"bar"), "readings[0].gap"}};
  for (const auto& [body, where] : cases) {
    const Told told = w.post("/api/align", body);
    EXPECT_EQ(told.status, 422) << body;
    EXPECT_EQ(told.body["where"], where) << body << told.body;
    EXPECT_EQ(told.body["say"].get<std::string>().find("--"), std::string::npos) << told.body;
  }
}

TEST(AlignCall, KeptOnceItIsTheSawsAndNotKeptAgainBehindSomebodysBack) {
  WrenfieldBench w;
  const Json body = {{"readings", example_readings()}, {"keep", true}, {"by", "Ada"}, {"after", 0}};
  const Told told = w.post("/api/align", body);
  ASSERT_EQ(told.status, 200) << told.body;
  EXPECT_EQ(told.body["kept"], true);
  // The reply was lost, and the same is sent again.
  const Told again = w.post("/api/align", body);
  EXPECT_EQ(again.status, 409);
  EXPECT_EQ(again.body["code"], "changed_since");
  const Json done = w.get("/api/truing").body["done"];
  ASSERT_EQ(done.size(), 1u);
  EXPECT_EQ(done[0]["id"], told.body["entry"]);
  EXPECT_EQ(done[0]["by"], "Ada");
  EXPECT_NEAR(done[0]["miter_deg"], told.body["remaining_deg"], 1e-12);
  const Json known = w.get("/api/truing").body["known"];
  EXPECT_NE(known.dump().find("ledger, truing of"), std::string::npos);
}

TEST(AlignCall, OfAnErrorThatTheReadingsDoNotTellNothingIsClaimed) {
  WrenfieldBench w;
  const Json told = w.post("/api/align", {{"gaps", {"0.12 mm"}}, {"over", "60 mm"}, {"keep", true}}).body;
  EXPECT_EQ(told["errors"][2]["advice"], "unseen");
  const Json truing = w.get("/api/ledger/events").body["truings"][0];
  EXPECT_TRUE(truing["miter_deg"].is_number());
  for (const char* key : {"roll_deg", "roll_u_deg", "pitch_deg", "pitch_u_deg"}) EXPECT_TRUE(truing[key].is_null());
}

TEST(AlignCall, ReadingsThatContradictEachOtherAreNotKept) {
  WrenfieldBench w;
  const Json readings = {{{"of", "point"}, {"gap", "0.05 mm"}, {"light", "tip"}, {"over", "60 mm"}},
                         {{"of", "point"}, {"gap", "0.80 mm"}, {"light", "ends"}, {"over", "60 mm"}}};
  const Told told = w.post("/api/align", {{"readings", readings}, {"keep", true}});
  EXPECT_EQ(told.status, 422);
  EXPECT_EQ(told.body["code"], "readings_contradict");
  EXPECT_FALSE(std::filesystem::exists(w.ledger));
}

// A page that asks for what "asks" says gets an answer: nothing is missing there, and nothing is too much.
TEST(TruingCall, WhatEveryLookAsksForIsWhatAlignTakes) {
  WrenfieldBench w;
  const Told told = w.get("/api/truing");
  ASSERT_EQ(told.status, 200);
  EXPECT_EQ(told.body["looks"].size(), 6u);
  for (const Json& look : told.body["looks"]) {
    Json reading = {{"of", look["id"]}};
    for (const Json& ask : look["asks"]) {
      const std::string key = ask["key"];
      if (ask["optional"] == true) continue;
      if (ask["kind"] == "length")
        reading[key] = key == "length" ? look["id"] == "width" ? "16 mm" : "45.25 mm"
                       : key == "over" ? "60 mm"
                                       : "0.03 mm";
      else
        reading[key] = ask["choices"][1]["value"];
    }
    const Told answer = w.post("/api/align", {{"readings", {reading}}});
    EXPECT_EQ(answer.status, 200) << reading << answer.body;
    for (const auto& [key, value] : reading.items()) {
      if (key == "of") continue;
      Json less = reading;
      less.erase(key);
      EXPECT_EQ(w.post("/api/align", {{"readings", {less}}}).status, 422) << less;
    }
  }
  ASSERT_EQ(told.body["prepared"].size(), 4u);
  for (const Json& check : told.body["prepared"])
    EXPECT_EQ(check["rows"][0].size(), check["rows"][1].size()) << check["title"];
}

// docs/measuring.md: a block of 16.06 mm for 16.00 wants a shim of 0.06 sqrt 2 = 0.085 mm; of the shop's leaves 0.10 mm
// comes nearest.
TEST(CorrectCall, ABlockSixHundredthsTooBigWantsAShimOfEightyFiveThousandths) {
  WrenfieldBench w;
  const Told told = w.post("/api/correct", {{"setup", "squat-octahedron"}, {"stop", 1}, {"measured", {"16.06 mm"}}});
  ASSERT_EQ(told.status, 200) << told.body;
  EXPECT_NEAR(told.body["shim_mm"], 0.06 * sqrt2, 1e-9);
  EXPECT_EQ(told.body["leaves"], Json({0.1}));
  EXPECT_EQ(told.body["advice"], "shim");
  EXPECT_EQ(told.body["kept"], false);
  const BatchPlan& plan = w.desk.plan();
  const StopPlace place = find_stop(plan, "squat-octahedron", 1).take();
  const auto verb = correct_answer(plan, w.ledger, place, measured_as_typed(plan, place, {"16.06 mm"}).take());
  EXPECT_EQ(told.body["report"], correction_report(plan, verb.value()));
}

TEST(CorrectCall, TheLedgersReadingsServeWhenNoneAreGivenAndTheLeafIsKeptOnce) {
  WrenfieldBench w;
  const Json ask = {{"setup", "squat-octahedron"}, {"stop", 1}, {"measured", Json::array()}};
  const Told nothing = w.post("/api/correct", ask);
  EXPECT_EQ(nothing.status, 422);
  EXPECT_EQ(nothing.body["code"], "no_readings");
  w.record("a-1", "16.06");
  w.record("a-2", "16.07");
  const Told told = w.post("/api/correct", ask);
  EXPECT_EQ(told.body["readings"], 2);
  EXPECT_NEAR(told.body["shim_mm"], 0.065 * sqrt2, 1e-9);
  const Json keep = {
      {"setup", "squat-octahedron"}, {"stop", 1}, {"measured", {"16.06"}}, {"keep", true}, {"by", "Ada"}, {"after", 0}};
  const Told kept = w.post("/api/correct", keep);
  ASSERT_EQ(kept.status, 200) << kept.body;
  EXPECT_EQ(kept.body["kept"], true);
  EXPECT_EQ(w.post("/api/correct", keep).status, 409);
  const Json leaves = w.get("/api/ledger/events").body["leaves"];
  ASSERT_EQ(leaves.size(), 1u);
  EXPECT_EQ(leaves[0]["thickness_mm"], 0.1);
  EXPECT_EQ(leaves[0]["by"], "Ada");
  // Readings from before the leaf do not count any more.
  EXPECT_EQ(w.post("/api/correct", ask).body["code"], "no_readings");
}

TEST(CorrectCall, WhatIsWrongIsToldWithItsKey) {
  WrenfieldBench w;
  const std::vector<std::pair<Json, std::string>> cases = {
      {{{"setup", 3}, {"stop", 1}}, "setup"},
      {{{"setup", "3"}, {"stop", "1"}}, "stop"},
      {{{"setup", "3"}, {"stop", 0}}, "stop"},
      {{{"setup", "3"}}, "stop"},
      {{{"setup", "3"}, {"stop", 9}}, "stop"},
      {{{"setup", "none"}, {"stop", 1}}, "setup"},
      {{{"setup", "3"}, {"stop", 1}, {"measured", {16.06}}}, "measured"},
      {{{"setup", "3"}, {"stop", 1}, {"measured", {"banana"}}}, "measured"},
      {{{"setup", "3"}, {"stop", 1}, {"measured", {"26.06"}}}, "measured"},
      {{{"setup", "3"}, {"stop", 1}, {"mesured", {"16.06"}}}, "mesured"}};
  for (const auto& [body, where] : cases) {
    const Told told = w.post("/api/correct", body);
    EXPECT_EQ(told.status, 422) << body;
    EXPECT_EQ(told.body["where"], where) << body << told.body;
  }
}

TEST(SawCalls, APathOutsideOfTheFolderIsRefused) {
  WrenfieldBench w;
  for (const char* batch : {"../batch.toml", "/etc/hosts", "a/../../batch.toml"}) {
    EXPECT_EQ(w.get("/api/setups", {{"batch", batch}}).status, 403) << batch;
    EXPECT_EQ(w.post("/api/correct", {{"batch", batch}, {"setup", "1"}, {"stop", 1}, {"measured", {"16"}}}).status,
              403);
  }
  EXPECT_EQ(w.get("/api/setups", {{"batch", "none.toml"}}).status, 404);
}

}  // namespace
}  // namespace stickwright
