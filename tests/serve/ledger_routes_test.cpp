#include <sys/wait.h>

#include <chrono>
#include <csignal>
#include <random>
#include <set>
#include <thread>

#include "answers/history_answer.h"
#include "serve/wrenfield_bench.h"

namespace stickwright {
namespace {

Json one(const std::string& key, const std::string& value) {
  return {{"key", key}, {"value", value}};
}

TEST(RecordCall, AReadingIsStoredAnsweredAndToldLikeTheVerbTellsIt) {
  WrenfieldBench w;
  const Told told = w.record("phone-1", "16.02", {{"by", "Ada"}, {"wood", "cherry"}, {"stick", "A"}});
  ASSERT_EQ(told.status, 200) << told.body;
  ASSERT_EQ(told.body["stored"].size(), 1u);
  const Json& stored = told.body["stored"][0];
  EXPECT_EQ(stored["key"], "phone-1");
  EXPECT_EQ(stored["was_there"], false);
  EXPECT_EQ(stored["value_mm"], 16.02);
  EXPECT_TRUE(told.body["refused"].empty());
  EXPECT_EQ(told.body["light"], "go");
  Ledger ledger = Ledger::open(w.ledger).take();
  const StopPlace place = find_stop(w.desk.plan(), "squat-octahedron", 1).take();
  const StopReadings now = readings_at(ledger, w.desk.plan(), place).take();
  const Json verb = stop_readings_json(now);
  for (const auto& [key, value] : verb.items()) {
    if (key != "readings") {
      EXPECT_EQ(told.body[key], value) << key;
    }
  }
  EXPECT_EQ(told.body["says"], advice_line(now));
  const KeptReading k = w.kept().at(0);
  EXPECT_EQ(k.id, stored["id"]);
  EXPECT_EQ(k.reading.wood, "black cherry");
  EXPECT_EQ(k.reading.by, "Ada");
  EXPECT_EQ(k.reading.stick, "A");
  EXPECT_EQ(k.reading.client_key, "phone-1");
  EXPECT_EQ(k.reading.entered, Entered::typed);
  EXPECT_EQ(k.reading.instrument, "bench micrometer");  // the shop's, when nobody says another
}

TEST(RecordCall, TheSameBodySentAgainAfterALostReplyIsStoredOnce) {
  WrenfieldBench w;
  const Json body = {
      {"setup", "squat-octahedron"}, {"stop", 1}, {"readings", {one("p-1", "16.02"), one("p-2", "16.01")}}};
  const Told first = w.post("/api/record", body);
  const Told again = w.post("/api/record", body);
  ASSERT_EQ(again.status, 200);
  ASSERT_EQ(again.body["stored"].size(), 2u);
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_EQ(again.body["stored"][k]["was_there"], true);
    for (const char* key : {"id", "key", "value_mm", "at"})
      EXPECT_EQ(again.body["stored"][k][key], first.body["stored"][k][key]) << key;
  }
  EXPECT_EQ(w.kept().size(), 2u);
  EXPECT_EQ(again.body["readings"], first.body["readings"]);
  // Also by a server that was started anew, and with one more reading beside.
  CallDesk anew(w.s.path);
  Json more = body;
  more["readings"].push_back(one("p-3", "16.00"));
  const Told third = anew.post("/api/record", more);
  EXPECT_EQ(third.body["stored"][1]["was_there"], true);
  EXPECT_EQ(third.body["stored"][2]["was_there"], false);
  EXPECT_EQ(w.kept().size(), 3u);
}

TEST(RecordCall, AKeyOfAnotherReadingIsRefusedAndNothingIsWritten) {
  WrenfieldBench w;
  w.record("p-1", "16.02");
  const Told other_value = w.record("p-1", "16.03");
  EXPECT_TRUE(other_value.body["stored"].empty());
  EXPECT_EQ(other_value.body["refused"][0]["code"], "key_used");
  const Told other_stop = w.record("p-1", "16.02", {{"stop", 2}});
  EXPECT_EQ(other_stop.body["refused"][0]["code"], "key_used");
  EXPECT_EQ(w.kept().size(), 1u);
}

TEST(RecordCall, OneBadReadingRefusesOnlyItself) {
  WrenfieldBench w;
  Json time = one("g", "16.00"), wood = one("h", "16.00"), browser = one("i", "16.01");
  time["taken_at"] = "yesterday";
  wood["wood"] = "balsawood";
  browser["taken_at"] = "2031-02-04T18:30:05.123Z";
  const Told told = w.post("/api/record", {{"setup", "squat-octahedron"},
                                           {"stop", 1},
                                           {"readings",
                                            {one("a", "16.02"), one("b", "banana"), one("c", "26.02"), one("d", ""),
                                             one("e", "16.01 16.02"), one("f", "-16"), time, wood, browser}}});
  ASSERT_EQ(told.status, 200) << told.body;
  std::map<std::string, std::string> refused;
  for (const Json& r : told.body["refused"]) refused[r["key"]] = r["code"];
  const std::map<std::string, std::string> expected = {
      {"b", "bad_value"}, {"c", "impossible_value"}, {"d", "no_readings"}, {"e", "bad_value"},
      {"f", "bad_value"}, {"g", "bad_time"},         {"h", "unknown_wood"}};
  EXPECT_EQ(refused, expected);
  ASSERT_EQ(w.kept().size(), 2u);
  EXPECT_EQ(w.kept()[0].reading.client_key, "a");
  EXPECT_EQ(w.kept()[1].reading.taken_at, "2031-02-04T18:30:05Z");
}

TEST(RecordCall, InchesAreSaidAndASlipOfTheUnitIsTold) {
  WrenfieldBench w;
  EXPECT_EQ(w.record("a", "0.63", {{"inches", true}}).body["stored"][0]["value_mm"], 16.002);
  const Told slip = w.record("b", "0.63");
  EXPECT_EQ(slip.body["refused"][0]["code"], "impossible_value");
  EXPECT_NE(slip.body["refused"][0]["say"].get<std::string>().find("choose inches"), std::string::npos);
}

TEST(RecordCall, WidthsOfOneBlockStandUnderOneKey) {
  WrenfieldBench w;
  const std::string both = "squat-octahedron";
  Json reading = one("w-1", "15.98");
  reading["value_2"] = "16.01";
  const Json body = {{"setup", both}, {"width", true}, {"wood", "walnut"}, {"readings", {reading}}};
  const Told told = w.post("/api/record", body), again = w.post("/api/record", body);
  ASSERT_EQ(told.status, 200) << told.body;
  ASSERT_EQ(told.body["stored"].size(), 2u);
  EXPECT_EQ(told.body["stored"][0]["block"], 1);
  EXPECT_EQ(told.body["stored"][1]["block"], 1);
  EXPECT_EQ(told.body["stored"][1]["value_mm"], 16.01);
  EXPECT_EQ(told.body["widths"].size(), 2u);
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_EQ(again.body["stored"][k]["was_there"], true);
    EXPECT_EQ(again.body["stored"][k]["id"], told.body["stored"][k]["id"]);
  }
  EXPECT_EQ(w.kept().size(), 2u);
}

TEST(RecordCall, WidthsMayBringTheirUnits) {
  WrenfieldBench w;
  Json reading = one("w-1", "15.98 mm");
  reading["value_2"] = "0.6303 in";
  const Json body = {{"setup", "squat-octahedron"}, {"width", true}, {"readings", {reading}}};
  const Told told = w.post("/api/record", body);
  ASSERT_EQ(told.body["refused"], Json::array());
  ASSERT_EQ(told.body["stored"].size(), 2u);
  EXPECT_EQ(told.body["stored"][0]["value_mm"], 15.98);
  EXPECT_EQ(told.body["stored"][1]["value_mm"], 16.00962);  // 0.6303 * 25.4
}

TEST(RecordCall, WhatIsWrongWithTheCallIsToldWithItsKeyAndMakesNoLedger) {
  WrenfieldBench w;
  const Json sound = {{"setup", "squat-octahedron"}, {"stop", 1}, {"readings", {one("a", "16.02")}}};
  const auto with = [&](const char* key, const Json& value) {
    Json body = sound;
    body[key] = value;
    return body;
  };
  const auto without = [&](const char* key) {
    Json body = sound;
    body.erase(key);
    return body;
  };
  Json width = without("stop");
  width["width"] = true;
  width["setup"] = "1";  // the cuts of this block leave no two sides of the stick opposite
  const std::vector<std::pair<Json, std::string>> cases = {
      {with("setup", 3), "setup"},
      {with("setup", "no-such"), "setup"},
      {without("setup"), "setup"},
      {with("stop", 0), "stop"},
      {with("stop", "1"), "stop"},
      {with("stop", 1.5), "stop"},
      {with("stop", 9), "stop"},
      {without("stop"), "stop"},
      {with("width", true), "stop"},
      {width, "width"},
      {with("by", 7), "by"},
      {with("note", Json::array({1})), "note"},
      {with("inches", "no"), "inches"},
      {with("readings", Json::array()), "readings"},
      {with("readings", "16.02"), "readings"},
      {with("readings", {16.02}), "readings[0]"},
      {with("readings", {{{"key", "a"}, {"value", 16.02}}}), "readings[0].value"},
      {with("readings", {{{"value", "16.02"}}}), "readings[0].key"},
      {with("readings", Json::array({one("a/2", "16.02")})), "readings[0].key"},
      {with("readings", Json::array({one(std::string(300, 'k'), "16.02")})), "readings[0].key"},
      {with("readings", {one("a", "16.02"), {{"key", "b"}, {"value", "16"}, {"block", "7"}}}), "readings[1].block"},
      {with("readings", {{{"key", "b"}, {"value", "16"}, {"vaule", "16"}}}), "readings[0].vaule"},
      {with("stopp", 1), "stopp"},
      {with("batch", Json::object()), "batch"},
      {Json::array({1}), ""},
      {Json("text"), ""},
      {Json(nullptr), ""}};
  for (const auto& [body, where] : cases) {
    const Told told = w.post("/api/record", body);
    EXPECT_EQ(told.status, 422) << body;
    EXPECT_EQ(told.body["where"], where) << body << told.body;
    EXPECT_FALSE(told.body["say"].get<std::string>().empty());
  }
  EXPECT_EQ(w.record("a", "16.02", {{"wood", "balsawood"}}).body["code"], "unknown_wood");
  EXPECT_EQ(w.record("a", "26.02").status, 200);  // refused, alone
  EXPECT_EQ(w.record("a", "16.02", {{"batch", "../batch.toml"}}).status, 403);
  EXPECT_EQ(w.record("a", "16.02", {{"batch", "none.toml"}}).status, 404);
  EXPECT_FALSE(std::filesystem::exists(w.ledger));
}

TEST(RecordCall, ALedgerThatIsALinkOutOfTheFolderIsNotWritten) {
  WrenfieldBench w;
  const Scratch outside("outside");
  std::filesystem::create_symlink(outside.path / "elsewhere.ledger", w.ledger);
  EXPECT_EQ(w.record("a", "16.02").status, 403);
  EXPECT_TRUE(std::filesystem::is_empty(outside.path));
}

TEST(RecordCall, TwoPhonesAtOnceLoseNothingAndDoubleNothing) {
  WrenfieldBench w;
  w.record("first", "16.00");  // the ledger is there
  const auto phone = [&](const std::string& name) {
    for (int k = 0; k < 10; ++k) {
      const Told own = w.record(name + std::to_string(k), "16.01");
      EXPECT_EQ(own.status, 200) << own.body;
      EXPECT_EQ(own.body["stored"].size(), 1u);
      const Told both = w.record("both-" + std::to_string(k), "16.02");  // handed on from one to the other
      EXPECT_EQ(both.body["stored"].size(), 1u);
    }
  };
  std::thread a(phone, "a"), b(phone, "b");
  a.join(), b.join();
  std::set<std::string> keys;
  for (const KeptReading& k : w.kept()) keys.insert(k.reading.client_key);
  EXPECT_EQ(w.kept().size(), 31u);
  EXPECT_EQ(keys.size(), 31u);
}

TEST(RecordCall, TheFirstTwoPhonesMakeOneLedger) {
  for (int round = 0; round < 5; ++round) {
    WrenfieldBench w;
    w.desk.plan();
    const auto phone = [&](const std::string& name) { EXPECT_EQ(w.record(name, "16.01").status, 200); };
    std::thread a(phone, "a"), b(phone, "b");
    a.join(), b.join();
    EXPECT_EQ(w.kept().size(), 2u);
  }
}

// Ours: outside the tolerance of 0.05 mm is "stop"; nothing read is "unknown"; one outside a while ago is "watch".
TEST(RecordCall, TheLightIsWhatTheRunReportAdvises) {
  WrenfieldBench w;
  EXPECT_EQ(w.record("x", "26").body["light"], "unknown");
  EXPECT_EQ(w.record("a", "16.00").body["light"], "go");
  const Told out = w.record("b", "16.20");
  EXPECT_EQ(out.body["verdict"], "stop");
  EXPECT_EQ(out.body["light"], "stop");
  const Told after = w.record("c", "16.01");
  EXPECT_EQ(after.body["verdict"], "check");
  EXPECT_EQ(after.body["light"], "watch");
}

// The bound is what a hand does not notice. Of twenty in a row the slowest may be one that the machine kept waiting.
TEST(RecordCall, TwentySingleReadingsInARowAreAnsweredAtOnce) {
  WrenfieldBench w;
  w.desk.plan();
  std::vector<double> ms;
  for (int k = 0; k < 20; ++k) {
    const auto begin = std::chrono::steady_clock::now();
    ASSERT_EQ(w.record("k-" + std::to_string(k), "16.01").status, 200);
    ms.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin).count());
  }
  std::sort(ms.begin(), ms.end());
  std::printf("one reading: median %.1f ms, slowest %.1f ms\n", ms[10], ms[19]);
  EXPECT_LT(ms[10], 100);
}

TEST(ChangeCall, CorrectsWithdrawsAndIsWrittenOnceWhenItIsSentTwice) {
  WrenfieldBench w;
  const auto id = w.record("a", "16.20").body["stored"][0]["id"];
  const Json right = {{"id", id}, {"value", "16.02 mm"}, {"by", "Ada"}, {"note", "misread"}};
  const Told told = w.post("/api/record/change", right), again = w.post("/api/record/change", right);
  ASSERT_EQ(told.status, 200) << told.body;
  EXPECT_EQ(told.body["changed"]["value_mm"], 16.02);
  EXPECT_EQ(told.body["changed"]["was_there"], false);
  EXPECT_EQ(told.body["readings"][0]["value_mm"], 16.02);
  EXPECT_EQ(told.body["light"], "go");
  EXPECT_EQ(again.body["changed"]["was_there"], true);
  EXPECT_EQ(again.body["changed"]["entry"], told.body["changed"]["entry"]);
  EXPECT_EQ(w.kept()[0].changes.size(), 1u);
  const Told gone = w.post("/api/record/change", {{"id", id}, {"value", nullptr}, {"note", "chip"}});
  ASSERT_EQ(gone.status, 200) << gone.body;
  EXPECT_TRUE(gone.body["changed"]["value_mm"].is_null());
  EXPECT_TRUE(gone.body["readings"].empty());
  EXPECT_EQ(gone.body["not_counted"][0]["id"], id);
  EXPECT_EQ(gone.body["light"], "unknown");
  EXPECT_EQ(w.kept()[0].changes.size(), 2u);
  // Said anew after something else was said in between, it is a new change.
  w.post("/api/record/change", right);
  EXPECT_EQ(w.kept()[0].changes.size(), 3u);
}

TEST(ChangeCall, WhatIsWrongIsToldWithItsKeyAndWritesNothing) {
  WrenfieldBench w;
  EXPECT_EQ(w.post("/api/record/change", {{"id", 1}, {"value", nullptr}}).body["where"], "id");
  EXPECT_FALSE(std::filesystem::exists(w.ledger));
  const auto id = w.record("a", "16.02").body["stored"][0]["id"];
  const std::vector<std::pair<Json, std::string>> cases = {
      {{{"id", 99}, {"value", "16.02"}}, "id"},       {{{"id", "1"}, {"value", "16.02"}}, "id"},
      {{{"id", 0}, {"value", "16.02"}}, "id"},        {{{"id", id}}, "value"},
      {{{"id", id}, {"value", 16.02}}, "value"},      {{{"id", id}, {"value", ""}}, "value"},
      {{{"id", id}, {"value", "26.02"}}, "value"},    {{{"value", "16.02"}}, "id"},
      {{{"id", id}, {"value", "16"}, {"x", 1}}, "x"}, {Json(nullptr), ""}};
  for (const auto& [body, where] : cases) {
    const Told told = w.post("/api/record/change", body);
    EXPECT_EQ(told.status, 422) << body;
    EXPECT_EQ(told.body["where"], where) << body << told.body;
  }
  EXPECT_EQ(w.post("/api/record/change", {{"id", id}, {"value", "banana"}}).status, 422);
  EXPECT_TRUE(w.kept()[0].changes.empty());
}

TEST(ReadingsCall, AnAbsentLedgerHasNoReadingsYetAndIsNotMade) {
  WrenfieldBench w;
  const Told told = w.get("/api/readings");
  ASSERT_EQ(told.status, 200) << told.body;
  EXPECT_TRUE(told.body["ledger"].is_null());
  EXPECT_EQ(told.body["says"], "No readings yet.");
  EXPECT_EQ(told.body["stops"].size(), all_places(w.desk.plan()).size());
  for (const Json& stop : told.body["stops"]) EXPECT_EQ(stop["light"], "unknown");
  const Reply table = w.desk.reply("GET", "/api/readings.csv", {{"batch", "batch.toml"}});
  EXPECT_EQ(table.status, 200);
  EXPECT_EQ(std::count(table.body.begin(), table.body.end(), '\n'), 1);
  EXPECT_TRUE(w.get("/api/ledger/events").body["truings"].empty());
  EXPECT_FALSE(std::filesystem::exists(w.ledger));
}

TEST(ReadingsCall, SaysOfEveryStopWhatHistorySays) {
  WrenfieldBench w;
  for (int k = 0; k < 12; ++k) w.record("a" + std::to_string(k), k % 2 ? "16.01" : "16.02");
  w.record("b", "15.99", {{"stop", 2}});
  const Told told = w.get("/api/readings");
  const auto history = history_answer(w.desk.plan(), w.ledger, "", 0);
  const Json verb = history_json(w.desk.plan(), history.value());
  ASSERT_EQ(verb["stops"].size(), 2u);
  for (const Json& theirs : verb["stops"]) {
    const auto ours = std::find_if(told.body["stops"].begin(), told.body["stops"].end(), [&](const Json& s) {
      return s["setup"] == theirs["setup"] && s["stop"] == theirs["stop"];
    });
    ASSERT_NE(ours, told.body["stops"].end());
    for (const auto& [key, value] : theirs.items()) {
      if (key != "readings") {
        EXPECT_EQ((*ours)[key], value) << key;
        continue;
      }
      ASSERT_EQ((*ours)[key].size(), value.size());
      for (std::size_t i = 0; i < value.size(); ++i) {
        EXPECT_EQ((*ours)[key][i]["place"], i);
        for (const auto& [name, field] : value[i].items()) EXPECT_EQ((*ours)[key][i][name], field) << name;
      }
    }
  }
  EXPECT_EQ(told.body["ledger"], "batch.ledger");
  EXPECT_EQ(w.get("/api/readings", {{"setup", "3"}, {"stop", "2"}}).body["stops"].size(), 1u);
  EXPECT_EQ(w.get("/api/readings", {{"setup", "3"}, {"stop", "9"}}).body["where"], "stop");
  EXPECT_EQ(w.get("/api/readings", {{"setup", "x"}}).body["where"], "setup");
  EXPECT_EQ(w.get("/api/readings", {{"stop", "-1"}}).body["where"], "stop");
}

TEST(ReadingsCall, FindKeepsTheReadingsThatSpeakOfItAndLeavesTheNumbersAlone) {
  WrenfieldBench w;
  w.record("a", "16.00", {{"by", "Ada"}});
  w.record("b", "16.01", {{"by", "Ben"}, {"stick", "A7"}});
  w.record("c", "16.02", {{"wood", "walnut"}, {"note", "After Ada's lunch"}});
  const auto found = [&](const std::string& text) {
    const Json body = w.get("/api/readings", {{"setup", "3"}, {"stop", "1"}, {"find", text}}).body;
    std::vector<double> values;
    for (const Json& r : body["stops"][0]["readings"]) values.push_back(r["value_mm"]);
    EXPECT_NEAR(body["stops"][0]["mean"], 16.01, 1e-9);
    return values;
  };
  EXPECT_EQ(found("ada"), (std::vector<double>{16.00, 16.02}));
  EXPECT_EQ(found("A7"), (std::vector<double>{16.01}));
  EXPECT_EQ(found("walnut"), (std::vector<double>{16.02}));
  EXPECT_EQ(found("micrometer").size(), 3u);
  EXPECT_TRUE(found("nobody").empty());
}

TEST(ReadingsCall, TheTableIsTheVerbsAndComesAsAFile) {
  WrenfieldBench w;
  w.record("a", "16.02", {{"note", "a comma, \"quoted\""}});
  const Reply table = w.desk.reply("GET", "/api/readings.csv", {{"batch", "batch.toml"}});
  EXPECT_EQ(table.status, 200);
  EXPECT_EQ(table.type, "text/csv; charset=utf-8");
  EXPECT_EQ(table.body, history_csv(history_answer(w.desk.plan(), w.ledger, "", 0).value()));
  ASSERT_EQ(table.headers.size(), 1u);
  EXPECT_EQ(table.headers[0].first, "Content-Disposition");
  EXPECT_EQ(table.headers[0].second, "attachment; filename=\"batch-readings.csv\"");
}

// A server that records calls of five readings each, acknowledges each through a pipe, and is killed some time.
struct Killed {
  int acknowledged = 0;  // calls
};
Killed killed_while_recording(const Wrenfield& w, int round, int after_us) {
  int pipe_ends[2] = {};
  EXPECT_EQ(pipe(pipe_ends), 0);
  const pid_t server = fork();
  if (server == 0) {
    close(pipe_ends[0]);
    CallDesk desk(w.s.path);
    desk.plan();
    for (int call = 0;; ++call) {
      Json readings = Json::array();
      for (int k = 0; k < 5; ++k)
        readings.push_back(one(std::to_string(round) + "-" + std::to_string(call) + "-" + std::to_string(k), "16.01"));
      const Told told = desk.post("/api/record", {{"setup", "3"}, {"stop", 1}, {"readings", readings}});
      if (told.status != 200 || write(pipe_ends[1], "+", 1) != 1) _exit(1);
    }
  }
  close(pipe_ends[1]);
  Killed out;
  char mark = 0;
  if (read(pipe_ends[0], &mark, 1) == 1) ++out.acknowledged;  // it is recording
  usleep(static_cast<useconds_t>(after_us));
  kill(server, SIGKILL);
  while (read(pipe_ends[0], &mark, 1) == 1) ++out.acknowledged;
  close(pipe_ends[0]);
  int status = 0;
  waitpid(server, &status, 0);
  EXPECT_TRUE(WIFSIGNALED(status));
  return out;
}

TEST(RecordCall, AServerKilledInTheMiddleOfACallLeavesEveryCallWholeOrNotThere) {
  const Wrenfield w;
  std::mt19937 random(7);
  std::map<std::string, int> calls;  // readings by call
  for (int round = 0; round < 5; ++round) {
    const Killed killed = killed_while_recording(w, round, static_cast<int>(random() % 20000));
    ASSERT_GE(killed.acknowledged, 1);
    Ledger ledger = Ledger::open(w.ledger).take();
    calls.clear();
    const std::vector<KeptReading> kept = ledger.readings().take();
    for (const KeptReading& k : kept) ++calls[k.reading.client_key.substr(0, k.reading.client_key.rfind('-'))];
    for (const auto& [call, readings] : calls) EXPECT_EQ(readings, 5) << call;
    for (int call = 0; call < killed.acknowledged; ++call)
      EXPECT_TRUE(calls.contains(std::to_string(round) + "-" + std::to_string(call)));
    EXPECT_FALSE(calls.contains(std::to_string(round) + "-" + std::to_string(killed.acknowledged + 1)));
  }
}

}  // namespace
}  // namespace stickwright
