#include "calendar/schedule.h"

#include <fmt/core.h>

#include <algorithm>
#include <limits>
#include <optional>
#include <random>
#include <tuple>

namespace stickwright {
namespace {

constexpr int kOrdersTried = 1500;
constexpr unsigned kSeed = 20;
constexpr Clock kNever = std::numeric_limits<Clock>::max();

// Tasks in an order in which each comes after what it must follow; empty when they follow each other in a ring.
std::vector<int> topological(std::span<const Task> tasks) {
  std::vector<int> left(tasks.size()), order;
  std::vector<std::vector<int>> next(tasks.size());
  for (std::size_t i = 0; i < tasks.size(); ++i)
    for (const After& a : tasks[i].after)
      ++left[i], next[static_cast<std::size_t>(a.task)].push_back(static_cast<int>(i));
  for (std::size_t i = 0; i < tasks.size(); ++i)
    if (left[i] == 0) order.push_back(static_cast<int>(i));
  for (std::size_t done = 0; done < order.size(); ++done)
    for (int n : next[static_cast<std::size_t>(order[done])])
      if (--left[static_cast<std::size_t>(n)] == 0) order.push_back(n);
  return order.size() == tasks.size() ? order : std::vector<int>{};
}

std::optional<Problem> wrong_task(std::span<const Task> tasks, std::span<const Window> windows, int clamps) {
  Clock longest = 0;
  for (const Window& w : windows) longest = std::max(longest, w.to - w.from);
  for (const Task& t : tasks) {
    for (const After& a : t.after)
      if (a.task < 0 || a.task >= static_cast<int>(tasks.size()) || a.wait < 0)
        return Problem{"bad_task", t.title, "it comes after a task that is not there.", ""};
    if (t.hands_on <= 0) return Problem{"bad_task", t.title, "a task needs some hands-on time.", ""};
    if (t.clamps > clamps)
      return Problem{"too_many_clamps", t.title,
                     fmt::format("it needs {} clamps at once, the shop has {}.", t.clamps, clamps), ""};
    if (!t.may_split && t.hands_on > longest)
      return Problem{
          "task_too_long", t.title,
          fmt::format(
              "it takes {} min in one go, but the longest stretch of free hours is {} min. Keep a longer one free.",
              (t.hands_on + 59) / 60, longest / 60),
          ""};
  }
  if (!tasks.empty() && topological(tasks).empty())
    return Problem{"bad_task", "", "tasks follow each other in a ring.", ""};
  return {};
}

// Longest chain of work and waits from the start of each task to the end of everything.
std::vector<Clock> tails(std::span<const Task> tasks) {
  std::vector<Clock> tail(tasks.size());
  const std::vector<int> order = topological(tasks);
  for (auto i = order.rbegin(); i != order.rend(); ++i) {
    const auto k = static_cast<std::size_t>(*i);
    tail[k] += tasks[k].hands_on;
    for (const After& a : tasks[k].after) {
      auto& before = tail[static_cast<std::size_t>(a.task)];
      before = std::max(before, tail[k] + a.wait);
    }
  }
  return tail;
}

// An order of preference, and whether to wait for the first choice (strict) or to do meanwhile what can be done.
struct Order {
  std::vector<int> tasks;
  bool strict = false;
};

// Builds one schedule from an order.
class Builder {
 public:
  Builder(std::span<const Task> tasks, std::span<const Window> windows, int clamps, const Order& order)
      : tasks_(tasks),
        windows_(windows),
        clamps_(clamps),
        order_(order),
        left_(tasks.size()),
        end_(tasks.size(), kNever),
        started_(tasks.size()) {
    for (std::size_t i = 0; i < tasks.size(); ++i) left_[i] = tasks[i].hands_on;
  }

  // Nothing when the windows end before the work does.
  std::optional<Schedule> run() {
    for (const Window& w : windows_) {
      Clock now = w.from;
      while (now < w.to && todo_ > 0) now = step(now, w.to);
      if (todo_ == 0) return finished();
    }
    return {};
  }

 private:
  Clock ready_at(std::size_t i) const {
    Clock ready = 0;
    for (const After& a : tasks_[i].after) {
      const Clock end = end_[static_cast<std::size_t>(a.task)];
      if (end == kNever) return kNever;
      ready = std::max(ready, end + a.wait);
    }
    return ready;
  }

  int clamps_in_use(Clock now) const {
    int used = 0;
    for (std::size_t i = 0; i < tasks_.size(); ++i)
      if (started_[i] && (end_[i] == kNever || end_[i] + tasks_[i].clamped > now)) used += tasks_[i].clamps;
    return used;
  }

  bool can_work(std::size_t i, Clock now, Clock window_end) const {
    if (left_[i] == 0 || ready_at(i) > now) return false;
    if (!tasks_[i].may_split && !started_[i] && now + left_[i] > window_end) return false;
    return started_[i] || tasks_[i].clamps == 0 || clamps_in_use(now) + tasks_[i].clamps <= clamps_;
  }

  // What to work on now: the first in order that can be worked on, or in strict order the first whose turn has come.
  int choose(Clock now, Clock window_end) const {
    for (int i : order_.tasks) {
      const auto k = static_cast<std::size_t>(i);
      if (can_work(k, now, window_end)) return i;
      if (order_.strict && left_[k] > 0 && ready_at(k) != kNever) return -1;
    }
    return -1;
  }

  // Works on the chosen task until it is done or the window ends, or waits for the next thing to become ready.
  Clock step(Clock now, Clock window_end) {
    const int best = choose(now, window_end);
    if (best < 0) return std::min(window_end, next_event(now));
    const auto k = static_cast<std::size_t>(best);
    const Clock until = std::min(window_end, now + left_[k]);
    if (!work_.empty() && work_.back().task == best && work_.back().to == now)
      work_.back().to = until;
    else
      work_.push_back({best, now, until});
    started_[k] = true;
    left_[k] -= until - now;
    if (left_[k] == 0) end_[k] = until, --todo_;
    return until;
  }

  Clock next_event(Clock now) const {
    Clock next = kNever;
    for (std::size_t i = 0; i < tasks_.size(); ++i) {
      if (left_[i] > 0 && ready_at(i) > now) next = std::min(next, ready_at(i));
      if (started_[i] && end_[i] != kNever && end_[i] + tasks_[i].clamped > now)
        next = std::min(next, end_[i] + tasks_[i].clamped);
    }
    return next;
  }

  Schedule finished() {
    Schedule s;
    s.work = std::move(work_);
    Clock worked = 0, open = 0;
    for (const Stretch& w : s.work) s.finish = std::max(s.finish, w.to), worked += w.to - w.from;
    for (std::size_t i = 0; i < tasks_.size(); ++i) {
      s.drying_total += tasks_[i].dries;
      s.drying_inside += inside(end_[i], end_[i] + tasks_[i].dries);
    }
    for (const Window& w : windows_) open += std::max<Clock>(0, std::min(w.to, s.finish) - w.from);
    s.idle = open - worked;
    return s;
  }

  Clock inside(Clock from, Clock to) const {
    Clock sum = 0;
    for (const Window& w : windows_) sum += std::max<Clock>(0, std::min(w.to, to) - std::max(w.from, from));
    return sum;
  }

  std::span<const Task> tasks_;
  std::span<const Window> windows_;
  int clamps_;
  const Order& order_;
  std::vector<Clock> left_, end_;
  std::vector<bool> started_;
  std::vector<Stretch> work_;
  std::size_t todo_ = tasks_.size();
};

// The earliest end of `work` seconds begun at or after `start`, inside the windows. kNever when they run out.
Clock end_of_work(std::span<const Window> windows, Clock start, Clock work) {
  for (const Window& w : windows) {
    const Clock from = std::max(w.from, start);
    if (from >= w.to) continue;
    if (work <= w.to - from) return from + work;
    work -= w.to - from;
  }
  return kNever;
}

Clock lower_bound(std::span<const Task> tasks, std::span<const Window> windows) {
  Clock work = 0, chain = 0;
  std::vector<Clock> end(tasks.size());
  for (int i : topological(tasks)) {
    const auto k = static_cast<std::size_t>(i);
    Clock ready = 0;
    for (const After& a : tasks[k].after) ready = std::max(ready, end[static_cast<std::size_t>(a.task)] + a.wait);
    end[k] = end_of_work(windows, ready, tasks[k].hands_on);
    if (end[k] == kNever) return kNever;
    chain = std::max(chain, end[k]);
    work += tasks[k].hands_on;
  }
  return std::max(chain, end_of_work(windows, 0, work));
}

Order longest_first(std::span<const Task> tasks) {
  Order order{topological(tasks), false};
  const std::vector<Clock> tail = tails(tasks);
  std::stable_sort(order.tasks.begin(), order.tasks.end(),
                   [&](int a, int b) { return tail[static_cast<std::size_t>(a)] > tail[static_cast<std::size_t>(b)]; });
  return order;
}

// Moves one to three tasks to other places in the order; now and then shuffles all of it, or changes the patience.
Order changed(Order order, std::mt19937& rng) {
  const std::size_t n = order.tasks.size();
  if (n == 0) return order;
  if (rng() % 4 == 0) order.strict = !order.strict;
  if (rng() % 12 == 0)
    for (std::size_t i = n; i > 1; --i) std::swap(order.tasks[i - 1], order.tasks[rng() % i]);
  for (std::size_t moves = 1 + rng() % 3; moves > 0; --moves) {
    const auto from = static_cast<std::ptrdiff_t>(rng() % n), to = static_cast<std::ptrdiff_t>(rng() % n);
    const int task = order.tasks[static_cast<std::size_t>(from)];
    order.tasks.erase(order.tasks.begin() + from);
    order.tasks.insert(order.tasks.begin() + to, task);
  }
  return order;
}

// Earlier day, then less drying in working hours, then earlier finish.
auto merit(const Schedule& s) {
  return std::tuple(s.finish / kDay, s.drying_inside, s.finish);
}

}  // namespace

const char* to_string(Work work) {
  constexpr const char* names[] = {"preparing", "milling", "setting up", "cutting",   "measuring",
                                   "gluing",    "easing",  "fitting",    "finishing", "packing"};
  return names[static_cast<int>(work)];
}

Result<Schedule> lay_out(std::span<const Task> tasks, std::span<const Window> windows, int clamps) {
  if (auto problem = wrong_task(tasks, windows, clamps)) return *problem;
  std::optional<Schedule> best;
  Order best_order = longest_first(tasks);
  std::mt19937 rng(kSeed);
  for (int k = 0; k <= kOrdersTried; ++k) {
    Order order = k == 0 ? best_order : changed(best_order, rng);
    auto s = Builder(tasks, windows, clamps, order).run();
    if (!s || (best && merit(*s) > merit(*best))) continue;
    best = std::move(s);  // equal ones are taken, too: they lead on to others
    best_order = std::move(order);
  }
  if (!best)
    return Problem{"out_of_hours", "",
                   "the free hours end before the work does. Keep more hours free, or make fewer puzzles.", ""};
  best->bound = lower_bound(tasks, windows);
  best->verdict = best->finish == best->bound ? Verdict::found : Verdict::stopped;
  return *std::move(best);
}

}  // namespace stickwright
