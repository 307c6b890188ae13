// week_plan.h - the work of a batch, laid over the shop's free hours.
#pragma once
#include <chrono>
#include <string>
#include <vector>

#include "batch/plan.h"
#include "batch/stick_plan.h"
#include "calendar/schedule.h"

namespace stickwright {

// Whom the work of a task is for: one puzzle of the batch, all that need a set-up's blocks, all of a wood, or
// everybody.
struct TaskFor {
  int puzzle = -1;   // index into BatchPlan::puzzles
  int set_up = -1;   // else index into BatchPlan::set_ups
  std::string wood;  // else
};

struct BatchTasks {
  std::vector<Task> tasks;
  std::vector<TaskFor> of;  // as tasks
};

// What has to be done, not yet when.
BatchTasks batch_tasks(const BatchPlan& plan, const StickPlan& sticks);

struct WeekPlan {
  std::vector<Window> windows;  // hours for the work itself: opening and clearing up are taken off; those used
  std::vector<Task> tasks;
  Schedule schedule;
  std::chrono::year_month_day first_day;  // day 0 of all clocks
  int days_late = 0;                      // after the due date; 0 when in time

  std::chrono::year_month_day date_of(Clock t) const;
};

//   errors   those of lay_out, placed at the hours of the shop file where they can be mended
Result<WeekPlan> plan_week(const BatchPlan& plan, const StickPlan& sticks);

std::string show_date(std::chrono::year_month_day date);  // "Tue 28 Jan 2031"
std::string show_clock(Clock t);                          // "18:40"

}  // namespace stickwright
