#include "serve/jobs.h"

#include <gtest/gtest.h>

#include <chrono>
#include <future>
#include <stdexcept>
#include <thread>

namespace stickwright {
namespace {

using nlohmann::json;
using nlohmann::ordered_json;

// All events from the first to the last.
std::vector<JobEvent> all_events(const Jobs& jobs, const std::string& id) {
  std::vector<JobEvent> out;
  bool over = false;
  while (!over) {
    const auto events = jobs.events_after(id, out.empty() ? 0 : out.back().id, 5, over);
    if (!events || (events->empty() && !over)) return {};
    out.insert(out.end(), events->begin(), events->end());
  }
  return out;
}

std::vector<JobEvent> of_kind(const std::vector<JobEvent>& events, const std::string& kind) {
  std::vector<JobEvent> out;
  for (const JobEvent& e : events)
    if (e.kind == kind) out.push_back(e);
  return out;
}

std::string state_in(const Jobs& jobs, const std::string& id) {
  return jobs.snapshot(id).value()["state"].get<std::string>();
}

TEST(Jobs, ItemsComeInOrderAndTheEndComesLast) {
  Jobs jobs;
  const std::string id = jobs.start("count", [](JobTell& tell) -> Result<ordered_json> {
    for (int i = 0; i < 50; ++i) tell.item({{"i", i}});
    return ordered_json{{"found", 50}};
  });
  const auto events = all_events(jobs, id);
  const auto items = of_kind(events, "item");
  ASSERT_EQ(items.size(), 50u);
  for (int i = 0; i < 50; ++i) EXPECT_EQ(json::parse(items[i].data)["i"], i);
  for (std::size_t i = 1; i < events.size(); ++i) EXPECT_LT(events[i - 1].id, events[i].id);
  EXPECT_EQ(events.back().kind, "done");
  const auto end = json::parse(events.back().data);
  EXPECT_EQ(end["state"], "done");
  EXPECT_EQ(end["result"]["found"], 50);
  EXPECT_EQ(jobs.snapshot(id).value()["items"].size(), 50u);
}

TEST(Jobs, WhoComesBackGetsOnlyWhatIsNewer) {
  Jobs jobs;
  const std::string id = jobs.start("count", [](JobTell& tell) -> Result<ordered_json> {
    for (int i = 0; i < 3; ++i) tell.item(i);
    return ordered_json();
  });
  const auto events = all_events(jobs, id);
  bool over = false;
  const auto rest = jobs.events_after(id, events[1].id, 0, over);
  ASSERT_TRUE(rest);
  EXPECT_TRUE(over);
  EXPECT_EQ(rest->size(), events.size() - 2);
  EXPECT_EQ(rest->front().id, events[2].id);
}

TEST(Jobs, CancelledWorkKeepsWhatItFoundAndWhatItReturned) {
  Jobs jobs;
  std::promise<void> found;
  const std::string id = jobs.start("search", [&](JobTell& tell) -> Result<ordered_json> {
    tell.item({{"n", 1}});
    found.set_value();
    while (!tell.cancelled()) std::this_thread::yield();
    return ordered_json{{"so_far", 1}};
  });
  found.get_future().wait();
  EXPECT_EQ(state_in(jobs, id), "running");
  EXPECT_TRUE(jobs.cancel(id));
  EXPECT_EQ(all_events(jobs, id).back().kind, "done");
  const auto seen = jobs.snapshot(id).value();
  EXPECT_EQ(seen["state"], "cancelled");
  EXPECT_EQ(seen["items"].size(), 1u);
  EXPECT_EQ(seen["result"]["so_far"], 1);
}

// Of work that reports at every step, the page hears a few times a second, and the last word always.
TEST(Jobs, ProgressIsToldAtMostFiveTimesASecondAndTheLastAlways) {
  Jobs jobs;
  const auto began = std::chrono::steady_clock::now();
  const std::string id = jobs.start("steps", [](JobTell& tell) -> Result<ordered_json> {
    for (int i = 1; i <= 100; ++i) {
      tell.progress(i / 100.0, "step " + std::to_string(i));
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return ordered_json();
  });
  std::vector<JobEvent> progress;
  for (const auto& e : of_kind(all_events(jobs, id), "progress")) progress.push_back(e);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
  EXPECT_LE(static_cast<double>(progress.size()), 5 * took.count() + 2);  // the first and the last besides
  ASSERT_GE(progress.size(), 2u);
  EXPECT_EQ(json::parse(progress.back().data)["words"], "step 100");
}

// The last word before a long silence must not be held back until the end of the silence.
TEST(Jobs, ProgressThatIsFollowedByNothingIsToldWhileTheWorkStillRuns) {
  Jobs jobs;
  std::promise<void> go_on;
  const std::string id = jobs.start("pause", [&](JobTell& tell) -> Result<ordered_json> {
    tell.progress(0.1, "first");
    tell.progress(0.2, "second");
    go_on.get_future().wait();
    return ordered_json();
  });
  std::string words;
  bool over = false;
  std::int64_t last = 0;
  for (int i = 0; i < 3 && words != "second"; ++i) {
    const auto events = jobs.events_after(id, last, 5, over).value();
    ASSERT_FALSE(events.empty());
    last = events.back().id;
    words = json::parse(events.back().data)["words"].get<std::string>();
  }
  EXPECT_EQ(words, "second");
  EXPECT_FALSE(over);
  go_on.set_value();
}

TEST(Jobs, OfProgressOnlyTheNewestIsHandedOutLater) {
  Jobs jobs;
  const std::string id = jobs.start("steps", [](JobTell& tell) -> Result<ordered_json> {
    for (int i = 0; i < 3; ++i) {
      tell.progress(i / 3.0, "");
      std::this_thread::sleep_for(std::chrono::milliseconds(210));
    }
    return ordered_json();
  });
  all_events(jobs, id);
  bool over = false;
  const auto events = jobs.events_after(id, 0, 0, over).value();
  ASSERT_EQ(events.size(), 2u);
  EXPECT_EQ(events[0].kind, "progress");
  EXPECT_EQ(events[0].id, 3);
}

TEST(Jobs, TheTimeLeftIsReckonedFromTheShareThatIsDone) {
  Jobs jobs;
  std::promise<void> told, go_on;
  const std::string id = jobs.start("half", [&](JobTell& tell) -> Result<ordered_json> {
    std::this_thread::sleep_for(std::chrono::milliseconds(500));
    tell.progress(0.5, "half");
    told.set_value();
    go_on.get_future().wait();
    return ordered_json();
  });
  told.get_future().wait();
  const auto seen = jobs.snapshot(id).value();
  // Half is done after at least 0.5 s; how much longer depends on the machine.
  EXPECT_GE(seen["seconds_left"].get<double>(), 0.5);
  EXPECT_LE(seen["seconds_left"].get<double>(), 5);
  go_on.set_value();
}

TEST(Jobs, WorkThatThrowsOrHasAProblemFails) {
  Jobs jobs;
  const std::string thrown =
      jobs.start("throws", [](JobTell&) -> Result<ordered_json> { throw std::runtime_error("a plank broke"); });
  const std::string refused = jobs.start("refuses", [](JobTell&) -> Result<ordered_json> {
    return Problem{"no_stack", "", "there is no stack", ""};
  });
  all_events(jobs, thrown);
  all_events(jobs, refused);
  const auto first = jobs.snapshot(thrown).value(), second = jobs.snapshot(refused).value();
  EXPECT_EQ(first["state"], "failed");
  EXPECT_EQ(first["problem"]["code"], "failed");
  EXPECT_NE(first["problem"]["say"].get<std::string>().find("a plank broke"), std::string::npos);
  EXPECT_EQ(second["state"], "failed");
  EXPECT_EQ(second["problem"]["code"], "no_stack");
}

TEST(Jobs, MoreThanTheThreadsWaitForTheirTurnAndCanBeCancelledThere) {
  Jobs jobs(1);
  std::promise<void> go_on;
  std::atomic<int> ran = 0;
  jobs.start("first", [&](JobTell&) -> Result<ordered_json> {
    go_on.get_future().wait();
    return ordered_json();
  });
  const auto count = [&](JobTell&) -> Result<ordered_json> {
    ++ran;
    return ordered_json();
  };
  const std::string second = jobs.start("second", count), third = jobs.start("third", count);
  EXPECT_EQ(state_in(jobs, second), "running");
  EXPECT_TRUE(jobs.cancel(second));
  EXPECT_EQ(state_in(jobs, second), "cancelled");
  EXPECT_EQ(all_events(jobs, second).size(), 1u);
  go_on.set_value();
  all_events(jobs, third);
  EXPECT_EQ(ran, 1);
}

TEST(Jobs, TheLastFinishedOnesAreKept) {
  Jobs jobs;
  std::vector<std::string> ids;
  for (std::size_t i = 0; i < kKeptJobs + 5; ++i) {
    ids.push_back(jobs.start("quick", [](JobTell&) -> Result<ordered_json> { return ordered_json(); }));
    all_events(jobs, ids.back());
  }
  EXPECT_FALSE(jobs.snapshot(ids[4]));
  EXPECT_TRUE(jobs.snapshot(ids[5]));
}

TEST(Jobs, WhatIsOverStaysAsItIs) {
  Jobs jobs;
  const std::string id = jobs.start("quick", [](JobTell&) -> Result<ordered_json> { return ordered_json(); });
  const auto events = all_events(jobs, id);
  EXPECT_TRUE(jobs.cancel(id));
  EXPECT_EQ(state_in(jobs, id), "done");
  EXPECT_EQ(all_events(jobs, id).size(), events.size());
  EXPECT_FALSE(jobs.cancel("nix"));
}

TEST(Jobs, TheEndOfTheProgramCancelsAndWaits) {
  bool ended = false;
  std::promise<void> runs;
  {
    Jobs jobs;
    jobs.start("long", [&](JobTell& tell) -> Result<ordered_json> {
      runs.set_value();
      while (!tell.cancelled()) std::this_thread::yield();
      tell.item("the last");
      ended = true;
      return ordered_json();
    });
    runs.get_future().wait();
  }
  EXPECT_TRUE(ended);
}

TEST(Jobs, TextThatIsNoUtf8DoesNotBreakAnEvent) {
  Jobs jobs;
  const std::string id = jobs.start("bad", [](JobTell& tell) -> Result<ordered_json> {
    tell.item("\xff");
    return ordered_json();
  });
  EXPECT_TRUE(json::accept(of_kind(all_events(jobs, id), "item").at(0).data));
}

}  // namespace
}  // namespace stickwright
