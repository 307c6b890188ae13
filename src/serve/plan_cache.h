// plan_cache.h - keeps the newest answer for each file; one thread computes, whoever else asks meanwhile waits.
#pragma once
#include <algorithm>
#include <chrono>
#include <future>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>

#include "quantity/result.h"

namespace stickwright {

// Safe to call from several threads.
template <class T>
class PlanCache {
 public:
  using Answer = Result<std::shared_ptr<const T>>;

  //   most  so many answers are kept; of more, those asked for least recently go
  explicit PlanCache(std::size_t most) : most_(most) {}

  // The answer for the file in this state. A problem that may pass by itself (locked, cannot_write) is not kept; what
  // `compute` throws is thrown to all who wait for it.
  //   state    names the contents that the answer depends on
  template <class Compute>
  Answer get(const std::string& file, const std::string& state, const Compute& compute) {
    std::promise<Answer> promise;
    const auto [future, ours] = find_or_begin(file, state, promise);
    if (!ours) return future.get();
    try {
      promise.set_value(compute());
    } catch (...) {
      promise.set_exception(std::current_exception());
    }
    if (!is_kept(future)) drop(file, state);
    return future.get();
  }

  // What is computed already.   returns  nothing when it is not, is still being computed, or threw
  std::optional<Answer> at_hand(const std::string& file, const std::string& state) {
    const std::lock_guard lock(mutex_);
    const auto found = find(file, state);
    if (found == entries_.end() || found->answer.wait_for(std::chrono::seconds(0)) != std::future_status::ready)
      return std::nullopt;
    return is_kept(found->answer) ? std::optional<Answer>(found->answer.get()) : std::nullopt;
  }

  // Keeps an answer that was computed elsewhere.
  void put(const std::string& file, const std::string& state, Answer answer) {
    std::promise<Answer> promise;
    promise.set_value(std::move(answer));
    const std::lock_guard lock(mutex_);
    add(file, state, promise);
  }

 private:
  using Future = std::shared_future<Answer>;
  struct Entry {
    std::string file, state;
    Future answer;
  };

  static bool is_kept(const Future& f) {
    try {
      const Answer& answer = f.get();
      return answer || (answer.problem().code != "locked" && answer.problem().code != "cannot_write");
    } catch (...) {
      return false;
    }
  }

  std::pair<Future, bool> find_or_begin(const std::string& file, const std::string& state,
                                        std::promise<Answer>& promise) {
    const std::lock_guard lock(mutex_);
    const auto found = find(file, state);
    if (found != entries_.end()) {
      entries_.splice(entries_.begin(), entries_, found);
      return {found->answer, false};
    }
    add(file, state, promise);
    return {entries_.front().answer, true};
  }
  // Both below: with the lock held.
  typename std::list<Entry>::iterator find(const std::string& file, const std::string& state) {
    return std::find_if(entries_.begin(), entries_.end(),
                        [&](const Entry& e) { return e.file == file && e.state == state; });
  }
  void add(const std::string& file, const std::string& state, std::promise<Answer>& promise) {
    entries_.remove_if([&](const Entry& e) { return e.file == file; });
    entries_.push_front({file, state, promise.get_future().share()});
    if (entries_.size() > most_) entries_.pop_back();
  }
  void drop(const std::string& file, const std::string& state) {
    const std::lock_guard lock(mutex_);
    entries_.remove_if([&](const Entry& e) { return e.file == file && e.state == state; });
  }

  const std::size_t most_;
  std::mutex mutex_;
  std::list<Entry> entries_;  // asked for most recently first
};

}  // namespace stickwright
