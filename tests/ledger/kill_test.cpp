// The program is killed while it writes: what it acknowledged is there, and no call is stored by half.
#include <gtest/gtest.h>

#include <chrono>
#include <map>
#include <random>
#include <thread>

#include "ledger/child.h"
#include "ledger/raw_ledger.h"
#include "support/small_batch.h"

namespace stickwright {
namespace {

constexpr int kRuns = 51, kRunsWithOneFile = 17;
constexpr int kLines = 40, kMostOnALine = 4;

// Every value of all runs on one file is another: it tells its run, its line and its place on the line.
std::int64_t value_nm(int run, int line, int place) {
  return 15'000'000 + (run % kRunsWithOneFile) * 1000 + line * 10 + place;
}

struct Sent {
  std::string text;
  std::vector<std::vector<std::int64_t>> lines;  // nm
};

Sent lines_of(int run, std::mt19937& random) {
  Sent sent;
  for (int line = 0; line < kLines; ++line) {
    sent.lines.emplace_back();
    const int count = 1 + static_cast<int>(random() % kMostOnALine);
    for (int place = 0; place < count; ++place) {
      const std::int64_t nm = value_nm(run, line, place);
      sent.lines.back().push_back(nm);
      sent.text += std::to_string(nm / 1'000'000) + "." + std::to_string(1'000'000 + nm % 1'000'000).substr(1) + " ";
    }
    sent.text += "\n";
  }
  return sent;
}

// "stored 12: ...; stored 13: ...; mean ..." -> 12, 13
std::vector<EntryId> ids_in(const std::string& line) {
  std::vector<EntryId> ids;
  const std::string mark = "stored ";
  for (std::size_t at = line.find(mark); at != std::string::npos; at = line.find(mark, at + 1))
    ids.push_back(std::stoll(line.substr(at + mark.size())));
  return ids;
}

struct Outcome {
  bool killed = false;
  std::size_t lines_acknowledged = 0;
  std::map<EntryId, std::int64_t> acknowledged;  // nm
};

// Feeds everything, then kills so many microseconds after so many lines were acknowledged.
Outcome feed_and_kill(const std::string& batch, const Sent& sent, std::size_t after_lines, int microseconds) {
  Outcome o;
  Child child({"record", batch, "--setup", "1", "--each"});
  child.write(sent.text);
  std::thread killer;
  std::string line;
  const auto kill_later = [&] {
    killer = std::thread([&child, microseconds] {
      std::this_thread::sleep_for(std::chrono::microseconds(microseconds));
      child.signal_kill();
    });
  };
  if (after_lines == 0) kill_later();
  while (child.read_line(line)) {
    const auto ids = ids_in(line);
    if (!line.starts_with("stored ")) continue;
    const auto& values = sent.lines.at(o.lines_acknowledged++);
    EXPECT_EQ(ids.size(), values.size());
    for (std::size_t i = 0; i < ids.size(); ++i) o.acknowledged[ids[i]] = values.at(i);
    if (o.lines_acknowledged == after_lines) kill_later();
  }
  if (killer.joinable()) killer.join();
  child.close_input();
  o.killed = child.wait();
  return o;
}

void expect_whole(const std::filesystem::path& file, int run, const Sent& sent, const Outcome& o,
                  const std::map<EntryId, std::int64_t>& acknowledged) {
  if (!std::filesystem::exists(file)) {
    EXPECT_TRUE(acknowledged.empty());
    return;
  }
  auto opened = Ledger::open(file);
  ASSERT_TRUE(opened) << opened.problem().say;
  Ledger ledger = opened.take();
  EXPECT_EQ(raw(file).execAndGet("PRAGMA integrity_check").getString(), "ok");
  std::map<EntryId, std::int64_t> there;
  std::map<std::int64_t, int> by_value;
  const auto kept = ledger.readings().take();
  for (const KeptReading& k : kept) there[k.id] = k.reading.value.v, ++by_value[k.reading.value.v];
  for (const auto& [id, nm] : acknowledged) {
    ASSERT_TRUE(there.contains(id)) << "run " << run << ": entry " << id << " was acknowledged and is lost";
    EXPECT_EQ(there[id], nm) << "run " << run;
  }
  std::size_t lines_there = 0;
  for (const auto& values : sent.lines) {
    std::size_t found = 0;
    for (const std::int64_t nm : values) {
      EXPECT_LE(by_value[nm], 1) << "run " << run << ": stored twice";
      found += by_value[nm] > 0;
    }
    EXPECT_TRUE(found == 0 || found == values.size()) << "run " << run << ": a call is stored by half";
    lines_there += found > 0;
  }
  // The line in work when the kill came may have been stored and not yet acknowledged: one at most.
  EXPECT_GE(lines_there, o.lines_acknowledged) << "run " << run;
  EXPECT_LE(lines_there, o.lines_acknowledged + 1) << "run " << run;
}

// A ledger of one reading, so that its file is there.   returns  exit code
int run_to_end(const std::string& batch) {
  Child child({"record", batch, "--setup", "1", "16"});
  child.close_input();
  std::string line;
  while (child.read_line(line)) {
  }
  child.wait();
  return child.exit_code();
}

// The journal stands beside the ledger while a program has it open.
void wait_until_open(const std::filesystem::path& file, const Child& child) {
  while (!std::filesystem::exists(file.string() + "-wal") && child.is_running())
    std::this_thread::sleep_for(std::chrono::microseconds(200));
}

// Twice 51 runs, side by side where the machine has room; the parameter is the seed.
class KillSeeds : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Kill, KillSeeds, testing::Values(1u, 2u));

TEST_P(KillSeeds, WhatWasAcknowledgedSurvivesAndNoCallIsStoredByHalf) {
  std::mt19937 random(GetParam());
  int killed = 0, amid = 0;
  for (int start = 0; start < kRuns; start += kRunsWithOneFile) {
    const Scratch s("kill");
    const std::string batch = small_batch(s);
    std::map<EntryId, std::int64_t> acknowledged;
    for (int run = start; run < start + kRunsWithOneFile; ++run) {
      const Sent sent = lines_of(run, random);
      const std::size_t after = random() % 8;
      const int microseconds = static_cast<int>(random() % (after == 0 ? 120'000 : 4'000));
      const Outcome o = feed_and_kill(batch, sent, after, microseconds);
      acknowledged.insert(o.acknowledged.begin(), o.acknowledged.end());
      expect_whole(s.path / "batch.ledger", run, sent, o, acknowledged);
      killed += o.killed;
      amid += o.killed && o.lines_acknowledged > 0 && o.lines_acknowledged < sent.lines.size();
      if (HasFatalFailure()) return;
    }
  }
  RecordProperty("killed", killed);
  RecordProperty("killed_amid_the_writing", amid);
  EXPECT_GE(killed, kRuns * 9 / 10);
  EXPECT_GE(amid, kRuns / 2) << "the kills no longer land in the midst of writing";
}

// One call of many readings: killed while its transaction grows, it is there whole or not at all.
TEST(Kill, ACallOfManyReadingsIsStoredWholeOrNotAtAll) {
  constexpr int kCalls = 10, kReadings = 8000;
  const Scratch s("kill");
  const std::string batch = small_batch(s);
  const auto file = s.path / "batch.ledger";
  std::string table = "value\n";
  for (int i = 0; i < kReadings; ++i) table += "16." + std::to_string(1'000'000 + i).substr(1) + "\n";
  const std::string csv = s.write("many.csv", table);
  std::mt19937 random(7);
  std::size_t stored = 0;
  int killed_in_vain = 0;
  ASSERT_EQ(run_to_end(batch), 0);
  for (int call = 0; call < kCalls; ++call) {
    Child child({"record", batch, "--setup", "1", "--csv", csv});
    wait_until_open(file, child);
    std::this_thread::sleep_for(std::chrono::microseconds(random() % 250'000));
    child.signal_kill();
    child.close_input();
    killed_in_vain += !child.wait();
    const std::size_t now = Ledger::open(file).take().readings().take().size() - 1;
    EXPECT_EQ(raw(file).execAndGet("PRAGMA integrity_check").getString(), "ok");
    EXPECT_EQ(now % kReadings, 0u) << "call " << call;
    EXPECT_TRUE(now == stored || now == stored + kReadings) << "call " << call;
    stored = now;
  }
  RecordProperty("calls_stored", static_cast<int>(stored / kReadings));
  EXPECT_LT(killed_in_vain, kCalls / 2);
  EXPECT_LT(stored / kReadings, static_cast<std::size_t>(kCalls)) << "no kill came before the end of a transaction";
}

}  // namespace
}  // namespace stickwright
