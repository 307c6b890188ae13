// The calls about a batch: what the page draws agrees with what the verbs print.
#include <algorithm>

#include "answers/batch_json.h"
#include "serve/two_puzzles_bench.h"

namespace stickwright {
namespace {

TwoPuzzlesBench& desk() {
  static TwoPuzzlesBench desk;
  return desk;
}

// Every key of the verb's document is in ours, with the same value; of lists item by item.
void expect_holds(const Json& ours, const Json& verb, const std::string& at) {
  if (verb.is_object()) {
    for (const auto& [key, value] : verb.items()) {
      ASSERT_TRUE(ours.contains(key)) << at << "/" << key;
      expect_holds(ours[key], value, at + "/" + key);
    }
  } else if (verb.is_array()) {
    ASSERT_EQ(ours.size(), verb.size()) << at;
    for (std::size_t k = 0; k < verb.size(); ++k) expect_holds(ours[k], verb[k], at + "/" + std::to_string(k));
  } else {
    EXPECT_EQ(ours, verb) << at;
  }
}

const FullPlan& full() {
  static const auto plan = plan_batch(desk().batch());
  return plan.value();
}

TEST(BatchCall, SticksHoldWhatTheVerbPrints) {
  const Answer a = desk().get("/api/sticks");
  ASSERT_EQ(a.status, 200);
  expect_holds(a.body, sticks_json(full().batch, full().sticks), "");
}

TEST(BatchCall, BlocksLieOneAfterTheOtherOnTheirSticks) {
  const Json sticks = desk().get("/api/sticks").body;
  const double kerf = sticks["kerf_along_mm"];
  for (const Json& stick : sticks["sticks"]) {
    double at = sticks["head_mm"];
    for (const Json& block : stick["blocks"]) {
      EXPECT_NEAR(block["near"]["axis_mm"].get<double>(), at, 1e-6);
      at = block["far"]["axis_mm"].get<double>() + kerf;
    }
    EXPECT_NEAR(at + stick["left_mm"].get<double>(), stick["length_mm"].get<double>(), 1e-6);
  }
}

TEST(BatchCall, WeekHoldsWhatTheVerbPrintsAndItsDaysHoldAllOfTheWork) {
  const Json week = desk().get("/api/week").body;
  expect_holds(week, week_json(full().week), "");
  std::size_t stretches = 0;
  for (const Json& day : week["days"])
    for (const Json& s : day["work"]) {
      const Json& in_week = week["work"][s["work"].get<std::size_t>()];
      EXPECT_EQ(in_week["task"], s["task"]);
      EXPECT_EQ(in_week["from"], day["date"].get<std::string>() + "T" + s["from"].get<std::string>());
      const bool inside = std::any_of(day["windows"].begin(), day["windows"].end(), [&](const Json& w) {
        return w["from_s"] <= s["from_s"] && s["to_s"] <= w["to_s"];
      });
      EXPECT_TRUE(inside);
      ++stretches;
    }
  EXPECT_EQ(stretches, week["work"].size());
}

TEST(BatchCall, CostTimesCopiesIsTheSticksAndTheWeek) {
  const Json batch = desk().get("/api/batch").body, week = desk().get("/api/week").body;
  double stick_mm = 0, hours = 0, sticks_mm = 0;
  for (const Json& c : batch["cost"]) {
    for (const Json& w : c["woods"]) stick_mm += c["copies"].get<double>() * w["stick_mm"].get<double>();
    hours += c["copies"].get<double>() * c["hands_on_hours"].get<double>();
  }
  const Json sticks = desk().get("/api/sticks").body;
  for (const Json& s : sticks["sticks"]) sticks_mm += s["length_mm"].get<double>();
  EXPECT_NEAR(stick_mm, sticks_mm, 1e-6);
  EXPECT_NEAR(hours * 3600, week["hands_on_s"].get<double>(), 1e-6);
  EXPECT_TRUE(batch["short"].empty());
  EXPECT_TRUE(batch["problem"].is_null());
}

TEST(BatchCall, AShortRackIsToldWithWhatToBuyAndTheHeadStands) {
  TwoPuzzlesBench own;
  std::string shop = slurp(own.scratch().path / "shop.toml");
  const std::string from = "wood = \"walnut\"\nlength = \"750 mm\"\ncount = 20";
  ASSERT_NE(shop.find(from), std::string::npos);
  shop.replace(shop.find(from), from.size(), "wood = \"walnut\"\nlength = \"250 mm\"\ncount = 1");
  own.scratch().write("shop.toml", shop);
  const Answer a = own.get("/api/batch");
  ASSERT_EQ(a.status, 200);
  EXPECT_EQ(a.body["name"], "two");
  EXPECT_TRUE(a.body["cost"].is_null());
  EXPECT_EQ(a.body["problem"]["code"], "not_enough_sticks");
  ASSERT_EQ(a.body["short"].size(), 1U);
  EXPECT_GT(a.body["short"][0]["more"], 0);
  EXPECT_EQ(own.get("/api/sticks").status, 422);
}

TEST(BatchCall, PacketIsWrittenSentAndKnownToBeOlderThanTheFiles) {
  TwoPuzzlesBench own;
  EXPECT_EQ(own.reply("GET", "/api/packet.pdf").status, 404);
  EXPECT_TRUE(own.get("/api/batch").body["packet"].is_null());
  const Json job = own.done("/api/packet");
  ASSERT_EQ(job["state"], "done") << job;
  const Json& files = job["result"]["files"];
  ASSERT_EQ(files.size(), 3U);
  EXPECT_EQ(files[0]["name"], "out/packet.pdf");
  EXPECT_GT(files[0]["pages"], 5);
  EXPECT_EQ(files[2]["name"], "out/plan.json");
  for (const Json& f : files) EXPECT_TRUE(std::filesystem::exists(own.scratch().path / f["name"]));
  const Reply pdf = own.reply("GET", "/api/packet.pdf");
  EXPECT_EQ(pdf.status, 200);
  EXPECT_EQ(pdf.type, "application/pdf");
  EXPECT_EQ(pdf.body, slurp(own.scratch().path / "out/packet.pdf"));
  EXPECT_TRUE(pdf.body.starts_with("%PDF"));
  EXPECT_EQ(own.get("/api/batch").body["packet"], Json({{"name", "out/packet.pdf"}, {"older_than_files", false}}));
  std::filesystem::last_write_time(own.scratch().path / "shop.toml",
                                   std::filesystem::file_time_type::clock::now() + std::chrono::hours(1));
  EXPECT_EQ(own.get("/api/batch").body["packet"]["older_than_files"], true);
}

TEST(BatchCall, WithoutABatchSaysWhatWasExpected) {
  EXPECT_EQ(desk().post("/api/packet", Json::object()).body["code"], "bad_request");
  EXPECT_EQ(desk().post("/api/packet", {{"batch", "batch.toml"}, {"paper", "A4"}}).body["code"], "unknown_key");
  EXPECT_EQ(desk().post("/api/packet", {{"batch", "none.toml"}}).status, 404);
  EXPECT_EQ(desk().post("/api/packet", {{"batch", "../batch.toml"}}).status, 403);
}

}  // namespace
}  // namespace stickwright
