#include <fmt/core.h>

#include <algorithm>

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

constexpr double kNames = 62, kBarStep = 4.6, kDays = 7;  // mm: the titles; one bar; the days' names above
constexpr double kWorkBar = 0.8;                          // mm: a quarter of an hour can be seen

// Free hours as gray bands. Days with free hours are named, the others have a fine line.
void draw_days(Canvas& canvas, const Axis& axis, double y, double h, const WeekPlan& week) {
  for (Clock day = 0; day <= axis.last; day += kDay)
    canvas.line({axis(day), y}, {axis(day), y + h}, {.width = 0.08, .gray = 0.75});
  double free_from = 0;
  Clock named = -1;
  for (const Window& w : week.windows) {
    const Clock day = w.from / kDay;
    canvas.box({axis(w.from), y, std::max(kWorkBar, axis(w.to) - axis(w.from)), h}, {.gray = 0.85}, {.width = 0});
    if (day == named) continue;
    named = day;
    if (axis(w.from) - 3 < free_from) continue;
    const auto date = week.date_of(day * kDay);
    const Font font = {.points = 5.5, .align = Align::center};
    canvas.text({axis(w.from), y - 6.2}, show_date(date).substr(0, 3), font);
    canvas.text({axis(w.from), y - 3.6}, fmt::format("{}", static_cast<unsigned>(date.day())), font);
    free_from = axis(w.from) + 3;
  }
}

std::vector<int> in_order_of_work(const WeekPlan& week) {
  std::vector<int> order;
  std::vector<bool> seen(week.tasks.size());
  for (const Stretch& s : week.schedule.work)
    if (!seen[static_cast<std::size_t>(s.task)]) seen[static_cast<std::size_t>(s.task)] = true, order.push_back(s.task);
  return order;
}

void draw_task(Canvas& canvas, Box row, const Axis& axis, const WeekPlan& week, int task) {
  const Task& t = week.tasks[static_cast<std::size_t>(task)];
  canvas.text({row.x, row.y + 0.6}, t.title, {.points = 6.8, .width = kNames - 1, .ellipsis = true});
  Clock end = 0;
  for (const Stretch& s : week.schedule.work)
    if (s.task == task) end = std::max(end, s.to);
  if (t.dries > 0)
    canvas.box({axis(end), row.y + 0.9, axis(std::min(end + t.dries, axis.last)) - axis(end), row.h - 1.8},
               {.gray = 1, .hatch = Hatch::right, .hatch_gap = 0.9}, {.width = 0.15});
  for (const Stretch& s : week.schedule.work)
    if (s.task == task)
      canvas.box({axis(s.from), row.y + 0.5, std::max(kWorkBar, axis(s.to) - axis(s.from)), row.h - 1}, {.gray = 0.1},
                 {.width = 0});
  canvas.line({row.x, row.y + row.h}, {row.x + row.w, row.y + row.h}, {.width = 0.05, .gray = 0.75});
}

// The tasks from `first` to `last`, in the order in which they are begun.
void draw_picture(Canvas& canvas, Box area, const WeekPlan& week, std::size_t first, std::size_t last) {
  const Clock whole = (week.schedule.finish / kDay + 1) * kDay;
  const Axis axis{area.x + kNames, area.w - kNames, whole};
  const std::vector<int> order = in_order_of_work(week);
  draw_days(canvas, axis, area.y + kDays, kBarStep * static_cast<double>(last - first), week);
  for (std::size_t i = first; i < last; ++i)
    draw_task(canvas, {area.x, area.y + kDays + kBarStep * static_cast<double>(i - first), area.w, kBarStep}, axis,
              week, order[i]);
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

double draw_words(Canvas& canvas, Box area, const WeekPlan& week) {
  double y = area.y;
  y += canvas.text({area.x, y}, summary(week), {.points = 9, .width = area.w}) + 2;
  y += canvas.text({area.x, y},
                   "Black: hands on. Hatched: clamped, curing or drying. Gray bands: free hours, opening and clearing "
                   "up taken off.",
                   {.points = 7.5, .width = area.w}) +
       3;
  return y - area.y;
}

void add_pictures(Sheets& sheets, const WeekPlan& week) {
  const std::size_t tasks = in_order_of_work(week).size();
  const double top = draw_words(sheets.paper, sheets.area, week);
  const auto a_page = static_cast<std::size_t>((sheets.area.h - top - kDays) / kBarStep);
  for (std::size_t first = 0; first == 0 || first < tasks; first += a_page) {
    const std::size_t last = std::min(tasks, first + a_page);
    sheets.pages.push_back({"The weeks at a glance",
                            [&week, top, first, last](Canvas& canvas, Box area) {
                              draw_words(canvas, area, week);
                              draw_picture(canvas, {area.x, area.y + top, area.w, area.h - top}, week, first, last);
                            },
                            first > 0});
  }
}

}  // namespace

void add_week_sheets(Sheets& sheets) {
  const WeekPlan& week = sheets.plan.week;
  add_pictures(sheets, week);
  add_table_pages(sheets.pages, sheets.paper, sheets.area, "Evening by evening",
                  {{"day", 1.3}, {"time", 1.1}, {"what", 3.6}, {"kind", 0.9}, {"then stands", 1.1}, {"done", 0.5}},
                  table_rows(week));
}

}  // namespace stickwright
