#include <algorithm>
#include <map>

#include "answers/batch_json.h"
#include "serve/batch_told.h"

namespace stickwright {
namespace {

using Json = nlohmann::ordered_json;

std::string stamp_told(const WeekPlan& week, Clock t) {
  return date_told(week.date_of(t)) + "T" + show_clock(t);
}

std::string weekday_told(std::chrono::year_month_day date) {
  return show_date(date).substr(0, 3);
}

// Glue or finish that stands after the last stretch of a task.
struct Drying {
  std::size_t last = 0;  // stretch
  Clock from = 0, to = 0;
};

std::vector<Drying> dryings_of(const WeekPlan& week) {
  std::map<int, std::size_t> last;
  for (std::size_t k = 0; k < week.schedule.work.size(); ++k) last[week.schedule.work[k].task] = k;
  std::vector<Drying> out;
  for (const auto& [task, k] : last)
    if (const Task& t = week.tasks[static_cast<std::size_t>(task)]; t.dries > 0)
      out.push_back({k, week.schedule.work[k].to, week.schedule.work[k].to + t.dries});
  std::stable_sort(out.begin(), out.end(), [](const Drying& a, const Drying& b) { return a.from < b.from; });
  return out;
}

class DaysTold {
 public:
  explicit DaysTold(const WeekPlan& week) : week_(week), dryings_(dryings_of(week)) {}

  // Days with free hours.
  Json run() const {
    Json out = Json::array();
    Clock last = -1;
    for (const Window& w : week_.windows)
      if (const Clock day = w.from / kDay; day != last) out.push_back(day_json(last = day));
    return out;
  }

 private:
  Json day_json(Clock day) const {
    const auto date = week_.date_of(day * kDay);
    return {{"date", date_told(date)},
            {"weekday", weekday_told(date)},
            {"windows", windows_json(day)},
            {"work", work_json(day)},
            {"drying", drying_json(day)}};
  }

  Json windows_json(Clock day) const {
    Json out = Json::array();
    for (const Window& w : week_.windows)
      if (w.from / kDay == day)
        out.push_back({{"from_s", w.from - day * kDay},
                       {"to_s", w.to - day * kDay},
                       {"from", show_clock(w.from)},
                       {"to", show_clock(w.to)}});
    return out;
  }

  Json work_json(Clock day) const {
    Json out = Json::array();
    for (std::size_t k = 0; k < week_.schedule.work.size(); ++k) {
      const Stretch& s = week_.schedule.work[k];
      if (s.from / kDay != day) continue;
      const Task& t = week_.tasks[static_cast<std::size_t>(s.task)];
      out.push_back({{"work", k},
                     {"task", t.title},
                     {"kind", to_string(t.work)},
                     {"from_s", s.from - day * kDay},
                     {"to_s", s.to - day * kDay},
                     {"from", show_clock(s.from)},
                     {"to", show_clock(s.to)},
                     {"dries_until", dries_until(k)}});
    }
    return out;
  }

  Json dries_until(std::size_t stretch) const {
    for (const Drying& d : dryings_)
      if (d.last == stretch) return stamp_told(week_, d.to);
    return nullptr;
  }

  // What stands at some time of the day, cut at its midnights.
  Json drying_json(Clock day) const {
    Json out = Json::array();
    const Clock begins = day * kDay, ends = begins + kDay;
    for (const Drying& d : dryings_) {
      if (d.to <= begins || d.from >= ends) continue;
      const Task& t = week_.tasks[static_cast<std::size_t>(week_.schedule.work[d.last].task)];
      out.push_back({{"task", t.title},
                     {"kind", to_string(t.work)},
                     {"from_s", std::max(d.from, begins) - begins},
                     {"to_s", std::min(d.to, ends) - begins},
                     {"until", stamp_told(week_, d.to)}});
    }
    return out;
  }

  const WeekPlan& week_;
  std::vector<Drying> dryings_;
};

}  // namespace

Json week_told(const BatchPlan& plan, const WeekPlan& week) {
  Json j = week_json(week);
  j["due"] = date_told(plan.batch.due);
  j["days"] = DaysTold(week).run();
  return j;
}

}  // namespace stickwright
