// jobs.h - work that takes longer than a reply should: it goes on by itself, tells how far it is, hands out what it
// finds as it finds it, and can be cancelled; what was found by then stays.
#pragma once
#include <atomic>
#include <functional>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "quantity/result.h"

namespace stickwright {

// What a job's work tells while it runs. All calls may come from any thread.
class JobTell {
 public:
  virtual ~JobTell() = default;
  // share of the work that is done, 0 to 1; the time left is reckoned from it.
  virtual void progress(double share, const std::string& words) = 0;
  // Something found. The page gets it at once, and again when it comes back.
  virtual void item(nlohmann::ordered_json found) = 0;
  // True once somebody cancelled. Work ends soon then, and returns what it has.
  virtual const std::atomic<bool>& cancelled() const = 0;
};

using JobWork = std::function<Result<nlohmann::ordered_json>(JobTell& tell)>;

struct JobEvent {
  std::int64_t id = 0;  // counts from 1 within the job
  std::string kind;     // "progress", "item", "done"
  std::string data;     // JSON
};

// All jobs of a running workbench. Finished ones are kept until there are more than `kKeptJobs`.
class Jobs {
 public:
  Jobs();
  ~Jobs();  // cancels what runs, and waits for it
  Jobs(const Jobs&) = delete;
  Jobs& operator=(const Jobs&) = delete;

  // Begins at once, or when a thread is free.   returns  its id
  std::string start(const std::string& kind, JobWork work);

  // {"id", "kind", "state": "running" | "done" | "cancelled" | "failed", "share", "words", "seconds_left" | null,
  //  "items": [...], "result" | "problem"}
  std::optional<nlohmann::ordered_json> snapshot(const std::string& id) const;
  // Every event with an id greater than `after`; of progress only the newest. Waits up to `wait_s` for one.
  //   returns  nothing when there is no such job; `over` is set when no further event will come
  std::optional<std::vector<JobEvent>> events_after(const std::string& id, std::int64_t after, double wait_s,
                                                    bool& over) const;
  //   returns  false: no such job
  bool cancel(const std::string& id);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

inline constexpr std::size_t kKeptJobs = 20;

}  // namespace stickwright
