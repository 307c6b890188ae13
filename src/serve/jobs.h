// jobs.h - work that takes longer than a reply should: it goes on by itself, tells how far it is, hands out what it
// finds as it finds it, and can be cancelled; what was found by then stays.
#pragma once
#include <atomic>
#include <cstdint>
#include <functional>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

// What a job's work tells while it runs. All calls may come from any thread.
class JobTell {
 public:
  virtual ~JobTell() = default;
  // share of the work that is done, 0 to 1; the time left is reckoned from it. May be called as often as one likes: the
  // page hears of it at most five times a second, and always of the last.
  virtual void progress(double share, const std::string& words) = 0;
  // Something found. The page gets it at once, and again when it comes back.
  virtual void item(nlohmann::ordered_json found) = 0;
  // True once somebody cancelled, or the program ends. Work ends soon then, and returns what it has.
  virtual const std::atomic<bool>& cancelled() const = 0;
};

//   errors   any; the job has failed then. What it throws counts as the problem "failed"
using JobWork = std::function<Result<nlohmann::ordered_json>(JobTell& tell)>;

struct JobEvent {
  std::int64_t id = 0;  // counts up from 1 within the job
  std::string kind;     // "progress", "item", "done"
  // JSON: of progress {"share", "words", "seconds_left"}; of an item the item; of the end the snapshot without items.
  std::string data;
};

// All jobs of a running workbench. Of the finished ones the last `kKeptJobs` are kept.
class Jobs {
 public:
  // So many at once; the others wait for their turn.
  explicit Jobs(int threads = 2);
  ~Jobs();  // cancels all, and waits for what runs
  Jobs(const Jobs&) = delete;
  Jobs& operator=(const Jobs&) = delete;

  // Begins at once, or when a thread is free.   returns  its id, which no job of another run of the program has
  std::string start(const std::string& kind, JobWork work);

  // {"id", "kind", "state": "running" | "done" | "cancelled" | "failed", "share", "words", "seconds_left" | null,
  //  "items": [...], "result" | "problem"}. A job that waits for its turn is "running", too. A cancelled one has what
  // its work returned: a result or a problem, or neither when it had not begun.
  std::optional<nlohmann::ordered_json> snapshot(const std::string& id) const;
  // Every event with an id greater than `after`; of progress only the newest. Waits up to `wait_s` for one.
  //   returns  nothing when there is no such job; `over` is set when no further event will come
  std::optional<std::vector<JobEvent>> events_after(const std::string& id, std::int64_t after, double wait_s,
                                                    bool& over) const;
  // What is over already stays as it is.   returns  false: no such job
  bool cancel(const std::string& id);
  void cancel_all();

  // Called at every event of any job, from any thread; nullptr: nobody any more, from the return of this call on.
  //   assumes  it returns at once and calls nothing of Jobs
  void listen(std::function<void()> listener);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

inline constexpr std::size_t kKeptJobs = 20;

}  // namespace stickwright
