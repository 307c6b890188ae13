// Readings that a page or another program sends: stored once, with what is said of them, all of a call or nothing.
#include "answers/record_answer.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "answers/small_plan.h"
#include "wood/species.h"

namespace stickwright {
namespace {

struct Bench : LedgerFolder {
  RecordDesk desk(bool widths = false, const ReadingNotes& notes = {}) const {
    const auto places = places_to_record(small_plan(), "squat-octahedron", 0, widths);
    return record_desk(small_plan(), places.value(), notes).take();
  }
  Recorded send(const RecordDesk& at, const std::vector<SentReading>& sent) const {
    Ledger l = open();
    return record_readings(l, at, read_sent(at, sent).value()).take();
  }
  std::vector<KeptReading> kept() const { return open().readings().take(); }
  ChangedEntry change(const EntryChange& c) const { return change_entry(small_plan(), ledger, c).take(); }
};

SentReading sent(const std::string& text, const std::string& key = "") {
  SentReading s;
  s.text = text, s.client_key = key;
  return s;
}

TEST(RecordAnswer, KeepsWhatIsSaidOfOneEntryAndOfAll) {
  const Bench b;
  ReadingNotes all;
  all.by = "Kim", all.stick = "A", all.note = "first box";
  SentReading own = sent("16.02", "k1");
  own.stick = "B", own.wood = "cherry", own.note = "knot", own.taken_at = "2031-02-04T18:30:05Z", own.block = 7;
  b.send(b.desk(false, all), {own, sent("16,01 mm")});
  const std::vector<KeptReading> kept = b.kept();
  ASSERT_EQ(kept.size(), 2u);
  const Reading &first = kept[0].reading, &second = kept[1].reading;
  EXPECT_EQ(first.value, Nm{16'020'000});
  EXPECT_EQ(first.stick, "B");
  EXPECT_EQ(first.wood, "black cherry");
  EXPECT_EQ(first.note, "knot");
  EXPECT_EQ(first.taken_at, "2031-02-04T18:30:05Z");
  EXPECT_EQ(first.block, 7);
  EXPECT_EQ(first.by, "Kim");
  EXPECT_EQ(second.value, Nm{16'010'000});
  EXPECT_EQ(second.stick, "A");
  EXPECT_EQ(second.note, "first box");
  EXPECT_EQ(second.taken_at, "");
  EXPECT_EQ(second.block, 0);
}

TEST(RecordAnswer, ANumberedBlockHasTheOnlyWoodThereIs) {
  const Bench b;
  SentReading s = sent("16.02");
  s.block = 3;
  b.send(b.desk(), {s});
  EXPECT_EQ(b.kept()[0].reading.wood, find_species("walnut").value()->name);
}

TEST(RecordAnswer, TheSameKeySentTwiceIsStoredOnceAndToldAsItWasFirst) {
  const Bench b;
  const Recorded first = b.send(b.desk(), {sent("16.02", "k1")});
  const Recorded again = b.send(b.desk(), {sent("16.03", "k1"), sent("16.01", "k2")});
  EXPECT_EQ(b.kept().size(), 2u);
  EXPECT_FALSE(first.entries[0].stored.was_there);
  EXPECT_TRUE(again.entries[0].stored.was_there);
  EXPECT_EQ(again.entries[0].stored.id, first.entries[0].stored.id);
  EXPECT_EQ(again.entries[0].value, Nm{16'020'000});
  EXPECT_FALSE(again.entries[1].stored.was_there);
  const auto j = recorded_json(again);
  EXPECT_EQ(j["stored"][0]["was_there"], true);
  EXPECT_EQ(j["stored"][0]["value_mm"], 16.02);
  EXPECT_FALSE(j["stored"][1].contains("was_there"));
  EXPECT_EQ(j["readings"].size(), 2u);
}

TEST(RecordAnswer, AKeyOfAnotherStopTellsNoValue) {
  const Bench b;
  b.send(b.desk(), {sent("16.02", "k1")});
  const auto other = places_to_record(small_plan(), "1", 1, false);
  const RecordDesk desk = record_desk(small_plan(), other.value(), {}).take();
  const Recorded r = b.send(desk, {sent("16.00", "k1")});
  EXPECT_TRUE(r.entries[0].stored.was_there);
  EXPECT_FALSE(r.entries[0].value);
  EXPECT_EQ(b.kept().size(), 1u);
}

TEST(RecordAnswer, BothWidthsOfABlockHaveOneNumberAndKeysOfTheirOwn) {
  const Bench b;
  const std::vector<SentReading> blocks = {sent("15.98/16.01", "a"), sent("16.02/16.00", "b")};
  const Recorded first = b.send(b.desk(true), blocks), again = b.send(b.desk(true), blocks);
  const std::vector<KeptReading> kept = b.kept();
  ASSERT_EQ(kept.size(), 4u);
  EXPECT_EQ(kept[1].reading.client_key, "a/2");
  EXPECT_EQ(kept[1].reading.side, 2);
  const std::vector<int> numbers = {kept[0].reading.block, kept[1].reading.block, kept[2].reading.block,
                                    kept[3].reading.block};
  EXPECT_EQ(numbers, (std::vector<int>{1, 1, 2, 2}));
  for (const RecordedEntry& e : again.entries) EXPECT_TRUE(e.stored.was_there);
  const auto j = recorded_json(first);
  ASSERT_EQ(j["widths"].size(), 2u);
  EXPECT_EQ(j["widths"][1]["readings"][0]["value_mm"], 16.01);
}

TEST(RecordAnswer, NumbersCountOnFromTheFirstBlock) {
  const Bench b;
  ReadingNotes from_four;
  from_four.block = 4;
  b.send(b.desk(false, from_four), {sent("16.02"), sent("16.01 16.00"), sent("16.03")});
  std::vector<int> numbers;
  for (const KeptReading& k : b.kept()) numbers.push_back(k.reading.block);
  EXPECT_EQ(numbers, (std::vector<int>{4, 5, 6, 7}));
}

TEST(RecordAnswer, InchesAreTakenWhereTheyAreSaid) {
  const Bench b;
  ReadingNotes inches;
  inches.inches = true;
  b.send(b.desk(false, inches), {sent("0.63")});
  EXPECT_EQ(b.kept()[0].reading.value, Nm{16'002'000});  // 0.63 of 25.4 mm
}

TEST(RecordAnswer, OneBadEntryIsNamedByItsPlace) {
  const Bench b;
  const RecordDesk desk = b.desk();
  SentReading bad_time = sent("16.01"), bad_block = sent("16.01"), bad_wood = sent("16.01"),
              bad_key = sent("16", "a\nb");
  bad_time.taken_at = "yesterday", bad_block.block = -1, bad_wood.wood = "nosuchwood";
  const std::vector<std::pair<SentReading, std::string>> cases = {
      {sent("12"), "impossible_value"}, {sent("abc"), "bad_value"}, {sent(""), "no_readings"}, {bad_time, "bad_time"},
      {bad_block, "bad_block"},         {bad_wood, "unknown_wood"}, {bad_key, "bad_text"}};
  for (const auto& [bad, code] : cases) {
    const auto read = read_sent(desk, std::vector{sent("16.02"), bad});
    ASSERT_FALSE(read) << code;
    EXPECT_EQ(read.problem().code, code);
    EXPECT_EQ(read.problem().where, "entries[1]");
    EXPECT_NE(read.problem().say, "");
  }
  EXPECT_EQ(read_sent(desk, {}).problem().code, "no_readings");
}

TEST(RecordAnswer, ACorrectionAndAWithdrawalSayWhichReadingTheyAreAbout) {
  const Bench b;
  const Recorded r = b.send(b.desk(), {sent("16.20"), sent("16.01")});
  const EntryId id = r.entries[0].stored.id;
  const ChangedEntry corrected =
      b.change({.id = id, .withdraw = false, .value = "16.02", .by = "Kim", .note = "misread"});
  EXPECT_EQ(corrected.reading, id);
  EXPECT_EQ(corrected.recorded.entries[0].value, Nm{16'020'000});
  EXPECT_EQ(corrected.recorded.now.value()[0].all_mm(), (std::vector<double>{16.02, 16.01}));
  // By the number of the correction, too.
  const ChangedEntry withdrawn =
      b.change({.id = corrected.recorded.entries[0].stored.id, .withdraw = true, .value = "", .by = "", .note = ""});
  EXPECT_EQ(withdrawn.reading, id);
  EXPECT_FALSE(withdrawn.recorded.entries[0].value);
  EXPECT_EQ(withdrawn.recorded.now.value()[0].all_mm(), std::vector<double>{16.01});
}

TEST(RecordAnswer, WithoutALedgerThereIsNothingToChangeAndNoneIsMade) {
  const Bench b;
  const auto changed =
      change_entry(small_plan(), b.ledger, {.id = 1, .withdraw = true, .value = "", .by = "", .note = ""});
  ASSERT_FALSE(changed);
  EXPECT_EQ(changed.problem().code, "unknown_entry");
  EXPECT_FALSE(b.exists());
}

}  // namespace
}  // namespace stickwright
