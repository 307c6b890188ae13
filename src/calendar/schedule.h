// schedule.h - laying the work of a batch over the free hours of the weeks.
#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "quantity/result.h"

namespace stickwright {

// Seconds since midnight of the first day. No time zones: a clock on the wall.
using Clock = std::int64_t;
inline constexpr Clock kDay = 86'400;

// Hours kept free for the work; windows ascend and do not overlap.
struct Window {
  Clock from = 0, to = 0;
};

enum class Work { preparing, milling, setting, cutting, measuring, gluing, easing, fitting, finishing, packing };
const char* to_string(Work work);

struct After {
  int task = 0;
  Clock wait = 0;  // drying, curing: from the end of that task, by day or night
};

struct Task {
  std::string title;
  Work work = Work::preparing;
  Clock hands_on = 0;     // > 0
  bool may_split = true;  // can be taken up again in the next window
  std::vector<After> after;
  int clamps = 0;     // held from the start of the task ...
  Clock clamped = 0;  // ... until this long after its end
  Clock dries = 0;    // waiting that follows it, for the picture and for the count of hours
};

// A stretch of work on one task.
struct Stretch {
  int task = 0;
  Clock from = 0, to = 0;
};

struct Schedule {
  Verdict verdict =
      Verdict::stopped;       // found: no schedule ends earlier, proven by the bound; stopped: the best one met
  std::vector<Stretch> work;  // in time order
  Clock finish = 0;
  Clock bound = 0;          // nobody can finish earlier
  Clock drying_inside = 0;  // drying and curing that passes inside the windows
  Clock drying_total = 0;
  Clock idle = 0;  // hands waiting inside windows before the finish
};

// One pair of hands. Everything as early as can be; of schedules that end on the same day the one with the least drying
// inside the windows.
//   windows  those that the work may use, as many as are needed: the search says when they run out
//   clamps   how many glue-ups can stand clamped at one time
//   errors   bad_task (no hands-on time, after itself, in a ring); task_too_long (cannot be split and is longer than
//   every
//            window); too_many_clamps (a task needs more than there are); out_of_hours (the windows ended first)
//   exact    whole seconds. The finish is the best of a fixed number of orders, seeded, so runs repeat; the bound is
//            the larger of all work laid into the windows, and the longest chain of work and waits with a pair of hands
//            each
Result<Schedule> lay_out(std::span<const Task> tasks, std::span<const Window> windows, int clamps);

// True when the schedule does all work inside the windows, one thing at a time, after what it must come after, with no
// more clamps than there are. Knows only the rules.
bool check_schedule(const Schedule& schedule, std::span<const Task> tasks, std::span<const Window> windows, int clamps);

}  // namespace stickwright
