#include "batch/week_plan.h"

#include <fmt/core.h>

#include <algorithm>
#include <stdexcept>

namespace stickwright {
namespace {

constexpr int kLongestPlanDays = 2 * 366;

std::chrono::sys_days day_number(const Batch& batch, int day) {
  return std::chrono::sys_days(batch.start) + std::chrono::days(day);
}

std::vector<Window> windows_of(const Batch& batch) {
  const StepTimes& t = batch.shop.times;
  std::vector<Window> windows;
  for (int day = 0; day < kLongestPlanDays; ++day) {
    const auto date = day_number(batch, day);
    const auto& off = batch.shop.days_off;
    if (std::find(off.begin(), off.end(), std::chrono::year_month_day(date)) != off.end()) continue;
    for (const WorkingHours& h : batch.shop.hours) {
      if (h.day != std::chrono::weekday(date)) continue;
      const Window w{day * kDay + h.from.v + t.open_up.v, day * kDay + h.to.v - t.clear_up.v};
      if (w.from < w.to) windows.push_back(w);
    }
  }
  return windows;
}

// How many joints are glued at each stage.
std::vector<int> joints_by_stage(const GlueUp& g) {
  std::vector<int> joints;
  for (int stage : glue_stages(g)) {
    joints.resize(std::max(joints.size(), static_cast<std::size_t>(stage)));
    ++joints[static_cast<std::size_t>(stage) - 1];
  }
  return joints;
}

class TaskList {
 public:
  TaskList(const BatchPlan& plan, const StickPlan& sticks, Clock longest)
      : plan_(plan), sticks_(sticks), t_(plan.batch.shop.times), longest_(longest) {
    prepare();
    for (std::size_t k = 0; k < plan_.set_ups.size(); ++k) saw(k);
    for (std::size_t k = 0; k < plan_.puzzles.size(); ++k) {
      of_ = {static_cast<int>(k), -1, ""};
      make(plan_.puzzles[k]);
    }
  }
  BatchTasks take() { return std::move(out_); }

 private:
  // Work of no length counts as a second, so that what follows it still waits for its glue or finish.
  int add(Task task, std::vector<After> after) {
    task.after = std::move(after);
    task.hands_on = std::max<Clock>(1, task.hands_on);
    out_.tasks.push_back(std::move(task));
    out_.of.push_back(of_);
    return static_cast<int>(out_.tasks.size()) - 1;
  }
  static Task task(std::string title, Work work, Clock hands_on) {
    Task t;
    t.title = std::move(title);
    t.work = work;
    t.hands_on = hands_on;
    return t;
  }
  static void follow(std::vector<After>& after, int task, Clock wait = 0) {
    if (task >= 0) after.push_back({task, wait});
  }

  // Milling comes first: a saw that mills the sticks is trued afterwards.
  void prepare() {
    for (const WoodPlan& w : sticks_.woods) {
      of_ = {-1, -1, w.wood};
      if (w.to_mill > 0)
        follow(before_sawing_,
               add(task(fmt::format("Mill {} sticks of {}", w.to_mill, w.wood), Work::milling, w.to_mill * t_.mill.v),
                   {}));
    }
    of_ = {};
    before_sawing_ = {{add(task("True the saw", Work::preparing, t_.true_saw.v), before_sawing_), 0}};
  }

  // Setting the stop, then cutting; one block in so many is measured as it comes off the saw, so that drift shows at
  // once.
  void saw(std::size_t k) {
    of_ = {-1, static_cast<int>(k), ""};
    const SetUp& s = plan_.set_ups[k];
    const std::string name = plan_.split.shapes[s.shape].full_name();
    const auto stops = static_cast<Clock>(s.stops.size()) - (s.stop_stands ? 1 : 0);
    std::vector<After> after = before_sawing_;
    if (stops > 0)
      if (const int set = add(task(fmt::format("Set up for the {}", name), Work::setting,
                                   t_.set_up.v + stops * (t_.stop.v + t_.test_block.v)),
                              after);
          set >= 0)
        after = {{set, 0}};
    const Clock readings = s.readings(t_.measured_every);
    const Clock cutting = s.cuts() * (t_.cut.v + t_.turn.v) + readings * t_.measure.v;
    const int cut =
        add(task(fmt::format("Cut {} x {}, {} {}", s.blocks(), name, readings, readings == 1 ? "reading" : "readings"),
                 Work::cutting, cutting),
            after);
    before_sawing_ = {{cut, 0}};  // one set-up after the other
    sawn_.push_back(cut);
  }

  void make(const PuzzlePlan& p) {
    std::vector<After> ready;
    for (std::size_t i = 0; i < p.design.made.size(); ++i)
      for (int eased : glue_and_ease(p, i)) follow(ready, eased);
    const Clock n = p.copies;
    const std::string what = fmt::format("{} x {}", n, p.design.design.name);
    int last = add(task("Fit " + what, Work::fitting, n * t_.fit.v), ready);
    Clock wait = 0;
    for (int c = 1; c <= t_.coats; ++c) {
      Task coat = task(fmt::format("Coat {} on {}", c, what), Work::finishing, n * t_.coat.v);
      coat.dries = t_.drying.v;
      std::vector<After> after = ready;
      if (last >= 0) after = {{last, wait}};
      last = add(std::move(coat), std::move(after));
      wait = t_.drying.v;
    }
    std::vector<After> before_packing = ready;
    if (last >= 0) before_packing = {{last, wait}};
    add(task("Pack " + what, Work::packing, n * t_.pack.v), std::move(before_packing));
  }

  // Pieces go through the clamps in groups; the last of the returned tasks each end one group.
  std::vector<int> glue_and_ease(const PuzzlePlan& p, std::size_t i) {
    const GlueUp& g = plan_.split.pieces[p.first + i];
    const MadePiece& made = p.design.made[i];
    const std::vector<int> stages = joints_by_stage(g);
    const int pieces = made.copies * p.copies;
    const int most_joints = stages.empty() ? 1 : *std::max_element(stages.begin(), stages.end());
    const auto in_a_window = static_cast<int>(longest_ / std::max<Clock>(1, most_joints * t_.glue.v));
    const int group = stages.empty() ? pieces : std::clamp(in_a_window, 1, t_.clamps);
    std::vector<int> eased;
    for (int first = 1; first <= pieces; first += group) {
      const int last = std::min(pieces, first + group - 1);
      eased.push_back(ease(g, made.name, first, last, glue(g, made.name, stages, first, last)));
    }
    return eased;
  }

  int glue(const GlueUp& g, const std::string& name, const std::vector<int>& stages, int first, int last) {
    std::vector<After> after;
    for (const PlacedBlock& b : g.blocks) follow(after, sawn_[static_cast<std::size_t>(b.shape)]);
    int glued = -1;
    for (std::size_t k = 0; k < stages.size(); ++k) {
      const std::string stage = stages.size() > 1 ? fmt::format(", stage {}", k + 1) : "";
      Task t = task(fmt::format("Glue {} {}-{}{}", name, first, last, stage), Work::gluing,
                    (last - first + 1) * stages[k] * t_.glue.v);
      t.may_split = false;
      t.clamps = last - first + 1;
      t.clamped = t_.clamp.v;
      t.dries = k + 1 == stages.size() ? t_.cure.v : t_.clamp.v;
      glued = add(std::move(t), after);
      after = {};
      follow(after, glued, t_.clamp.v);
    }
    return glued;
  }

  int ease(const GlueUp& g, const std::string& name, int first, int last, int glued) {
    std::vector<After> after;
    follow(after, glued, t_.cure.v);
    if (glued < 0)
      for (const PlacedBlock& b : g.blocks) follow(after, sawn_[static_cast<std::size_t>(b.shape)]);
    const int eased =
        add(task(fmt::format("Ease {} {}-{}", name, first, last), Work::easing, (last - first + 1) * t_.ease.v), after);
    return eased < 0 ? glued : eased;
  }

  const BatchPlan& plan_;
  const StickPlan& sticks_;
  const StepTimes& t_;
  Clock longest_;
  BatchTasks out_;
  TaskFor of_;                        // of the tasks that are added
  std::vector<After> before_sawing_;  // what the next set-up has to wait for
  std::vector<int> sawn_;             // by set-up, hence by shape
};

Clock longest_window(const std::vector<Window>& windows) {
  Clock longest = 0;
  for (const Window& w : windows) longest = std::max(longest, w.to - w.from);
  return longest;
}

int days_late(const Batch& batch, Clock finish) {
  const auto due = std::chrono::sys_days(batch.due), done = day_number(batch, static_cast<int>((finish - 1) / kDay));
  return std::max(0, static_cast<int>((done - due).count()));
}

}  // namespace

std::chrono::year_month_day WeekPlan::date_of(Clock t) const {
  return std::chrono::sys_days(first_day) + std::chrono::days(t / kDay);
}

BatchTasks batch_tasks(const BatchPlan& plan, const StickPlan& sticks) {
  return TaskList(plan, sticks, longest_window(windows_of(plan.batch))).take();
}

Result<WeekPlan> plan_week(const BatchPlan& plan, const StickPlan& sticks) {
  WeekPlan week{windows_of(plan.batch), {}, {}, plan.batch.start, 0};
  week.tasks = batch_tasks(plan, sticks).tasks;
  auto laid = lay_out(week.tasks, week.windows, plan.batch.shop.times.clamps);
  if (!laid) {
    const Problem& p = laid.problem();
    return Problem{p.code, plan.batch.shop.source->file,
                   (p.where.empty() ? "" : p.where + ": ") + p.say + " ([[hours]] of the shop file.)", ""};
  }
  week.schedule = laid.take();
  if (!check_schedule(week.schedule, week.tasks, week.windows, plan.batch.shop.times.clamps))
    throw std::logic_error("the independent checker refuses the schedule");
  std::erase_if(week.windows, [&](const Window& w) { return w.from >= week.schedule.finish; });
  week.days_late = days_late(plan.batch, week.schedule.finish);
  return week;
}

std::string show_date(std::chrono::year_month_day date) {
  constexpr const char* days[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  constexpr const char* months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::chrono::weekday day{std::chrono::sys_days(date)};
  return fmt::format("{} {} {} {}", days[day.c_encoding()], static_cast<unsigned>(date.day()),
                     months[static_cast<unsigned>(date.month()) - 1], static_cast<int>(date.year()));
}

std::string show_clock(Clock t) {
  const Clock minutes = t % kDay / 60;
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

}  // namespace stickwright
