#include "serve/plans.h"

#include <gtest/gtest.h>

#include <atomic>
#include <future>
#include <stdexcept>
#include <thread>

#include "serve/plan_cache.h"
#include "serve/scratch.h"

namespace stickwright {
namespace {

namespace fs = std::filesystem;

using Numbers = PlanCache<int>;

Numbers::Answer seven() {
  return std::make_shared<const int>(7);
}

TEST(PlanCache, WhoeverAsksMeanwhileWaitsAndGetsTheSame) {
  Numbers cache(4);
  std::atomic<int> computed = 0;
  std::promise<void> go_on;
  const auto slow = [&, wait = go_on.get_future().share()] {
    ++computed;
    wait.wait();
    return seven();
  };
  std::vector<std::future<Numbers::Answer>> askers;
  for (int i = 0; i < 8; ++i)
    askers.push_back(std::async(std::launch::async, [&] { return cache.get("a", "1", slow); }));
  go_on.set_value();
  std::vector<std::shared_ptr<const int>> answers;
  for (auto& asker : askers) answers.push_back(asker.get().value());
  EXPECT_EQ(computed, 1);
  for (const auto& answer : answers) EXPECT_EQ(answer, answers.front());
}

TEST(PlanCache, AnotherStateIsComputedAnew) {
  Numbers cache(4);
  const auto first = cache.get("a", "1", seven).value();
  EXPECT_EQ(cache.get("a", "1", seven).value(), first);
  EXPECT_NE(cache.get("a", "2", seven).value(), first);
}

TEST(PlanCache, OfTooManyTheOneAskedForLeastRecentlyGoes) {
  Numbers cache(2);
  int computed = 0;
  const auto ask = [&](const char* file) { (void)cache.get(file, "1", [&] { return ++computed, seven(); }); };
  ask("a"), ask("b");
  ask("a");  // b is the older one now
  ask("c");
  EXPECT_EQ(computed, 3);
  ask("a");
  EXPECT_EQ(computed, 3);
  ask("b");
  EXPECT_EQ(computed, 4);
}

TEST(PlanCache, AProblemIsKeptUnlessItMayPassByItself) {
  Numbers cache(4);
  for (const auto& [code, times] : {std::pair{"does_not_work", 1}, std::pair{"locked", 2}}) {
    int computed = 0;
    const auto refuse = [&]() -> Numbers::Answer {
      ++computed;
      return Problem{code, "", "", ""};
    };
    for (int i = 0; i < 2; ++i) EXPECT_EQ(cache.get(code, "1", refuse).problem().code, code);
    EXPECT_EQ(computed, times) << code;
  }
}

TEST(PlanCache, WhatThrowsIsThrownToTheAskerAndTriedAgain) {
  Numbers cache(4);
  const auto broken = []() -> Numbers::Answer { throw std::runtime_error("no"); };
  EXPECT_THROW((void)cache.get("a", "1", broken), std::runtime_error);
  EXPECT_EQ(*cache.get("a", "1", seven).value(), 7);
}

// The invented shop of the examples, where it may be written to.
struct Copied {
  Scratch scratch;
  Folder folder;
  Plans plans;
  Copied() : folder(make(scratch)), plans(folder) {}
  static Folder make(const Scratch& scratch) {
    fs::copy(fs::path(STICKWRIGHT_SOURCE) / "examples" / "wrenfield", scratch.root(), fs::copy_options::recursive);
    return Folder::open(scratch.root()).take();
  }
};

TEST(Plans, ADesignIsComputedOnceAndAnewWhenItsFileChanges) {
  Copied c;
  const auto first = c.plans.design("star.toml");
  ASSERT_TRUE(first);
  EXPECT_TRUE(first.value()->works());
  c.scratch.write("note.toml", "another = 'file'");
  EXPECT_EQ(c.plans.design("star.toml").value(), first.value());
  std::ofstream(c.scratch.root() / "star.toml", std::ios::app) << "# a remark\n";
  EXPECT_NE(c.plans.design("star.toml").value(), first.value());
}

TEST(Plans, SetUpsAreComputedAnewWhenTheLedgerGrowsButNotWhenAskedForAtHand) {
  Copied c;
  const auto first = c.plans.set_ups("batch.toml"), at_hand = c.plans.set_ups_at_hand("batch.toml");
  ASSERT_TRUE(first);
  EXPECT_EQ(at_hand.value(), first.value());
  c.scratch.write("other.ledger", "of another batch, but who knows whom it teaches");
  const auto second = c.plans.set_ups("batch.toml");
  EXPECT_NE(second.value(), first.value());
  EXPECT_EQ(c.plans.set_ups_at_hand("batch.toml").value(), first.value());
}

TEST(Plans, ABatchThatNamesAFileOutsideIsRefusedAndNothingOfThatFileIsTold) {
  Copied c;
  fs::create_directory(c.scratch.root() / "inner");
  c.scratch.write("secret.toml", "password = \"sesame\"");
  c.scratch.write("inner/batch.toml", "format = 1\nshop = \"../secret.toml\"\n");
  Plans inner(Folder::open(c.scratch.root() / "inner").take());
  const auto plan = inner.set_ups("batch.toml");
  ASSERT_FALSE(plan);
  EXPECT_EQ(plan.problem().code, "outside_folder");
  EXPECT_EQ(plan.problem().where, "batch.toml:2:8");
  EXPECT_EQ(plan.problem().excerpt.find("sesame"), std::string::npos);
}

}  // namespace
}  // namespace stickwright
