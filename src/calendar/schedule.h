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

// So many of one of the shop's other means, kept from the start of the task until `hold` after its end.
struct Use {
  int means = 0;  // index into Means::others
  int amount = 1;
  Clock hold = 0;
};

struct Task {
  std::string title;
  Work work = Work::preparing;
  Clock hands_on = 0;     // > 0
  bool may_split = true;  // can be taken up again in the next window
  std::vector<After> after;
  int clamps = 0;         // held from the start of the task ...
  Clock clamped = 0;      // ... until this long after its end
  Clock dries = 0;        // waiting that follows it, for the picture and for the count of hours
  Clock least_piece = 0;  // of a task that may be split: a shorter stretch is not worth beginning
  std::string station;    // "finishing rack": one task at a time stands there, from its start ...
  Clock stays = 0;        // ... until this long after its end; empty: none is needed
  std::vector<Use> uses;
};

// A stretch of work on one task.
struct Stretch {
  int task = 0;
  Clock from = 0, to = 0;
  int hand = 0;  // which pair of hands
};

// Who and what is there for the work.
struct Means {
  int hands = 1;   // pairs of hands; each works on one task at a time, and a task takes one pair
  int clamps = 0;  // how many glue-ups can stand clamped at one time
  std::vector<int> others;
};

struct Schedule {
  Verdict verdict =
      Verdict::stopped;       // found: no schedule ends earlier, proven by the bound; stopped: the best one met
  std::vector<Stretch> work;  // in time order
  Clock finish = 0;
  Clock bound = 0;          // nobody can finish earlier
  Clock drying_inside = 0;  // drying and curing that passes inside the windows
  Clock drying_total = 0;
  Clock idle = 0;  // hands waiting inside windows before the finish, each pair counted
};

// Earliest finish; of schedules that end at the same time the one with the least drying inside the windows.
//   windows  those that the work may use, as many as are needed: the search says when they run out
//   errors   bad_task (no hands-on time, after itself, in a ring, means that are not there); bad_hours (windows that do
//   not
//            ascend); task_too_long (cannot be split, or not into stretches worth beginning, and is longer than every
//            window); too_many_clamps (a task needs more than there are), too_few (the same of other means);
//            out_of_hours (the windows ended first)
//   exact    whole seconds. The finish is the best of a fixed number of orders, seeded, so runs repeat. The bound is
//   the
//            largest of: the longest chain of work and waits with hands to spare; all work from some point on, laid
//            into the windows, and the shortest chain that must still follow; and the same by each of the means
//   source   R. Kolisch, "Serial and parallel resource-constrained project scheduling methods revisited", European
//   Journal
//            of Operational Research 90 (1996), from memory: tasks in order, each as early as it fits
Result<Schedule> lay_out(std::span<const Task> tasks, std::span<const Window> windows, const Means& means);
inline Result<Schedule> lay_out(std::span<const Task> tasks, std::span<const Window> windows, int clamps) {
  return lay_out(tasks, windows, Means{1, clamps, {}});
}

// The largest of the bounds above, and the longest chain alone, of tasks that lay_out takes. kNoEnd when the windows
// end first.
inline constexpr Clock kNoEnd = INT64_MAX;
struct FinishBounds {
  Clock chain = 0, all = 0;
};
FinishBounds bound_finish(std::span<const Task> tasks, std::span<const Window> windows, const Means& means);

// True when the schedule does all work inside the windows, one thing at a time a pair of hands, after what it must come
// after, in stretches worth beginning, with no more clamps and means than there are. Knows only the rules.
bool check_schedule(const Schedule& schedule, std::span<const Task> tasks, std::span<const Window> windows,
                    const Means& means);
inline bool check_schedule(const Schedule& schedule, std::span<const Task> tasks, std::span<const Window> windows,
                           int clamps) {
  return check_schedule(schedule, tasks, windows, Means{1, clamps, {}});
}

}  // namespace stickwright
