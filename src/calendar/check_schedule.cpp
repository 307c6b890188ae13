// The checker of schedules. It shares no code with the search.
#include <algorithm>
#include <map>

#include "calendar/schedule.h"

namespace stickwright {
namespace {

struct Times {
  Clock first = -1, last = -1, done = 0;
};

bool inside_a_window(const Stretch& s, std::span<const Window> windows) {
  return std::any_of(windows.begin(), windows.end(), [&](const Window& w) { return s.from >= w.from && s.to <= w.to; });
}

// At each start of a clamped task, those that are clamped then must not be more than there are.
bool enough_clamps(std::span<const Task> tasks, const std::vector<Times>& times, int clamps) {
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    int used = 0;
    for (std::size_t j = 0; j < tasks.size(); ++j)
      if (times[j].first <= times[i].first &&
          times[i].first < std::max(times[j].last + tasks[j].clamped, times[j].first + 1))
        used += tasks[j].clamps;
    if (used > clamps && tasks[i].clamps > 0) return false;
  }
  return true;
}

}  // namespace

bool check_schedule(const Schedule& schedule, std::span<const Task> tasks, std::span<const Window> windows,
                    int clamps) {
  std::vector<Times> times(tasks.size());
  std::vector<int> stretches(tasks.size());
  Clock now = 0, finish = 0;
  for (const Stretch& s : schedule.work) {
    if (s.task < 0 || s.task >= static_cast<int>(tasks.size()) || s.from < now || s.to <= s.from) return false;
    if (!inside_a_window(s, windows)) return false;
    now = s.to;
    Times& t = times[static_cast<std::size_t>(s.task)];
    if (t.first < 0) t.first = s.from;
    t.last = s.to;
    t.done += s.to - s.from;
    ++stretches[static_cast<std::size_t>(s.task)];
    finish = std::max(finish, s.to);
  }
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    if (times[i].done != tasks[i].hands_on || (!tasks[i].may_split && stretches[i] != 1)) return false;
    for (const After& a : tasks[i].after)
      if (times[static_cast<std::size_t>(a.task)].last + a.wait > times[i].first) return false;
  }
  return finish == schedule.finish && schedule.bound <= finish && enough_clamps(tasks, times, clamps);
}

}  // namespace stickwright
