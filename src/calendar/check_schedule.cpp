// The checker of schedules. It shares no code with the search.
#include <algorithm>
#include <map>
#include <tuple>

#include "calendar/schedule.h"

namespace stickwright {
namespace {

struct Times {
  Clock first = -1, last = -1, done = 0;
};

bool inside_a_window(const Stretch& s, std::span<const Window> windows) {
  return std::any_of(windows.begin(), windows.end(), [&](const Window& w) { return s.from >= w.from && s.to <= w.to; });
}

// What task `i` holds of each kind of means, and for how long after its end. Kinds: clamps, others by index, stations.
std::map<std::tuple<int, std::string>, std::pair<int, Clock>> holds(const Task& t) {
  std::map<std::tuple<int, std::string>, std::pair<int, Clock>> all;
  if (t.clamps > 0) all[{-1, ""}] = {t.clamps, t.clamped};
  if (!t.station.empty()) all[{-2, t.station}] = {1, t.stays};
  for (const Use& u : t.uses) all[{u.means, ""}] = {u.amount, u.hold};
  return all;
}

int there(const std::tuple<int, std::string>& kind, const Means& means) {
  const int k = std::get<0>(kind);
  return k == -1 ? means.clamps : k == -2 ? 1 : means.others[static_cast<std::size_t>(k)];
}

// Use only rises where a task starts, so that is where to count.
bool enough_means(std::span<const Task> tasks, const std::vector<Times>& times, const Means& means) {
  for (std::size_t i = 0; i < tasks.size(); ++i)
    for (const auto& [kind, mine] : holds(tasks[i])) {
      int used = 0;
      for (std::size_t j = 0; j < tasks.size(); ++j) {
        const auto other = holds(tasks[j]);
        const auto use = other.find(kind);
        if (use != other.end() && times[j].first <= times[i].first &&
            times[i].first < times[j].last + use->second.second)
          used += use->second.first;
      }
      if (used > there(kind, means)) return false;
    }
  return true;
}

// Each pair of hands does one thing at a time, and no two do the same task.
bool one_thing_at_a_time(const std::vector<Stretch>& work, int hands) {
  for (std::size_t i = 0; i < work.size(); ++i) {
    if (work[i].hand < 0 || work[i].hand >= hands) return false;
    for (std::size_t j = 0; j < i; ++j)
      if (work[j].to > work[i].from && work[i].to > work[j].from &&
          (work[j].hand == work[i].hand || work[j].task == work[i].task))
        return false;
  }
  return true;
}

bool well_split(const Task& t, const std::vector<Clock>& stretches) {
  if (!t.may_split) return stretches.size() == 1;
  return stretches.size() == 1 ||
         std::all_of(stretches.begin(), stretches.end(), [&](Clock s) { return s >= t.least_piece; });
}

}  // namespace

bool check_schedule(const Schedule& schedule, std::span<const Task> tasks, std::span<const Window> windows,
                    const Means& means) {
  std::vector<Times> times(tasks.size());
  std::vector<std::vector<Clock>> stretches(tasks.size());
  Clock now = 0, finish = 0;
  for (const Stretch& s : schedule.work) {
    if (s.task < 0 || s.task >= static_cast<int>(tasks.size()) || s.from < now || s.to <= s.from) return false;
    if (!inside_a_window(s, windows)) return false;
    now = s.from;
    Times& t = times[static_cast<std::size_t>(s.task)];
    if (t.first < 0) t.first = s.from;
    t.last = s.to;
    t.done += s.to - s.from;
    stretches[static_cast<std::size_t>(s.task)].push_back(s.to - s.from);
    finish = std::max(finish, s.to);
  }
  if (!one_thing_at_a_time(schedule.work, means.hands)) return false;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    if (times[i].done != tasks[i].hands_on || !well_split(tasks[i], stretches[i])) return false;
    for (const After& a : tasks[i].after)
      if (times[static_cast<std::size_t>(a.task)].last + a.wait > times[i].first) return false;
  }
  return finish == schedule.finish && schedule.bound <= finish && enough_means(tasks, times, means);
}

}  // namespace stickwright
