#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "batch/wording.h"
#include "packet/block_view.h"
#include "packet/card_rows.h"
#include "packet/fit_stops.h"
#include "packet/packet.h"
#include "packet/saw_view.h"
#include "packet/stop_view.h"
#include "packet/test_box.h"

namespace stickwright {
namespace {

constexpr double kLowRow = 35, kHighRow = 60;  // mm of page for one cut
constexpr double kStopRow = 20;                // for setting a stop
constexpr double kWords = 44, kMeasure = 30;   // mm of a row for its words; for the picture of what to measure
constexpr double kLeft = 50;                   // mm of the head for the block

std::string woods_line(const SetUp& s) {
  std::vector<std::string> parts;
  for (const auto& [wood, count] : s.needed)
    parts.push_back(fmt::format("{}: {} + {} spare", wood, count, s.spares.at(wood)));
  return fmt::format("{}", fmt::join(parts, "; "));
}

double draw_stop_box(Canvas& canvas, At at, double width, const FullPlan& plan, const SetUp& s, std::size_t k) {
  const StopPlan& stop = s.stops[k];
  const Font small = {.points = 8, .width = width - 4};
  double y = at.y + 1.5;
  const std::string title = s.stops.size() > 1 ? fmt::format("STOP {}", k + 1) : "STOP";
  y += canvas.text({at.x + 2, y}, fmt::format("{}: {} face", title, to_string(stop.stop.face)),
                   {.points = 9, .bold = true}) +
       0.5;
  y += canvas.text({at.x + 2, y}, fmt::format("{:.3f} mm", stop.distance.v), {.points = 20, .bold = true});
  y += canvas.text(
           {at.x + 2, y},
           fmt::format("{:.4f} in, from the contact to the blade plane along the stick's axis", stop.distance.inches()),
           small) +
       1;
  y += canvas.text({at.x + 2, y}, "Gauge blocks", {.points = 9, .bold = true}) + 0.3;
  std::vector<std::string> sizes;
  for (Nm n : stop.sizes) sizes.push_back(fmt::format("{:g}", to_mm(n).v));
  y += canvas.text({at.x + 2, y}, fmt::format("{} mm", fmt::join(sizes, " + ")),
                   {.points = 12, .bold = true, .width = width - 4});
  y += canvas.text({at.x + 2, y}, stack_in_words(plan.batch.batch, stop), small) + 1.5;
  if (const std::string allowance = allowance_on_card(plan, s, k); !allowance.empty()) {
    canvas.line({at.x, y}, {at.x + width, y}, {.width = 0.2});
    y += 1.2;
    y += canvas.text({at.x + 2, y}, kept_together(allowance), {.points = 8, .bold = true, .width = width - 4}) + 1.5;
  }
  canvas.box({at.x, at.y, width, y - at.y}, {}, {.width = 0.35});
  return y - at.y + 2;
}

// What the sheet has to say about the block itself.   returns  the height it takes
double draw_block_column(Canvas& canvas, At at, const FullPlan& plan, const SetUp& s) {
  const Block& b = plan.batch.split.shapes[s.shape];
  const Font font = {.points = 8, .width = kLeft - 4};
  double y = at.y;
  y += canvas.text({at.x, y}, fmt::format("{} blocks", s.blocks()), {.points = 14, .bold = true});
  draw_numbered_block(canvas, {at.x, y, kLeft - 6, 35}, b, s.program);
  y += 35.5;
  y += canvas.text({at.x, y}, "Numbers: the cut that makes the face; 0: the stick's end as it comes.",
                   {.points = 6.5, .width = kLeft - 4, .gray = 0.2}) +
       1;
  y += canvas.text({at.x, y}, woods_line(s), font) + 1;
  y +=
      canvas.text({at.x, y}, fmt::format("Each uses up {:.2f} mm of stick, kerf included.", s.stick_per_block.v), font);
  if (const std::string same = standing_stops_in_words(s); !same.empty())
    y += 1 + canvas.text({at.x, y + 1}, same, {.points = 8, .bold = true, .width = kLeft - 4});
  return y - at.y;
}

double draw_boxes(Canvas& canvas, At at, double width, const FullPlan& plan, const SetUp& s) {
  const double w = (width - 3) / 2;
  double y = at.y;
  for (std::size_t k = 0; k < s.stops.size(); ++k)
    y += std::max(draw_stop_box(canvas, {at.x, y}, w, plan, s, k),
                  draw_test_box(canvas, {at.x + w + 3, y}, w, plan, s, k));
  return y - at.y;
}

// returns  the height it takes
double draw_head(Canvas& canvas, Box area, const FullPlan& plan, const SetUp& s) {
  const double column = draw_block_column(canvas, {area.x, area.y}, plan, s);
  double right = draw_boxes(canvas, {area.x + kLeft, area.y}, area.w - kLeft, plan, s);
  const Font font = {.points = 9, .bold = true, .width = area.w - kLeft};
  right += canvas.text({area.x + kLeft, area.y + right}, start_in_words(s.program), font);
  return std::max(column, right) + 2;
}

double least_height(const CardRow& r) {
  return r.program ? kLowRow : kStopRow;
}

void draw_stop_row(Canvas& canvas, Box row, const FullPlan& plan, const SetUp& s, const CardRow& r) {
  const std::string mark = s.stops.size() > 1 ? fmt::format("Stop {}. ", r.stop + 1) : "";
  canvas.text({row.x, row.y + 2}, mark + row_in_words(s, r), {.points = 8, .width = kWords + 14});
  draw_setting_the_stop(canvas, {row.x + kWords + 18, row.y + 1.5, row.w - kWords - 18, row.h - 2.5}, s.stops[r.stop],
                        plan.batch.batch);
}

void draw_cut_row(Canvas& canvas, Box row, const FullPlan& plan, const SetUp& s, const CardRow& r) {
  const Batch& batch = plan.batch.batch;
  const SawView view{*r.program,
                     r.cut,
                     batch.stick,
                     batch.shop.blade.kerf,
                     batch.shop.sled.clamp_side,
                     s.stops[r.stop].square_stop.has_value()};
  canvas.text({row.x, row.y + 1}, r.mark, {.points = 24, .bold = true});
  double y = row.y + 11;
  y += canvas.text({row.x, y}, row_in_words(s, r), {.points = 8.5, .width = kWords - 2}) + 0.5;
  if (const std::string caution = loose_block_caution(r); !caution.empty())
    canvas.text({row.x, y}, caution, {.points = 7.5, .bold = true, .width = kWords - 2});
  const double end = std::min(34.0, row.h - 3), measure = r.across_flats ? kMeasure + 2 : 0;
  const double x = row.x + kWords, y1 = row.y + 1.5, h = row.h - 3;
  draw_from_above(canvas, {x, y1, row.w - kWords - end - measure - 3, h}, view);
  draw_from_the_blade(canvas, {row.x + row.w - end - measure, y1, end, h}, view);
  if (r.across_flats) draw_where_to_measure(canvas, {row.x + row.w - kMeasure, y1, kMeasure, h}, view, *r.across_flats);
}

void draw_rows(Canvas& canvas, Box area, const FullPlan& plan, const SetUpCard& card, std::size_t first,
               std::size_t last) {
  double least = 0, cuts = 0;
  for (std::size_t i = first; i < last; ++i) least += least_height(card.rows[i]), cuts += card.rows[i].program ? 1 : 0;
  const double spread = cuts > 0 ? std::clamp((area.h - least) / cuts, 0.0, kHighRow - kLowRow) : 0;
  double y = area.y;
  for (std::size_t i = first; i < last; ++i) {
    const CardRow& r = card.rows[i];
    const Box row = {area.x, y, area.w, least_height(r) + (r.program ? spread : 0)};
    canvas.line({row.x, row.y}, {row.x + row.w, row.y}, {.width = 0.2});
    r.program ? draw_cut_row(canvas, row, plan, *card.set_up, r) : draw_stop_row(canvas, row, plan, *card.set_up, r);
    y += row.h;
  }
}

// The first row that does not fit into the room any more.
std::size_t rows_within(const SetUpCard& card, std::size_t first, double room) {
  std::size_t i = first;
  for (double y = 0; i < card.rows.size() && (y += least_height(card.rows[i])) <= room; ++i) {
  }
  return i;
}

void add_card(Sheets& sheets, std::size_t index) {
  const FullPlan& plan = sheets.plan;
  const SetUp& s = plan.batch.set_ups[index];
  const std::string title = fmt::format("Set-up {} of {}: {}", index + 1, plan.batch.set_ups.size(),
                                        plan.batch.split.shapes[s.shape].full_name());
  const auto card = card_of(s);
  const double head = draw_head(sheets.paper, sheets.area, plan, s);
  const double foot = draw_cautions(sheets.paper, {sheets.area.x, sheets.area.y}, sheets.area.w,
                                    saw_cautions(plan.batch.batch.shop, s)) +
                      1;
  // Cuts are not torn apart: all stand under the head, or they have pages to themselves.
  std::size_t first = rows_within(*card, 0, sheets.area.h - head - foot);
  if (first < card->rows.size()) first = std::min(first, s.stops.size());
  sheets.pages.push_back(
      {title,
       [&plan, card, head, foot, first](Canvas& canvas, Box area) {
         draw_head(canvas, area, plan, *card->set_up);
         draw_rows(canvas, {area.x, area.y + head, area.w, area.h - head - foot}, plan, *card, 0, first);
         draw_cautions(canvas, {area.x, area.y + area.h - foot}, area.w,
                       saw_cautions(plan.batch.batch.shop, *card->set_up));
       },
       false});
  for (std::size_t from = first; from < card->rows.size();) {
    const std::size_t to = std::max(from + 1, rows_within(*card, from, sheets.area.h));
    sheets.pages.push_back(
        {title + " (cuts)",
         [&plan, card, from, to](Canvas& canvas, Box area) { draw_rows(canvas, area, plan, *card, from, to); }, true});
    from = to;
  }
}

}  // namespace

void add_set_up_cards(Sheets& sheets) {
  for (std::size_t i = 0; i < sheets.plan.batch.set_ups.size(); ++i) {
    add_card(sheets, i);
    add_measure_pages(sheets, i);
  }
}

}  // namespace stickwright
