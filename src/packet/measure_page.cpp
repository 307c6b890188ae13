#include <fmt/core.h>

#include <algorithm>

#include "batch/truing_look.h"
#include "batch/wording.h"
#include "packet/budget_view.h"
#include "packet/flow.h"
#include "packet/packet.h"
#include "packet/shim_table_view.h"
#include "packet/test_box.h"
#include "packet/writing_boxes.h"

namespace stickwright {
namespace {

constexpr double kWords = 74, kGap = 4;         // mm of the width for words and bars; between columns
constexpr double kBars = 60, kBarsOfMany = 30;  // mm of height for the bars, at most; where more stops share a page
constexpr std::size_t kRows = 24, kRowsOfMany = 12;  // of a shim table, at most
constexpr int kBoxesInARow = 8, kMostRows = 5;

// What a page says of one stop.
struct StopPart {
  const FullPlan& plan;
  const SetUp& set_up;
  std::size_t stop;
  std::vector<ShimRow> trued;  // the table of a trued miter, where the miter as it is known leaves no room for shims
};

StopPart stop_part(const FullPlan& plan, const SetUp& s, std::size_t k) {
  const auto& rows = s.tests[k].shim_table;
  const bool shims =
      std::any_of(rows.begin(), rows.end(), [](const ShimRow& row) { return row.advice == StopAdvice::shim; });
  return {plan, s, k, shims ? std::vector<ShimRow>{} : trued_shim_table(plan.batch, s, k)};
}

double draw_what_proves(Canvas& canvas, At at, double width, const StopPart& p) {
  const TestPlan& t = p.set_up.tests[p.stop];
  const Font words = {.points = 8.5, .width = width};
  double y = at.y;
  y += canvas.text({at.x, y}, p.set_up.stops.size() > 1 ? fmt::format("STOP {}", p.stop + 1) : "THE STOP",
                   {.points = 11, .bold = true}) +
       0.5;
  y += canvas.text({at.x, y}, fmt::format("{:.3f} mm", t.test.across_flats.v), {.points = 24, .bold = true});
  y += canvas.text({at.x, y}, fmt::format("± {:.3f} mm across flats", p.plan.batch.batch.tolerance.v),
                   {.points = 12, .bold = true}) +
       1;
  y += canvas.text({at.x, y}, test_in_words(p.set_up.program, t.test) + ".", words) + 1;
  y += canvas.text({at.x, y},
                   expected_in_words(t) +
                       fmt::format(" One reading by itself has a standard uncertainty of {:.3f} mm.", t.u_reading.v),
                   words) +
       1;
  if (const std::string bend = bend_in_words(t.prediction); !bend.empty()) y += canvas.text({at.x, y}, bend, words) + 1;
  y += canvas.text({at.x, y + 1}, "What a reading is uncertain by", {.points = 8, .bold = true, .width = width}) + 1.5;
  const double bars = p.set_up.stops.size() > 1 ? kBarsOfMany : kBars;
  return y + draw_budget_bars(canvas, {at.x, y, width, bars}, t.prediction.budget) - at.y;
}

double draw_tables(Canvas& canvas, At at, double width, const StopPart& p) {
  const TestPlan& t = p.set_up.tests[p.stop];
  const std::vector<Nm>& owned = p.plan.batch.batch.shop.feeler_leaves;
  const std::size_t most = p.set_up.stops.size() > 1 ? kRowsOfMany : kRows;
  const double w = (width - kGap) / 2;
  const ShimTableView now = {"As the saw is known now", t.shim_table, owned, t.test.across_flats,
                             most};
  const ShimTableView trued = {"Miter trued first, with the square", p.trued, owned, t.test.across_flats, most};
  const double left = draw_shim_table(canvas, at, w, now);
  if (p.trued.empty()) return left;
  return std::max(left, draw_shim_table(canvas, {at.x + w + kGap, at.y}, w, trued));
}

double draw_stop(Canvas& canvas, At at, double width, const StopPart& p) {
  const double left = draw_what_proves(canvas, at, kWords, p);
  const double right = draw_tables(canvas, {at.x + kWords + kGap, at.y}, width - kWords - kGap, p);
  double y = at.y + std::max(left, right) + 2.5;
  y += draw_writing_boxes(canvas, {at.x, y}, width, {"to prove it: 1", "2", "3", "4", "mean", "leaves put in"}) + 3;
  canvas.line({at.x, y}, {at.x + width, y}, {.width = 0.35});
  return y + 3 - at.y;
}

int readings_of(const FullPlan& plan, const SetUp& s) {
  return s.readings(plan.batch.batch.shop.times.measured_every);
}

std::string readings_title(const FullPlan& plan, const SetUp& s) {
  const std::string which = s.measurable() ? fmt::format("one block in {}", plan.batch.batch.shop.times.measured_every)
                                           : std::string("a test piece from the first stick of each wood");
  return fmt::format("Readings across flats, mm: {} of them, {}", readings_of(plan, s), which);
}

// A numbered box for each reading that the plan asks for, up to five rows of them, and who measured when.
double draw_readings(Canvas& canvas, At at, double width, const FullPlan& plan, const SetUp& s) {
  const int rows = std::clamp((readings_of(plan, s) + kBoxesInARow - 1) / kBoxesInARow, 1, kMostRows);
  double y = at.y + canvas.text(at, readings_title(plan, s), {.points = 9, .bold = true}) + 1;
  for (int row = 0; row < rows; ++row) {
    std::vector<std::string> labels;
    for (int i = 1; i <= kBoxesInARow; ++i) labels.push_back(std::to_string(row * kBoxesInARow + i));
    y += draw_writing_boxes(canvas, {at.x, y}, width, labels);
  }
  y += 2.5;
  double x = at.x;
  for (const char* label : {"mean", "leaves", "date", "initials"}) {
    canvas.text({x, y}, label, {.points = 8});
    canvas.line({x + 14, y + 4}, {x + width / 4 - 4, y + 4}, {.width = 0.2});
    x += width / 4;
  }
  y += 6;
  return y +
         canvas.text(
             {at.x, y},
             "Leaves go between stop and back stop; between two rows of a table take the nearer one. Beyond the "
             "table, or with several readings: stickwright correct. To keep readings: stickwright record.",
             {.points = 8, .width = width}) -
         at.y;
}

}  // namespace

void add_measure_pages(Sheets& sheets, std::size_t index) {
  const FullPlan& plan = sheets.plan;
  const SetUp& s = plan.batch.set_ups[index];
  std::vector<SheetPart> parts;
  for (std::size_t k = 0; k < s.tests.size(); ++k)
    parts.push_back([p = stop_part(plan, s, k)](Canvas& canvas, At at, double width) {
      return draw_stop(canvas, at, width, p);
    });
  parts.push_back(
      [&plan, &s](Canvas& canvas, At at, double width) { return draw_readings(canvas, at, width, plan, s); });
  add_flowing_pages(sheets.pages, sheets.paper, sheets.area,
                    fmt::format("Set-up {}: measure and correct, {}", index + 1,
                                plan.batch.split.shapes[static_cast<std::size_t>(s.shape)].full_name()),
                    parts);
}

}  // namespace stickwright
