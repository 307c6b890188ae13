#include "answers/batch_report.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "batch/wording.h"

namespace stickwright {
namespace {

// "leaf 0.3 + 0.05", or what else to do about a reading.
std::string row_in_words(const ShimRow& row, const std::vector<Nm>& leaves) {
  std::vector<std::string> sizes;
  for (std::size_t i : row.shim.leaves) sizes.push_back(fmt::format("{:.2f}", to_mm(leaves[i]).v));
  switch (row.advice) {
    case StopAdvice::shim:
      return fmt::format("{} {}", sizes.size() == 1 ? "leaf" : "leaves", fmt::join(sizes, " + "));
    case StopAdvice::leave:
      return "leave it";
    case StopAdvice::true_the_miter:
      return "true the miter";
    case StopAdvice::remake:
      return "set it anew";
  }
  return "";
}

// What to do about every reading, three to a line, in columns.
std::string table_lines(const TestPlan& t, const std::vector<Nm>& leaves) {
  constexpr std::size_t kInALine = 3;
  std::vector<std::string> cells;
  std::size_t width = 0;
  for (const ShimRow& row : t.shim_table) {
    cells.push_back(fmt::format("{:.3f} to {:.3f}: {}", row.first.v, row.last.v, row_in_words(row, leaves)));
    width = std::max(width, cells.back().size());
  }
  std::string out;
  for (std::size_t k = 0; k < cells.size(); ++k) {
    const bool ends_line = k % kInALine + 1 == kInALine || k + 1 == cells.size();
    if (k % kInALine == 0) out += k == 0 ? "       measured " : "                ";
    out += ends_line ? cells[k] + "\n" : fmt::format("{:<{}}   ", cells[k], width);
  }
  return out;
}

// Where numbers of the saw take the size one way whichever way they go themselves, the mean of many saws is not the
// size on the saw as it is known best.
std::string bend_line(const Prediction& p) {
  if (!p.sampled) return "";
  std::vector<std::string> names;
  for (const Influence& i : p.influences)
    if (i.slope.has_kink() && i.known.u > 0) names.push_back(i.parameter.name);
  return fmt::format(
      "       What that leaves out: {} do not move the size evenly to both sides. Of {} saws drawn the mean is {:.3f} "
      "mm, "
      "u = {} mm.\n",
      fmt::join(names, ", "), p.sampled->trials, p.sampled->value, two_digits(p.sampled->u));
}

std::string test_lines(const SetUp& s, std::size_t k, const Batch& batch) {
  const TestPlan& t = s.tests[k];
  std::string out = "  test " + test_in_words(s.program, t.test) + "\n";
  out += fmt::format(
      "       should measure {} +- {:.3f} mm across flats; with this stack, on the saw as it is known, {:.3f} mm is "
      "expected.\n",
      show_mm_inch(t.test.across_flats, 3), batch.tolerance.v, t.expected().v);
  out += "       " + budget_sentence(t.prediction.budget) + "\n" + bend_line(t.prediction);
  out += table_lines(t, batch.shop.feeler_leaves);
  return out;
}

std::string set_up_report(const BatchPlan& plan, const SetUp& s) {
  const Block& b = plan.split.shapes[s.shape];
  std::string out = fmt::format("\n{}: {} blocks, {} cells, {} faces\n", b.full_name(), s.blocks(), b.cells.size(),
                                b.body.faces.size());
  for (std::size_t k = 0; k < s.stops.size(); ++k) {
    const StopPlan& stop = s.stops[k];
    out += fmt::format("  stop {}: {} face, {} contact, {} from the blade plane\n", k + 1, to_string(stop.stop.face),
                       to_string(stop.stop.contact), show_mm_inch(stop.distance));
    out += fmt::format("       {}\n", stack_in_words(plan.batch, stop));
  }
  out += "  " + start_in_words(s.program) + "\n";
  for (std::size_t k = 0; k < s.program.cuts.size(); ++k)
    out += fmt::format("  cut {}: {}\n", k + 1, cut_in_words(s.program, k));
  for (std::size_t k = 0; k < s.tests.size(); ++k) out += test_lines(s, k, plan.batch);
  return out;
}

// "5 x prism block, 1 x test piece (prism block)"
std::string stick_contents(const BatchPlan& plan, const WoodPlan& w, const CutStick& s) {
  std::vector<std::string> runs;
  for (std::size_t i = 0, j = 0; i < s.parts.size(); i = j) {
    while (j < s.parts.size() && s.parts[j] == s.parts[i]) ++j;
    const WantedPart& part = w.parts[s.parts[i]];
    const std::string name = plan.split.shapes[plan.set_ups[part.set_up].shape].full_name();
    runs.push_back(fmt::format("{} x {}", j - i, part.is_test ? "test piece (" + name + ")" : name));
  }
  return fmt::format("{}", fmt::join(runs, ", "));
}

std::string hours(Clock seconds) {
  return fmt::format("{}:{:02} h", seconds / 3600, seconds % 3600 / 60);
}

}  // namespace

std::string sticks_report(const BatchPlan& plan, const StickPlan& sticks) {
  std::string out =
      fmt::format("{} sticks; fewer than {} cannot do. Lost at the head {:.1f} mm, kept as tail {:.1f} mm.\n",
                  sticks.used(), sticks.bound(), to_mm(sticks.rules.head).v, to_mm(sticks.rules.tail).v);
  for (const WoodPlan& w : sticks.woods) {
    out += fmt::format("{}: {} sticks ({}), {} to mill\n", w.wood, w.plan.used(),
                       w.plan.verdict == Verdict::found ? "proven fewest" : fmt::format("at least {}", w.plan.bound),
                       w.to_mill);
    for (const CutStick& s : w.plan.sticks)
      out += fmt::format("  {:.0f} mm: {}; {:.1f} mm left\n", to_mm(s.length).v, stick_contents(plan, w, s),
                         to_mm(s.left).v);
  }
  return out;
}

std::string week_report(const WeekPlan& week) {
  const Schedule& s = week.schedule;
  std::string out = fmt::format("Done {} at {}{}; nobody can be done before {} at {}.\n",
                                show_date(week.date_of(s.finish)), show_clock(s.finish),
                                week.days_late > 0 ? fmt::format(", {} days late", week.days_late) : std::string(),
                                show_date(week.date_of(s.bound)), show_clock(s.bound));
  out += fmt::format("Glue and finish dry {}, of it {} in working hours; hands wait {}.\n", hours(s.drying_total),
                     hours(s.drying_inside), hours(s.idle));
  std::string day;
  for (const Stretch& st : s.work) {
    const std::string today = show_date(week.date_of(st.from));
    if (today != day) out += today + "\n";
    day = today;
    out += fmt::format("  {} - {}  {}\n", show_clock(st.from), show_clock(st.to), week.tasks[st.task].title);
  }
  return out;
}

std::string plan_report(const FullPlan& plan) {
  const BatchPlan& b = plan.batch;
  std::string out =
      fmt::format("{} of {}: sticks of {}\n", b.batch.name, b.batch.shop.name, show_mm_inch(b.batch.stick, 2));
  for (const PuzzlePlan& p : b.puzzles) {
    std::size_t pieces = p.design.standing.size();
    out += fmt::format("  {} x {}: {} pieces, goes together in {}, apart in {} steps\n", p.copies, p.design.design.name,
                       pieces, ways_in_words(p.design.assemblies), p.design.take_apart.steps.size());
  }
  if (b.split.verdict == Verdict::stopped)
    out += "  The comparison of ways to split pieces was stopped: a better split may be possible.\n";
  for (const SetUp& s : b.set_ups)
    out += fmt::format("  {:>4} x {}: stop at {}, {} contact, {} cuts each\n", s.blocks(),
                       b.split.shapes[s.shape].full_name(), show_mm_inch(s.stops[0].distance),
                       to_string(s.stops[0].stop.contact), s.program.cuts.size());
  for (const WoodPlan& w : plan.sticks.woods)
    out += fmt::format("  {:>4} sticks of {} ({}), {} of them to mill\n", w.plan.used(), w.wood,
                       w.plan.verdict == Verdict::found ? "proven fewest" : fmt::format("at least {}", w.plan.bound),
                       w.to_mill);
  out += "  " + week_report(plan.week).substr(0, week_report(plan.week).find('\n') + 1);
  return out;
}

std::string setups_report(const BatchPlan& plan) {
  std::string out = fmt::format("{}: {} set-ups for sticks of {}\n", plan.batch.name, plan.set_ups.size(),
                                show_mm_inch(plan.batch.stick, 2));
  for (const SetUp& s : plan.set_ups) out += set_up_report(plan, s);
  out +=
      "\nReadings and leaves in mm; a leaf goes between stop and back stop. Stacks to set a stop anew, and readings "
      "beyond the tables: `stickwright correct`.\n";
  return out;
}

}  // namespace stickwright
