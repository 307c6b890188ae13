// What is advised at a stop and for the saw, and the history: the same from a file, from memory and from the ledger.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "answers/correct_answer.h"
#include "answers/history_answer.h"
#include "answers/record_answer.h"
#include "answers/small_plan.h"
#include "answers/truing_answer.h"
#include "answers/truing_readings.h"

namespace stickwright {
namespace {

StopPlace octahedron() {
  return find_stop(small_plan(), "squat-octahedron", 1).value();
}

void record(const LedgerFolder& f, const std::string& line) {
  const RecordDesk desk = record_desk(small_plan(), {octahedron()}, {}).take();
  Ledger ledger = f.open();
  ASSERT_TRUE(record_readings(ledger, desk, read_line(desk, line).value()));
}

TEST(CorrectAnswer, ReadingsOfTheLedgerSayWhatTheySayWhenGiven) {
  const LedgerFolder f;
  const auto given = measured_as_typed(small_plan(), octahedron(), {"16.10", "16,12 mm"});
  ASSERT_TRUE(given);
  const auto from_given = correct_answer(small_plan(), f.ledger, octahedron(), given.value());
  EXPECT_FALSE(f.exists());
  record(f, "16.10 16.12");
  const auto from_ledger = correct_answer(small_plan(), f.ledger, octahedron(), {});
  ASSERT_TRUE(from_given && from_ledger);
  EXPECT_EQ(from_ledger.value().readings, 2);
  EXPECT_NEAR(from_ledger.value().mean_mm, 16.11, 1e-12);
  EXPECT_EQ(correction_json(small_plan(), from_given.value()), correction_json(small_plan(), from_ledger.value()));
}

TEST(CorrectAnswer, WithoutReadingsThereIsNothingToSay) {
  const LedgerFolder f;
  EXPECT_EQ(correct_answer(small_plan(), f.ledger, octahedron(), {}).problem().code, "no_readings");
  EXPECT_EQ(measured_as_typed(small_plan(), octahedron(), {"16.1", "12"}).problem().code, "bad_reading");
}

TEST(CorrectAnswer, ALeafThatIsKeptBeginsTheReadingsAnewAndNoLeafWritesNothing) {
  const LedgerFolder f;
  const auto leave = correct_answer(small_plan(), f.ledger, octahedron(), {Mm{16}});
  ASSERT_EQ(leave.value().correction.advice, StopAdvice::leave);
  const auto nothing = keep_correction(f.ledger, leave.value(), "", "");
  EXPECT_TRUE(nothing && !nothing.value());
  EXPECT_FALSE(f.exists());

  record(f, "16.10 16.12");
  const auto shim = correct_answer(small_plan(), f.ledger, octahedron(), {});
  ASSERT_EQ(shim.value().correction.advice, StopAdvice::shim);
  const auto stored = keep_correction(f.ledger, shim.value(), "Kim", "");
  ASSERT_TRUE(stored && stored.value());
  EXPECT_EQ(f.open().leaves_applied().value()[0].leaf.thickness, shim.value().correction.shim.total);
  EXPECT_EQ(correct_answer(small_plan(), f.ledger, octahedron(), {}).problem().code, "no_readings");
}

constexpr const char* kTwoReadings =
    "format = 1\n[[reading]]\nof = \"point\"\ngap = \"0.04 mm\"\nlight = \"ends\"\nover = \"60 mm\"\n"
    "[[reading]]\nof = \"blade\"\ngap = \"0.02 mm\"\nlight = \"top\"\nover = \"50 mm\"\n";

TEST(TruingReadings, AreTheSameFromAFileAndFromMemoryBehindTheGaps) {
  const LedgerFolder f;
  const Caliper& caliper = small_plan().batch.shop.caliper;
  TruingTexts from_file;
  from_file.gaps = {"0.1 mm"}, from_file.over = "60 mm", from_file.u = "0.01 mm";
  from_file.file = f.s.write("truing.toml", kTwoReadings);
  TruingTexts from_memory = from_file;
  from_memory.file = "what was sent", from_memory.text = kTwoReadings;
  const auto a = truing_readings(from_file, caliper), b = truing_readings(from_memory, caliper);
  ASSERT_TRUE(a && b);
  ASSERT_EQ(a.value().size(), 3u);
  ASSERT_EQ(b.value().size(), 3u);
  // Light at the tip opens the point; at the ends it closes it.
  EXPECT_EQ(a.value()[0].measured, Mm{0.1});
  EXPECT_EQ(a.value()[1].measured, Mm{-0.04});
  EXPECT_EQ(a.value()[0].u, Mm{0.01});
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_EQ(a.value()[k].look, b.value()[k].look);
    EXPECT_EQ(a.value()[k].measured, b.value()[k].measured);
    EXPECT_EQ(a.value()[k].u, b.value()[k].u);
  }
}

TEST(TruingReadings, AMistakeInMemoryIsNamedAsAFileWouldBe) {
  TruingTexts t;
  t.file = "what was sent";
  t.text = "format = 1\n[[reading]]\nof = \"point\"\ngap = \"0.04\"\nlight = \"tip\"\nover = \"60 mm\"\n";
  const auto read = truing_readings(t, small_plan().batch.shop.caliper);
  ASSERT_FALSE(read);
  EXPECT_EQ(read.problem().where.rfind("what was sent:4", 0), 0u) << read.problem().where;
  EXPECT_EQ(truing_readings({}, small_plan().batch.shop.caliper).problem().code, "bad_option");
}

TEST(TruingAnswer, ContradictionsAreNotKept) {
  const LedgerFolder f;
  TruingTexts t;
  t.gaps = {"0.1 mm", "0.9 mm"}, t.over = "60 mm";
  const TruingAnswer torn =
      truing_answer(small_plan().batch, truing_readings(t, small_plan().batch.shop.caliper).value());
  EXPECT_TRUE(readings_contradict(torn));
  EXPECT_EQ(truing_json(torn)["contradict"], true);
  EXPECT_EQ(keep_truing(f.ledger, torn, "", "").problem().code, "readings_contradict");
  EXPECT_FALSE(f.exists());
  t.gaps = {"0.1 mm"};
  const TruingAnswer one =
      truing_answer(small_plan().batch, truing_readings(t, small_plan().batch.shop.caliper).value());
  ASSERT_TRUE(keep_truing(f.ledger, one, "Kim", ""));
  EXPECT_EQ(f.open().truings().value()[0].truing.miter.value, one.turn(Error::miter).remaining_rad);
}

TEST(HistoryAnswer, OfNoLedgerIsEmptyAndMakesNone) {
  const LedgerFolder f;
  const auto h = history_answer(small_plan(), f.ledger, "", 0);
  ASSERT_TRUE(h);
  EXPECT_TRUE(history_json(small_plan(), h.value())["ledger"].is_null());
  EXPECT_FALSE(f.exists());
  EXPECT_EQ(history_answer(small_plan(), f.ledger, "nosuch", 0).problem().code, "unknown_set_up");
}

TEST(HistoryAnswer, CountsReadingsOfSetUpsThatAreGone) {
  const LedgerFolder f;
  record(f, "16.10 16.12");
  Reading gone;
  gone.set_up = "no-such-block", gone.stop = 2, gone.value = Nm{12'000'000};
  ASSERT_TRUE(f.open().add_readings(std::vector{gone, gone, gone}));
  const auto all = history_answer(small_plan(), f.ledger, "", 0), one = history_answer(small_plan(), f.ledger, "2", 1);
  ASSERT_TRUE(all && one);
  ASSERT_EQ(all.value().gone.size(), 1u);
  EXPECT_EQ(all.value().gone[0].readings, 3u);
  EXPECT_EQ(all.value().gone[0].stop, 2);
  ASSERT_EQ(all.value().stops.size(), 1u);
  EXPECT_EQ(history_json(small_plan(), one.value())["readings"].size(), 2u);
  EXPECT_TRUE(one.value().gone.empty());
  const std::string table = history_csv(all.value());
  EXPECT_EQ(std::count(table.begin(), table.end(), '\n'), 3);  // the names of the columns, and two readings
}

}  // namespace
}  // namespace stickwright
