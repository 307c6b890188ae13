#include <fmt/core.h>

#include <cmath>

#include "packet/packet.h"

namespace stickwright {
namespace {

std::string hours(Clock seconds) {
  return fmt::format("{} h {:02} min", seconds / 3600, seconds % 3600 / 60);
}

std::string summary(const WeekPlan& week) {
  const Schedule& s = week.schedule;
  std::string out = fmt::format("Done {} at {}", show_date(week.date_of(s.finish)), show_clock(s.finish));
  out += s.verdict == Verdict::found ? "; no plan is faster. "
                                     : fmt::format("; nobody can be done before {} at {}. ",
                                                   show_date(week.date_of(s.bound)), show_clock(s.bound));
  if (week.days_late > 0) out += fmt::format("That is {} days after the due date. ", week.days_late);
  return out + fmt::format("Glue and finish stand for {}, of it {} in working hours. Hands wait {}.",
                           hours(s.drying_total), hours(s.drying_inside), hours(s.idle));
}

struct Axis {
  double x, width;
  Clock last;
  double operator()(Clock t) const { return x + width * static_cast<double>(t) / static_cast<double>(last); }
};

// Free hours as gray bands; days named where there is room.
void draw_days(Canvas& canvas, const Axis& axis, double y, double h, const WeekPlan& week) {
  for (const Window& w : week.windows)
    canvas.box({axis(w.from), y, std::max(0.35, axis(w.to) - axis(w.from)), h}, {.gray = 0.85}, {.width = 0});
  double free_from = 0;
  for (Clock day = 0; day <= axis.last; day += kDay) {
    canvas.line({axis(day), y}, {axis(day), y + h}, {.width = 0.08, .gray = 0.7});
    const auto date = week.date_of(day);
    if (axis(day) < free_from) continue;
    canvas.text({axis(day) + 0.3, y - 3.4},
                fmt::format("{} {}", show_date(date).substr(0, 2), static_cast<unsigned>(date.day())), {.points = 5.5});
    free_from = axis(day) + 9;
  }
}

struct Bars {
  Clock from = -1, end = 0;
};

void draw_picture(Canvas& canvas, Box area, const WeekPlan& week) {
  const double names = 62, step = std::min(4.6, (area.h - 6) / static_cast<double>(week.tasks.size()));
  const Clock last = (week.schedule.finish / kDay + 1) * kDay;
  const Axis axis{area.x + names, area.w - names, last};
  std::vector<int> order;  // as the work is done
  std::vector<bool> seen(week.tasks.size());
  for (const Stretch& s : week.schedule.work)
    if (!seen[s.task]) seen[s.task] = true, order.push_back(s.task);
  draw_days(canvas, axis, area.y + 4, step * static_cast<double>(order.size()), week);
  double y = area.y + 4;
  for (int task : order) {
    const Task& t = week.tasks[task];
    canvas.text({area.x, y + 0.3}, t.title,
                {.points = std::min(6.8, step * 1.75), .width = names - 1, .ellipsis = true});
    Clock end = 0;
    for (const Stretch& s : week.schedule.work) {
      if (s.task != task) continue;
      canvas.box({axis(s.from), y + 0.5, std::max(0.5, axis(s.to) - axis(s.from)), step - 1}, {.gray = 0.1},
                 {.width = 0});
      end = s.to;
    }
    if (t.dries > 0)
      canvas.box({axis(end), y + 0.9, axis(std::min(end + t.dries, last)) - axis(end), step - 1.8},
                 {.gray = 1, .hatch = Hatch::right, .hatch_gap = 0.9}, {.width = 0.15});
    y += step;
    canvas.line({area.x, y}, {area.x + area.w, y}, {.width = 0.05, .gray = 0.75});
  }
}

std::vector<Row> table_rows(const WeekPlan& week) {
  std::vector<Row> rows;
  std::string day;
  for (const Stretch& s : week.schedule.work) {
    const std::string today = show_date(week.date_of(s.from));
    const Task& t = week.tasks[s.task];
    rows.push_back({today == day ? "" : today, fmt::format("{} - {}", show_clock(s.from), show_clock(s.to)), t.title,
                    to_string(t.work), t.dries > 0 ? hours(t.dries) : "", ""});
    day = today;
  }
  return rows;
}

}  // namespace

void add_week_sheets(Sheets& sheets) {
  const WeekPlan& week = sheets.plan.week;
  sheets.pages.push_back({"The weeks at a glance", [&week](Canvas& canvas, Box area) {
                            double y = area.y;
                            y += canvas.text({area.x, y}, summary(week), {.points = 9, .width = area.w}) + 2;
                            y += canvas.text({area.x, y},
                                             "Black: hands on. Hatched: clamped, curing or drying. Gray bands: free "
                                             "hours, opening and clearing up taken off.",
                                             {.points = 7.5, .width = area.w}) +
                                 4;
                            draw_picture(canvas, {area.x, y, area.w, area.y + area.h - y}, week);
                          }});
  add_table_pages(sheets.pages, sheets.paper, sheets.area, "Evening by evening",
                  {{"day", 1.3}, {"time", 1.1}, {"what", 3.6}, {"kind", 0.9}, {"then stands", 1.1}, {"done", 0.5}},
                  table_rows(week));
}

}  // namespace stickwright
