#include "calendar/schedule.h"

#include <fmt/core.h>

#include <algorithm>
#include <numeric>
#include <optional>
#include <queue>
#include <random>
#include <tuple>

#include "calendar/timeline.h"

namespace stickwright {
namespace {

constexpr std::int64_t kOrdersTried = 1500, kWorkLimit = 4'000'000;
constexpr unsigned kSeed = 20;

// Clamps, stations and other means alike.
struct Held {
  std::size_t kind = 0;
  int amount = 0;
  Clock hold = 0;
};

// The tasks with what they hold and who follows them.
struct Job {
  std::span<const Task> tasks;
  std::span<const Window> windows;
  int hands = 1;
  std::vector<int> there;                // of each kind of means
  std::vector<std::vector<Held>> held;   // by task
  std::vector<std::vector<After>> next;  // by task: who comes after it, after which wait
  std::vector<int> order;  // each after what it must follow; shorter than the tasks when they go in a ring
  Clock longest = 0;       // window
};

std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

std::vector<int> topological(const Job& job) {
  std::vector<int> left, order;
  for (std::size_t i = 0; i < job.tasks.size(); ++i) {
    left.push_back(static_cast<int>(job.tasks[i].after.size()));
    if (left[i] == 0) order.push_back(static_cast<int>(i));
  }
  for (std::size_t done = 0; done < order.size(); ++done)
    for (const After& n : job.next[index(order[done])])
      if (--left[index(n.task)] == 0) order.push_back(n.task);
  return order;
}

Job job_of(std::span<const Task> tasks, std::span<const Window> windows, const Means& means) {
  Job job{tasks, windows, means.hands, {means.clamps}, {}, std::vector<std::vector<After>>(tasks.size()), {}, 0};
  job.there.insert(job.there.end(), means.others.begin(), means.others.end());
  std::map<std::string, std::size_t> stations;
  for (const Task& t : tasks) {
    std::vector<Held> held;
    if (t.clamps > 0) held.push_back({0, t.clamps, t.clamped});
    for (const Use& u : t.uses) held.push_back({index(u.means) + 1, u.amount, u.hold});
    if (!t.station.empty()) {
      const auto [station, is_new] = stations.try_emplace(t.station, job.there.size());
      if (is_new) job.there.push_back(1);
      held.push_back({station->second, 1, t.stays});
    }
    job.held.push_back(std::move(held));
  }
  for (std::size_t i = 0; i < tasks.size(); ++i)
    for (const After& a : tasks[i].after) job.next[index(a.task)].push_back({static_cast<int>(i), a.wait});
  for (const Window& w : windows) job.longest = std::max(job.longest, w.to - w.from);
  job.order = topological(job);
  return job;
}

// Can be laid into windows of this length, in stretches worth beginning.
bool fits_in_windows(const Task& t, Clock longest) {
  if (t.hands_on <= longest) return true;
  if (!t.may_split || longest <= 0) return false;
  return (t.hands_on + longest - 1) / longest * t.least_piece <= t.hands_on;
}

std::optional<Problem> too_long(const Task& t, Clock longest) {
  if (fits_in_windows(t, longest)) return {};
  const std::string stretch =
      t.may_split ? fmt::format("in stretches of at least {} min", t.least_piece / 60) : "in one go";
  return Problem{
      "task_too_long", t.title,
      fmt::format("it takes {} min {}, but the longest stretch of free hours is {} min. Keep a longer one free.",
                  (t.hands_on + 59) / 60, stretch, longest / 60),
      ""};
}

std::optional<Problem> wrong_task(const Task& t, std::size_t tasks, const Means& means) {
  const auto bad = [&](const char* say) { return Problem{"bad_task", t.title, say, ""}; };
  for (const After& a : t.after)
    if (a.task < 0 || index(a.task) >= tasks || a.wait < 0) return bad("it comes after a task that is not there.");
  if (t.hands_on <= 0) return bad("a task needs some hands-on time.");
  if (t.clamps < 0 || t.clamped < 0 || t.dries < 0 || t.stays < 0 || t.least_piece < 0)
    return bad("times and clamps cannot be negative.");
  if (t.clamps > means.clamps)
    return Problem{"too_many_clamps", t.title,
                   fmt::format("it needs {} clamps at once, the shop has {}.", t.clamps, means.clamps), ""};
  for (const Use& u : t.uses) {
    if (u.means < 0 || index(u.means) >= means.others.size() || u.amount < 0 || u.hold < 0)
      return bad("it uses means that are not there.");
    if (u.amount > means.others[index(u.means)])
      return Problem{"too_few", t.title,
                     fmt::format("it needs {} at once, the shop has {}.", u.amount, means.others[index(u.means)]), ""};
  }
  return {};
}

std::optional<Problem> wrong_input(std::span<const Task> tasks, std::span<const Window> windows, const Means& means) {
  if (means.hands < 1) return Problem{"bad_task", "", "nobody is there: at least one pair of hands is needed.", ""};
  Clock longest = 0, end = 0;
  for (const Window& w : windows) {
    if (w.from < end || w.to <= w.from)
      return Problem{"bad_hours", "", "free hours must follow each other without overlap.", ""};
    end = w.to;
    longest = std::max(longest, w.to - w.from);
  }
  for (const Task& t : tasks) {
    if (auto problem = wrong_task(t, tasks.size(), means)) return problem;
    if (auto problem = too_long(t, longest)) return problem;
  }
  return {};
}

template <class Key>
std::vector<int> largest_first(const Job& job, Key key) {
  std::vector<int> order = job.order;
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return key(index(a)) > key(index(b)); });
  return order;
}

// Longest chain of work and waits from the start of each task to the end of everything; `then` is the next task on it.
struct Tail {
  Clock length = 0, wait = 0;
  int then = -1;
};

std::vector<Tail> tails(const Job& job) {
  std::vector<Tail> tail(job.tasks.size());
  for (auto i = job.order.rbegin(); i != job.order.rend(); ++i) {
    Tail& t = tail[index(*i)];
    for (const After& n : job.next[index(*i)])
      if (t.then < 0 || tail[index(n.task)].length + n.wait > t.length)
        t = {tail[index(n.task)].length + n.wait, n.wait, n.task};
    t.length += job.tasks[index(*i)].hands_on;
  }
  return tail;
}

// --- one schedule from one order
// ---------------------------------------------------------------------------------------

// Tasks in order, as far as they must not wait for others, each in the earliest hours that are still free for it.
class Builder {
 public:
  explicit Builder(const Job& job)
      : job_(job), hands_(job.windows, job.hands), in_use_(job.there.size()), end_(job.tasks.size()) {}

  // Nothing when the windows end before the work does.
  std::optional<Schedule> run(const std::vector<int>& order) {
    std::vector<int> rank(order.size()), waits_for(order.size());
    for (std::size_t k = 0; k < order.size(); ++k) rank[index(order[k])] = static_cast<int>(k);
    std::priority_queue<int, std::vector<int>, std::greater<>> turn;
    for (std::size_t i = 0; i < order.size(); ++i) {
      waits_for[i] = static_cast<int>(job_.tasks[i].after.size());
      if (waits_for[i] == 0) turn.push(rank[i]);
    }
    for (; !turn.empty();) {
      const int task = order[index(turn.top())];
      turn.pop();
      if (!place(task)) return {};
      for (const After& n : job_.next[index(task)])
        if (--waits_for[index(n.task)] == 0) turn.push(rank[index(n.task)]);
    }
    return finished();
  }

 private:
  bool place(int task) {
    const Task& t = job_.tasks[index(task)];
    Clock start = 0;
    for (const After& a : t.after) start = std::max(start, end_[index(a.task)] + a.wait);
    std::vector<Window> stretches;
    for (std::optional<Clock> later = start; later; later = clash(task, stretches)) {
      stretches = hands_.earliest(t, *later);
      if (stretches.empty()) return false;
    }
    end_[index(task)] = stretches.back().to;
    for (const Window& s : stretches) {
      hands_.take(s);
      work_.push_back({task, s.from, s.to});
    }
    for (const Held& h : job_.held[index(task)])
      in_use_[h.kind].take(stretches.front().from, stretches.back().to + h.hold, h.amount);
    return true;
  }

  // When to try again because something else that the task holds is in use.
  std::optional<Clock> clash(int task, const std::vector<Window>& stretches) const {
    std::optional<Clock> later;
    for (const Held& h : job_.held[index(task)]) {
      const auto until =
          in_use_[h.kind].clash(stretches.front().from, stretches.back().to + h.hold, h.amount, job_.there[h.kind]);
      if (until) later = std::max(later.value_or(0), *until);
    }
    return later;
  }

  Schedule finished() {
    Schedule s;
    s.work = std::move(work_);
    std::sort(s.work.begin(), s.work.end(),
              [](const Stretch& a, const Stretch& b) { return std::tie(a.from, a.task) < std::tie(b.from, b.task); });
    std::vector<Clock> busy_until(index(job_.hands));
    for (Stretch& w : s.work) {
      while (busy_until[index(w.hand)] > w.from) ++w.hand;
      busy_until[index(w.hand)] = w.to;
      s.finish = std::max(s.finish, w.to);
      s.idle -= w.to - w.from;
    }
    for (const Window& w : job_.windows) s.idle += job_.hands * std::max<Clock>(0, std::min(w.to, s.finish) - w.from);
    for (std::size_t i = 0; i < job_.tasks.size(); ++i) {
      s.drying_total += job_.tasks[i].dries;
      if (job_.tasks[i].dries == 0) continue;
      for (const Window& w : job_.windows)
        s.drying_inside +=
            std::max<Clock>(0, std::min(w.to, end_[i] + job_.tasks[i].dries) - std::max(w.from, end_[i]));
    }
    return s;
  }

  const Job& job_;
  FreeHands hands_;
  std::vector<InUse> in_use_;
  std::vector<Clock> end_;
  std::vector<Stretch> work_;
};

// --- bounds
// ------------------------------------------------------------------------------------------------------------

// The earliest hours for `work` seconds at or after `start`, in one window when it may not be split.
Window earliest_hours(const Job& job, Clock start, Clock work, bool may_split = true) {
  Window hours{kNoEnd, kNoEnd};
  auto w = std::upper_bound(job.windows.begin(), job.windows.end(), start,
                            [](Clock t, const Window& x) { return t < x.to; });
  for (; w != job.windows.end() && start != kNoEnd; ++w) {
    const Clock from = std::max(w->from, start);
    if (may_split || work <= w->to - from) hours.from = std::min(hours.from, from);
    if (work <= w->to - from) return {hours.from, from + work};
    if (may_split) work -= w->to - from;
  }
  return {kNoEnd, kNoEnd};
}

Window earliest_hours(const Job& job, Clock start, int task) {
  return earliest_hours(job, start, job.tasks[index(task)].hands_on, job.tasks[index(task)].may_split);
}

// The chain that follows task `i`, when it has ended at `end`: the earliest end of that.
Clock end_of_chain(const Job& job, const std::vector<Tail>& tail, int i, Clock end) {
  while (tail[index(i)].then >= 0 && end != kNoEnd) {
    end += tail[index(i)].wait;
    i = tail[index(i)].then;
    end = earliest_hours(job, end, i).to;
  }
  return end;
}

// Each task as early as it can be with hands and means to spare.
std::vector<Window> earliest(const Job& job) {
  std::vector<Window> hours(job.tasks.size());
  for (int i : job.order) {
    Clock ready = 0;
    for (const After& a : job.tasks[index(i)].after) {
      const Clock end = hours[index(a.task)].to;
      ready = end == kNoEnd || ready == kNoEnd ? kNoEnd : std::max(ready, end + a.wait);
    }
    hours[index(i)] = earliest_hours(job, ready, i);
  }
  return hours;
}

// The tasks in `some` share `there` of something, each `share(i)` for as long as it is worked on. One of them ends
// last, no earlier than all of their work laid into the windows, and its chain follows.
template <class Share>
Clock bound_by_sharing(const Job& job, const std::vector<Tail>& tail, const std::vector<Window>& hours,
                       const std::vector<int>& some, int there, Share share) {
  Clock first = kNoEnd, work = 0, last = kNoEnd;
  for (int i : some) {
    first = std::min(first, hours[index(i)].from);
    work += share(index(i)) * job.tasks[index(i)].hands_on;
  }
  const Clock end = earliest_hours(job, first, (work + there - 1) / there).to;
  for (int i : some) last = std::min(last, end_of_chain(job, tail, i, end));
  return last;
}

}  // namespace

FinishBounds bound_finish(std::span<const Task> tasks, std::span<const Window> windows, const Means& means) {
  const Job job = job_of(tasks, windows, means);
  const std::vector<Tail> tail = tails(job);
  const std::vector<Window> hours = earliest(job);
  FinishBounds bounds;
  for (const Window& h : hours) bounds.chain = std::max(bounds.chain, h.to);
  bounds.all = bounds.chain;
  const std::vector<int> by_tail =
      largest_first(job, [&](std::size_t i) { return tail[i].length - tasks[i].hands_on; });
  const auto raise = [&](int there,
                         auto share) {  // by the tasks with the longest chains after them, one more each time
    std::vector<int> some;
    for (int i : by_tail) {
      if (bounds.all == kNoEnd || share(index(i)) == 0) continue;
      some.push_back(i);
      bounds.all = std::max(bounds.all, bound_by_sharing(job, tail, hours, some, there, share));
    }
  };
  raise(job.hands, [](std::size_t) { return 1; });
  for (std::size_t kind = 0; kind < job.there.size(); ++kind)
    raise(job.there[kind], [&](std::size_t i) {
      int amount = 0;
      for (const Held& h : job.held[i]) amount += h.kind == kind ? h.amount : 0;
      return amount;
    });
  return bounds;
}

namespace {

// --- search
// ------------------------------------------------------------------------------------------------------------

Schedule nothing_to_do() {
  Schedule s;
  s.verdict = Verdict::found;
  return s;
}

// Orders to start from: longest chain first, most followers, least room between earliest and latest, longest wait
// after, longest work.
std::vector<std::vector<int>> first_orders(const Job& job) {
  const std::vector<Tail> tail = tails(job);
  const std::vector<Window> hours = earliest(job);
  return {
      largest_first(job, [&](std::size_t i) { return tail[i].length; }),
      largest_first(job, [&](std::size_t i) { return job.next[i].size(); }),
      largest_first(job, [&](std::size_t i) { return tail[i].length + (hours[i].from == kNoEnd ? 0 : hours[i].from); }),
      largest_first(job, [&](std::size_t i) { return tail[i].length - job.tasks[i].hands_on; }),
      largest_first(job, [&](std::size_t i) { return job.tasks[i].hands_on; })};
}

// Moves one to three tasks to other places in the order; now and then shuffles all of it.
std::vector<int> changed(std::vector<int> order, std::mt19937& rng) {
  const std::size_t n = order.size();
  if (rng() % 16 == 0)
    for (std::size_t i = n; i > 1; --i) std::swap(order[i - 1], order[rng() % i]);
  for (std::size_t moves = 1 + rng() % 3; moves > 0; --moves) {
    const auto from = static_cast<std::ptrdiff_t>(rng() % n), to = static_cast<std::ptrdiff_t>(rng() % n);
    const int task = order[static_cast<std::size_t>(from)];
    order.erase(order.begin() + from);
    order.insert(order.begin() + to, task);
  }
  return order;
}

auto merit(const Schedule& s) {
  return std::tuple(s.finish, s.drying_inside);
}

// The best of a fixed number of orders.
std::optional<Schedule> best_schedule(const Job& job, Clock bound) {
  const std::vector<std::vector<int>> first = first_orders(job);
  std::vector<int> best_order = first.front();
  std::optional<Schedule> best;
  std::mt19937 rng(kSeed);
  // Building one schedule takes time with the square of the tasks: large jobs try fewer orders.
  const auto n = static_cast<std::int64_t>(job.order.size());
  const auto orders =
      static_cast<int>(std::clamp<std::int64_t>(kWorkLimit / std::max<std::int64_t>(1, n * n), 10, kOrdersTried));
  for (int k = 0; k < orders; ++k) {
    std::vector<int> order = index(k) < first.size() ? first[index(k)] : changed(best_order, rng);
    auto s = Builder(job).run(order);
    if (!s || (best && merit(*s) > merit(*best))) continue;
    best = std::move(s);  // equal ones are taken, too: they lead on to others
    best_order = std::move(order);
    if (best->finish == bound && best->drying_inside == 0) break;
  }
  return best;
}

}  // namespace

const char* to_string(Work work) {
  constexpr const char* names[] = {"preparing", "milling", "setting up", "cutting",   "measuring",
                                   "gluing",    "easing",  "fitting",    "finishing", "packing"};
  return names[static_cast<int>(work)];
}

Result<Schedule> lay_out(std::span<const Task> tasks, std::span<const Window> windows, const Means& means) {
  if (auto problem = wrong_input(tasks, windows, means)) return *problem;
  if (tasks.empty()) return nothing_to_do();
  const Job job = job_of(tasks, windows, means);
  if (job.order.size() < tasks.size()) return Problem{"bad_task", "", "tasks follow each other in a ring.", ""};
  const Clock bound = bound_finish(tasks, windows, means).all;
  auto best = best_schedule(job, bound);
  if (!best)
    return Problem{"out_of_hours", "",
                   "the free hours end before the work does. Keep more hours free, or make fewer puzzles.", ""};
  best->bound = bound;
  best->verdict = best->finish == bound ? Verdict::found : Verdict::stopped;
  return *std::move(best);
}

}  // namespace stickwright
