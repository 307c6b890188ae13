#include "ledger/ledger.h"

#include <gtest/gtest.h>

#include <thread>

#include "ledger/raw_ledger.h"
#include "support/scratch.h"

namespace stickwright {
namespace {

Ledger opened(const std::filesystem::path& file, const LedgerLimits& limits = {}) {
  auto ledger = Ledger::open(file, limits);
  if (!ledger) throw std::runtime_error(ledger.problem().say);
  return ledger.take();
}

TEST(LedgerPath, IsBesideTheBatch) {
  EXPECT_EQ(ledger_path("spring/batch.toml"), "spring/batch.ledger");
  EXPECT_EQ(ledger_path("batch"), "batch.ledger");
}

TEST(Ledger, KeepsEverythingThatIsSaidOfAReading) {
  const Scratch s("ledger");
  Reading r = reading(16'020'001);
  r.stop = 2;
  r.stick = "A 3";
  r.wood = "walnut";
  r.instrument = "caliper";
  r.by = "Kim";
  r.note = "after the coffee, \"warm\"; DROP TABLE readings";
  r.entered = Entered::csv;
  r.taken_at = "2031-02-04";
  r.client_key = "k1";
  const auto stored = opened(s.path / "b.ledger").add_readings(std::vector{r, reading(5)}).take();
  ASSERT_EQ(stored.size(), 2u);
  EXPECT_EQ(stored[0].id, 1);
  EXPECT_EQ(stored[1].id, 2);
  const auto kept = opened(s.path / "b.ledger").readings().take();
  ASSERT_EQ(kept.size(), 2u);
  EXPECT_EQ(kept[0].at, stored[0].at);
  EXPECT_EQ(kept[0].at.size(), std::string("2031-02-04T18:30:05.123Z").size());
  const Reading& k = kept[0].reading;
  EXPECT_EQ(
      std::tie(k.set_up, k.stop, k.value.v, k.stick, k.wood, k.instrument, k.by, k.note, k.taken_at, k.client_key),
      std::tie(r.set_up, r.stop, r.value.v, r.stick, r.wood, r.instrument, r.by, r.note, r.taken_at, r.client_key));
  EXPECT_EQ(k.entered, Entered::csv);
}

TEST(Ledger, ReadingsOfAStopAreItsOwn) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  ASSERT_TRUE(ledger.add_readings(std::vector{reading(1), reading(2, "prism"), reading(3, "prism", 2), reading(4)}));
  const auto kept = ledger.readings_of("prism", 2).take();
  ASSERT_EQ(kept.size(), 1u);
  EXPECT_EQ(kept[0].reading.value.v, 3);
  EXPECT_EQ(ledger.readings_of("squat-octahedron", 1).value().size(), 2u);
}

TEST(Ledger, ACorrectionIsANewEntryAndTheOldValueStays) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  ASSERT_TRUE(ledger.add_readings(std::vector{reading(100), reading(200)}));
  const auto first = ledger.correct(1, Nm{111}, "Kim", "misread").take();
  ASSERT_TRUE(ledger.correct(first.id, Nm{112}, "", "")) << "by the number of the correction";
  ASSERT_TRUE(ledger.withdraw(2, "", "chip"));
  auto kept = ledger.readings().take();
  ASSERT_EQ(kept.size(), 2u);
  EXPECT_EQ(kept[0].reading.value.v, 100);
  ASSERT_EQ(kept[0].changes.size(), 2u);
  EXPECT_EQ(kept[0].changes[0].note, "misread");
  EXPECT_EQ(kept[0].value()->v, 112);
  EXPECT_FALSE(kept[1].value());
  ASSERT_TRUE(ledger.correct(2, Nm{201}, "", "was good after all"));
  kept = ledger.readings().take();
  EXPECT_EQ(kept[1].value()->v, 201);
  EXPECT_EQ(ledger.correct(99, Nm{1}, "", "").problem().code, "unknown_entry");
  EXPECT_EQ(ledger.withdraw(0, "", "").problem().code, "unknown_entry");
}

TEST(Ledger, TruingsAndLeaves) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  Truing t;
  t.miter.value = 1e-4;
  t.miter.u = 2e-5;
  t.pitch.value = -3e-4;
  t.pitch.u = 4e-5;
  t.by = "Kim";
  ASSERT_TRUE(ledger.add_truing(t));
  ASSERT_TRUE(ledger.add_leaf({"prism", 2, Nm{40'000}, "Kim", "over by 0.03"}));
  const auto truings = ledger.truings().take();
  ASSERT_EQ(truings.size(), 1u);
  EXPECT_EQ(truings[0].truing.miter.value, 1e-4);
  EXPECT_EQ(truings[0].truing.miter.u, 2e-5);
  EXPECT_EQ(truings[0].truing.pitch.value, -3e-4);
  EXPECT_EQ(truings[0].truing.pitch.u, 4e-5);
  EXPECT_FALSE(truings[0].withdrawn);
  EXPECT_EQ(ledger.correct(2, Nm{5}, "", "").problem().code, "unknown_entry") << "a leaf is no reading";
  ASSERT_TRUE(ledger.withdraw(2, "", "taken out"));
  const auto leaves = ledger.leaves_applied().take();
  ASSERT_EQ(leaves.size(), 1u);
  EXPECT_EQ(leaves[0].leaf.thickness.v, 40'000);
  EXPECT_EQ(leaves[0].leaf.stop, 2);
  EXPECT_TRUE(leaves[0].withdrawn);
}

TEST(Ledger, TheSameKeySentTwiceIsStoredOnce) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  Reading r = reading(100);
  r.client_key = "phone-1";
  const auto first = ledger.add_readings(std::vector{r}).take();
  const auto again = ledger.add_readings(std::vector{r, reading(7)}).take();
  EXPECT_EQ(again[0].id, first[0].id);
  EXPECT_EQ(again[0].at, first[0].at);
  EXPECT_TRUE(again[0].was_there);
  EXPECT_FALSE(again[1].was_there);
  EXPECT_EQ(ledger.readings().value().size(), 2u);
}

TEST(Ledger, OnlyTextThatCanBeShownIsKept) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  for (const std::string& bad :
       {std::string("\xff"), std::string("two\nlines"), std::string("a\0b", 3), std::string(1001, 'x')}) {
    Reading r = reading(1);
    r.note = bad;
    EXPECT_EQ(ledger.add_readings(std::vector{reading(2), r}).problem().code, "bad_text");
    EXPECT_EQ(ledger.add_leaf({"prism", 1, Nm{1}, "", bad}).problem().code, "bad_text");
    EXPECT_EQ(ledger.withdraw(1, bad, "").problem().code, "bad_text");
  }
  EXPECT_TRUE(ledger.readings().value().empty());
  Reading r = reading(1);
  r.note = "\xC3\xA4 \xE2\x80\xB3";
  EXPECT_TRUE(ledger.add_readings(std::vector{r}));
}

TEST(Ledger, NothingCanBeChangedOrDeletedEvenByAnotherProgram) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  ASSERT_TRUE(ledger.add_readings(std::vector{reading(100)}));
  ASSERT_TRUE(ledger.correct(1, Nm{101}, "", ""));
  ASSERT_TRUE(ledger.add_truing({}));
  ASSERT_TRUE(ledger.add_leaf({"prism", 1, Nm{1}, "", ""}));
  SQLite::Database db = raw(s.path / "b.ledger");
  for (const char* table : {"entries", "readings", "changes", "truings", "leaves"}) {
    EXPECT_THROW(db.exec(std::string("UPDATE ") + table + " SET id = id"), SQLite::Exception) << table;
    EXPECT_THROW(db.exec(std::string("DELETE FROM ") + table), SQLite::Exception) << table;
  }
  EXPECT_EQ(ledger.readings().value().size(), 1u);
}

TEST(Ledger, TablesAreStrictAndTheJournalIsAsPromised) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  SQLite::Database db = raw(s.path / "b.ledger");
  EXPECT_EQ(db.execAndGet("PRAGMA journal_mode").getString(), "wal");
  EXPECT_EQ(db.execAndGet("PRAGMA user_version").getInt(), static_cast<int>(ledger_migrations().size()));
  EXPECT_EQ(db.execAndGet("SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND "
                          "name NOT LIKE 'sqlite%' AND strict = 0")
                .getInt(),
            0);
  EXPECT_THROW(db.exec("INSERT INTO entries VALUES (1, 'now', 'reading', 2, x'00')"), SQLite::Exception);
}

TEST(Ledger, AFileOfVersion1IsBroughtUpToDateAndLosesNothing) {
  const Scratch s("ledger");
  const auto file = s.path / "b.ledger";
  make_version_1(file);
  {
    SQLite::Database db = raw(file);
    EXPECT_THROW(db.exec("SELECT client_key FROM readings"), SQLite::Exception) << "version 1 has no keys";
    db.exec("INSERT INTO entries VALUES (1, '2030-01-01T10:00:00.000Z', 'reading', 'Kim', 'old')");
    db.exec("INSERT INTO readings VALUES (1, 'prism', 1, 16020000, 'A', 'walnut', 'caliper', 'typed')");
    db.exec("INSERT INTO entries VALUES (2, '2030-01-01T10:01:00.000Z', 'change', '', '')");
    db.exec("INSERT INTO changes VALUES (2, 1, 16030000)");
  }
  Ledger ledger = opened(file);
  const auto kept = ledger.readings().take();
  ASSERT_EQ(kept.size(), 1u);
  EXPECT_EQ(kept[0].at, "2030-01-01T10:00:00.000Z");
  EXPECT_EQ(kept[0].reading.by, "Kim");
  EXPECT_EQ(kept[0].reading.value.v, 16'020'000);
  EXPECT_EQ(kept[0].value()->v, 16'030'000);
  EXPECT_EQ(kept[0].reading.client_key, "");
  Reading r = reading(5);
  r.client_key = "new";
  EXPECT_EQ(ledger.add_readings(std::vector{r}).value()[0].id, 3);
}

TEST(Ledger, AFileOfVersion2KeepsItsKeysAndIsStillProtected) {
  const Scratch s("ledger");
  const auto file = s.path / "b.ledger";
  make_version_1(file);
  {
    SQLite::Database db = raw(file);
    db.exec(ledger_migrations()[1]);
    db.exec("PRAGMA user_version = 2");
    for (const char* id : {"1", "2"}) {
      db.exec(std::string("INSERT INTO entries VALUES (") + id + ", '2030-01-01T10:00:00.000Z', 'reading', '', '')");
      db.exec(std::string("INSERT INTO readings VALUES (") + id +
              ", 'prism', 2, 16020000, 'A', 'walnut', 'caliper', 'csv', '2029-12-31', 'key-" + id + "')");
    }
    db.exec("INSERT INTO entries VALUES (3, '2030-01-01T10:01:00.000Z', 'change', '', '')");
    db.exec("INSERT INTO changes VALUES (3, 2, null)");
  }
  Ledger ledger = opened(file);
  const auto kept = ledger.readings_of("prism", 2).take();
  ASSERT_EQ(kept.size(), 2u);
  EXPECT_EQ(kept[0].reading.taken_at, "2029-12-31");
  EXPECT_EQ(kept[0].reading.client_key, "key-1");
  EXPECT_EQ(kept[0].reading.side, 0);
  EXPECT_EQ(kept[0].reading.block, 0);
  EXPECT_FALSE(kept[1].value());
  Reading again = reading(7);
  again.client_key = "key-2";
  EXPECT_TRUE(ledger.add_readings(std::vector{again}).value()[0].was_there);
  SQLite::Database db = raw(file);
  EXPECT_THROW(db.exec("UPDATE readings SET id = id"), SQLite::Exception);
  EXPECT_THROW(db.exec("DELETE FROM readings"), SQLite::Exception);
  EXPECT_EQ(db.execAndGet("PRAGMA integrity_check").getString(), "ok");
  EXPECT_EQ(db.execAndGet("SELECT count(*) FROM pragma_foreign_key_check").getInt(), 0);
}

Reading width(std::int64_t nm, int side, int block, const std::string& wood = "walnut") {
  Reading r = reading(nm);
  r.stop = 0;
  r.side = side, r.block = block, r.wood = wood;
  return r;
}

TEST(Ledger, WidthsAreReadingsOfTheirOwn) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  ASSERT_TRUE(ledger.add_readings(std::vector{reading(1), width(2, 1, 5), width(3, 2, 5)}));
  ASSERT_TRUE(ledger.correct(2, Nm{4}, "", ""));
  EXPECT_EQ(ledger.readings_of("squat-octahedron", 1).value().size(), 1u);
  const auto first = ledger.readings_of("squat-octahedron", 0, 1).take();
  ASSERT_EQ(first.size(), 1u);
  EXPECT_EQ(first[0].value()->v, 4);
  EXPECT_EQ(first[0].reading.block, 5);
  SQLite::Database db = raw(s.path / "b.ledger");
  EXPECT_THROW(db.exec("INSERT INTO readings SELECT 9, set_up, 1, 1, 1, '', '', '', 'typed', null, null, null FROM "
                       "readings LIMIT 1"),
               SQLite::Exception)
      << "of a stop and a width at once";
}

TEST(Ledger, NumbersOfBlocksGoOnInEachSetUpAndWood) {
  const Scratch s("ledger");
  Ledger ledger = opened(s.path / "b.ledger");
  const auto numbers = [&](const std::vector<Reading>& readings) {
    std::vector<int> out;
    const auto stored = ledger.add_readings(readings).take();
    for (const Stored& one : stored) out.push_back(one.block);
    return out;
  };
  EXPECT_EQ(numbers({width(1, 1, kNextBlock), width(1, 2, kSameBlock), width(1, 1, kNextBlock)}),
            (std::vector<int>{1, 1, 2}));
  EXPECT_EQ(numbers({width(1, 1, kNextBlock, "cherry"), width(1, 1, 30), width(1, 2, kNextBlock), reading(1)}),
            (std::vector<int>{1, 30, 31, 0}));
}

// Each counts on from what the other has written.
TEST(Ledger, TwoWritersNeverGiveTwoBlocksOneNumber) {
  const Scratch s("ledger");
  const auto file = s.path / "b.ledger";
  {
    std::vector<std::jthread> writers;
    for (int w = 0; w < 2; ++w)
      writers.emplace_back([&] {
        Ledger ledger = opened(file);
        for (int i = 0; i < 40; ++i) EXPECT_TRUE(ledger.add_readings(std::vector{width(1, 1, kNextBlock)}));
      });
  }
  std::vector<int> numbers;
  const std::vector<KeptReading> kept = opened(file).readings().take();
  for (const KeptReading& k : kept) numbers.push_back(k.reading.block);
  std::sort(numbers.begin(), numbers.end());
  ASSERT_EQ(numbers.size(), 80u);
  for (int i = 0; i < 80; ++i) EXPECT_EQ(numbers[static_cast<std::size_t>(i)], i + 1);
}

TEST(Ledger, AFileOfALaterVersionIsLeftAlone) {
  const Scratch s("ledger");
  const auto file = s.path / "b.ledger";
  ASSERT_TRUE(opened(file).add_readings(std::vector{reading(1)}));
  raw(file).exec("PRAGMA user_version = 99");
  const std::string before = slurp(file);
  EXPECT_EQ(code_of(Ledger::open(file)), "newer_ledger");
  EXPECT_EQ(slurp(file), before);
}

TEST(Ledger, WhatIsNoLedgerIsLeftAlone) {
  const Scratch s("ledger");
  const std::string text = s.write("text.ledger", std::string(5000, 'x'));
  EXPECT_EQ(code_of(Ledger::open(text)), "bad_ledger");
  EXPECT_EQ(slurp(text), std::string(5000, 'x'));
  raw(s.path / "other.ledger").exec("CREATE TABLE songs(name)");
  const std::string before = slurp(s.path / "other.ledger");
  EXPECT_EQ(code_of(Ledger::open(s.path / "other.ledger")), "bad_ledger");
  EXPECT_EQ(slurp(s.path / "other.ledger"), before);
  std::filesystem::create_directory(s.path / "folder.ledger");
  EXPECT_EQ(code_of(Ledger::open(s.path / "folder.ledger")), "bad_ledger");
}

TEST(Ledger, AnEmptyFileBecomesALedger) {
  const Scratch s("ledger");
  EXPECT_TRUE(opened(s.write("b.ledger", "")).add_readings(std::vector{reading(1)}));
}

TEST(Ledger, WhereNothingCanBeWrittenIsSaid) {
  const Scratch s("ledger");
  EXPECT_EQ(code_of(Ledger::open(s.path / "no" / "such" / "b.ledger")), "cannot_write");
  EXPECT_EQ(code_of(Ledger::open("/proc/b.ledger")), "cannot_write");
}

// The superuser may write anything: such a run goes on as nobody for a moment.
TEST(Ledger, AReadOnlyFolderIsSaid) {
  const Scratch s("ledger");
  std::filesystem::permissions(s.path, std::filesystem::perms::owner_read | std::filesystem::perms::owner_exec |
                                           std::filesystem::perms::others_read | std::filesystem::perms::others_exec);
  const bool superuser = ::geteuid() == 0;
  if (superuser) {
    ASSERT_EQ(::seteuid(65534), 0);
  }
  const std::string code = code_of(Ledger::open(s.path / "b.ledger"));
  if (superuser) {
    ASSERT_EQ(::seteuid(0), 0);
  }
  EXPECT_EQ(code, "cannot_write");
  EXPECT_FALSE(std::filesystem::exists(s.path / "b.ledger"));
  std::filesystem::permissions(s.path, std::filesystem::perms::owner_all);
}

TEST(Ledger, ADamagedFileIsSaid) {
  const Scratch s("ledger");
  const auto file = s.path / "b.ledger";
  ASSERT_TRUE(opened(file).add_readings(std::vector<Reading>(500, reading(1))));
  std::string bytes = slurp(file);
  ASSERT_GT(bytes.size(), 20'000u);
  for (std::size_t i = 4096; i < bytes.size(); ++i) bytes[i] = '\x5a';
  s.write("b.ledger", bytes);
  auto ledger = Ledger::open(file);
  EXPECT_EQ(ledger ? ledger.take().readings().problem().code : ledger.problem().code, "bad_ledger");
}

TEST(Ledger, AFullDiskStoresAllOfACallOrNothing) {
  const Scratch s("ledger");
  const auto file = s.path / "b.ledger";
  ASSERT_TRUE(opened(file).add_readings(std::vector<Reading>(10, reading(1))));
  const auto pages = raw(file).execAndGet("PRAGMA page_count").getInt64();
  Ledger ledger = opened(file, {.most_pages = pages + 4});
  const auto refused = ledger.add_readings(std::vector<Reading>(5000, reading(2)));
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.problem().code, "cannot_write");
  EXPECT_NE(refused.problem().say.find("full"), std::string::npos) << refused.problem().say;
  EXPECT_EQ(ledger.readings().value().size(), 10u);
  EXPECT_TRUE(ledger.add_readings(std::vector{reading(3)})) << "there is room for one";
  EXPECT_EQ(raw(file).execAndGet("PRAGMA integrity_check").getString(), "ok");
}

TEST(Ledger, AFileThatAnotherProgramHoldsIsSaidAfterTheWaiting) {
  const Scratch s("ledger");
  const auto file = s.path / "b.ledger";
  Ledger ledger = opened(file, {.wait_ms = 50});
  SQLite::Database db = raw(file);
  db.exec("BEGIN IMMEDIATE");
  EXPECT_EQ(ledger.add_readings(std::vector{reading(1)}).problem().code, "locked");
  db.exec("COMMIT");
  EXPECT_TRUE(ledger.add_readings(std::vector{reading(1)}));
}

// Each has its own connection, as two programs would; they also race to make the file.
TEST(Ledger, ManyWritersAtOnceAllFindTheirReadingsStored) {
  const Scratch s("ledger");
  const auto file = s.path / "b.ledger";
  {
    std::vector<std::jthread> writers;
    for (int w = 0; w < 4; ++w)
      writers.emplace_back([&, w] {
        Ledger ledger = opened(file);
        for (int i = 1; i <= 50; ++i) EXPECT_TRUE(ledger.add_readings(std::vector{reading(1000 * (w + 1) + i)}));
      });
  }
  std::vector<std::int64_t> values;
  const auto kept = opened(file).readings().take();
  for (const KeptReading& k : kept) values.push_back(k.reading.value.v);
  ASSERT_EQ(values.size(), 200u);
  std::sort(values.begin(), values.end());
  for (int w = 0; w < 4; ++w)
    for (int i = 1; i <= 50; ++i) EXPECT_EQ(values[50 * w + i - 1], 1000 * (w + 1) + i);
}

}  // namespace
}  // namespace stickwright
