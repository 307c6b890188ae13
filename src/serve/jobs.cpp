#include "serve/jobs.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <condition_variable>
#include <deque>
#include <map>
#include <mutex>
#include <random>
#include <thread>
#include <vector>

namespace stickwright {
namespace {

using Clock = std::chrono::steady_clock;
using nlohmann::ordered_json;

constexpr auto kBetweenProgress = std::chrono::milliseconds(200);
constexpr double kShareToReckonFrom = 0.01, kSecondsToReckonFrom = 0.3;

ordered_json problem_json(const Problem& p) {
  return {{"code", p.code}, {"where", p.where}, {"say", p.say}, {"excerpt", p.excerpt}};
}

std::string text_of(const ordered_json& document) {
  return document.dump(-1, ' ', false, ordered_json::error_handler_t::replace);
}

Problem failed(const std::string& why) {
  return {"failed", "", "the work failed, which is a mistake of the program: " + why, ""};
}

Result<ordered_json> done_without_throwing(const JobWork& work, JobTell& tell) {
  try {
    return work(tell);
  } catch (const std::exception& error) {
    return failed(error.what());
  } catch (...) {
    return failed("of a kind that has no words");
  }
}

// No job of an earlier run is taken for one of this run.
std::string prefix_of_this_run() {
  std::random_device device;
  return fmt::format("{:08x}", device());
}

struct Job {
  std::string id, kind, state = "running", words = "waits for its turn";
  double share = 0;
  std::optional<Clock::time_point> began;
  std::vector<ordered_json> items;
  std::optional<ordered_json> result, problem;
  std::atomic<bool> cancelled = false;

  std::int64_t last_event = 0;
  std::vector<JobEvent> events;      // items and the end
  std::optional<JobEvent> progress;  // the newest
  Clock::time_point told;            // when that was
  bool untold = false;               // there is newer progress, to be told when its time has come

  bool over() const { return state != "running"; }

  ordered_json seconds_left() const {
    if (over()) return 0;
    if (!began || share < kShareToReckonFrom) return nullptr;
    const double took = std::chrono::duration<double>(Clock::now() - *began).count();
    if (took < kSecondsToReckonFrom) return nullptr;
    return std::round(10 * took * (1 - share) / share) / 10;
  }
  ordered_json progress_json() const { return {{"share", share}, {"words", words}, {"seconds_left", seconds_left()}}; }
  ordered_json head() const {
    return {{"id", id},       {"kind", kind},   {"state", state},
            {"share", share}, {"words", words}, {"seconds_left", seconds_left()}};
  }
  void add_end(ordered_json& document) const {
    if (result) document["result"] = *result;
    if (problem) document["problem"] = *problem;
  }
};

}  // namespace

struct Jobs::Impl {
  mutable std::mutex mutex;
  mutable std::condition_variable changed;  // an event came
  std::condition_variable queued, pending;  // for the workers; for the clock
  std::map<std::string, std::shared_ptr<Job>> jobs;
  std::deque<std::shared_ptr<Job>> waiting, finished;
  std::map<std::string, JobWork> work_of;  // of those that wait
  std::function<void()> listener;
  bool ending = false;
  std::int64_t count = 0;
  const std::string prefix = prefix_of_this_run();
  std::vector<std::thread> threads;

  // What the work of one job is handed.
  class Tell : public JobTell {
   public:
    Tell(Impl& impl, Job& job) : impl_(impl), job_(job) {}
    void progress(double share, const std::string& words) override {
      const std::lock_guard lock(impl_.mutex);
      job_.share = std::clamp(share, 0.0, 1.0);
      job_.words = words;
      job_.untold = true;
      if (!job_.progress || Clock::now() - job_.told >= kBetweenProgress) return impl_.tell_progress(job_);
      impl_.pending.notify_one();
    }
    void item(ordered_json found) override {
      const std::lock_guard lock(impl_.mutex);
      job_.events.push_back({++job_.last_event, "item", text_of(found)});
      job_.items.push_back(std::move(found));
      impl_.notify();
    }
    const std::atomic<bool>& cancelled() const override { return job_.cancelled; }

   private:
    Impl& impl_;
    Job& job_;
  };

  explicit Impl(int workers) {
    for (int i = 0; i < workers; ++i) threads.emplace_back([this] { work(); });
    threads.emplace_back([this] { watch_clock(); });
  }

  // The functions below expect the mutex to be held, if not said otherwise.
  void notify() {
    changed.notify_all();
    if (listener) listener();
  }
  void tell_progress(Job& job) {
    job.progress = JobEvent{++job.last_event, "progress", text_of(job.progress_json())};
    job.told = Clock::now();
    job.untold = false;
    notify();
  }
  void finish(const std::shared_ptr<Job>& job, const std::string& state) {
    if (job->untold) tell_progress(*job);
    job->state = state;
    ordered_json end = job->head();
    job->add_end(end);
    job->events.push_back({++job->last_event, "done", text_of(end)});
    finished.push_back(job);
    while (finished.size() > kKeptJobs) {
      jobs.erase(finished.front()->id);
      finished.pop_front();
    }
    notify();
  }
  std::shared_ptr<Job> find(const std::string& id) const {
    const auto found = jobs.find(id);
    return found == jobs.end() ? nullptr : found->second;
  }

  // A worker's life. Takes the mutex itself.
  void work() {
    std::unique_lock lock(mutex);
    while (true) {
      queued.wait(lock, [&] { return ending || !waiting.empty(); });
      if (ending) return;
      const std::shared_ptr<Job> job = waiting.front();
      waiting.pop_front();
      JobWork task = std::move(work_of.extract(job->id).mapped());
      job->began = Clock::now();
      job->words.clear();
      lock.unlock();
      Tell tell(*this, *job);
      auto found = done_without_throwing(task, tell);
      task = nullptr;  // while nobody waits: what it holds may be large
      lock.lock();
      end(job, std::move(found));
    }
  }
  void end(const std::shared_ptr<Job>& job, Result<ordered_json> found) {
    if (found)
      job->result = found.take();
    else
      job->problem = problem_json(found.problem());
    if (job->result && !job->cancelled) job->share = 1;
    finish(job, job->cancelled ? "cancelled" : job->result ? "done" : "failed");
  }

  // Tells what was held back, once its time has come. Takes the mutex itself.
  void watch_clock() {
    std::unique_lock lock(mutex);
    while (!ending) {
      std::optional<Clock::time_point> next;
      for (const auto& [id, job] : jobs) {
        if (!job->untold || job->over()) continue;
        const auto due = job->told + kBetweenProgress;
        if (due <= Clock::now())
          tell_progress(*job);
        else
          next = std::min(next.value_or(due), due);
      }
      if (next)
        pending.wait_until(lock, *next);
      else
        pending.wait(lock);
    }
  }
};

Jobs::Jobs(int threads) : impl_(std::make_unique<Impl>(threads)) {}

Jobs::~Jobs() {
  cancel_all();
  {
    const std::lock_guard lock(impl_->mutex);
    impl_->ending = true;
  }
  impl_->queued.notify_all();
  impl_->pending.notify_all();
  impl_->changed.notify_all();
  for (std::thread& thread : impl_->threads) thread.join();
}

std::string Jobs::start(const std::string& kind, JobWork work) {
  auto job = std::make_shared<Job>();
  job->kind = kind;
  const std::lock_guard lock(impl_->mutex);
  job->id = fmt::format("{}-{}", impl_->prefix, ++impl_->count);
  impl_->jobs[job->id] = job;
  impl_->work_of[job->id] = std::move(work);
  impl_->waiting.push_back(job);
  impl_->queued.notify_one();
  return job->id;
}

std::optional<ordered_json> Jobs::snapshot(const std::string& id) const {
  const std::lock_guard lock(impl_->mutex);
  const auto job = impl_->find(id);
  if (!job) return std::nullopt;
  ordered_json out = job->head();
  out["items"] = job->items;
  job->add_end(out);
  return out;
}

std::optional<std::vector<JobEvent>> Jobs::events_after(const std::string& id, std::int64_t after, double wait_s,
                                                        bool& over) const {
  std::unique_lock lock(impl_->mutex);
  const auto job = impl_->find(id);
  if (!job) return std::nullopt;
  const auto ready = [&] { return job->last_event > after || job->over() || impl_->ending; };
  if (wait_s > 0) impl_->changed.wait_for(lock, std::chrono::duration<double>(wait_s), ready);
  const auto later = [&](std::int64_t number, const JobEvent& e) { return number < e.id; };
  std::vector<JobEvent> out(std::upper_bound(job->events.begin(), job->events.end(), after, later), job->events.end());
  if (job->progress && job->progress->id > after)
    out.insert(std::upper_bound(out.begin(), out.end(), job->progress->id, later), *job->progress);
  over = job->over();
  return out;
}

bool Jobs::cancel(const std::string& id) {
  JobWork never_done;  // goes after the lock: what it holds may be large
  const std::lock_guard lock(impl_->mutex);
  const auto job = impl_->find(id);
  if (!job) return false;
  if (job->over()) return true;
  job->cancelled = true;
  const auto waits = std::find(impl_->waiting.begin(), impl_->waiting.end(), job);
  if (waits == impl_->waiting.end()) return true;
  impl_->waiting.erase(waits);
  never_done = std::move(impl_->work_of.extract(id).mapped());
  impl_->finish(job, "cancelled");
  return true;
}

void Jobs::cancel_all() {
  std::vector<std::string> ids;
  {
    const std::lock_guard lock(impl_->mutex);
    for (const auto& [id, job] : impl_->jobs) ids.push_back(id);
  }
  for (const std::string& id : ids) cancel(id);
}

void Jobs::listen(std::function<void()> listener) {
  const std::lock_guard lock(impl_->mutex);
  impl_->listener = std::move(listener);
}

}  // namespace stickwright
