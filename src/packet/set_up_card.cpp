#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "batch/wording.h"
#include "packet/packet.h"
#include "packet/saw_view.h"
#include "packet/solid.h"

namespace stickwright {
namespace {

constexpr double kLowRow = 35, kHighRow = 62;  // mm of page for one cut
constexpr double kCardHead = 71;               // stop, test and picture
constexpr double kMoreStops = 57;              // for each stop besides the first
constexpr double kReadings = 28;               // boxes to write in
constexpr double kCautionRoom = 31;

std::string woods_line(const SetUp& s) {
  std::vector<std::string> parts;
  for (const auto& [wood, count] : s.needed)
    parts.push_back(fmt::format("{}: {} + {} spare", wood, count, s.spares.at(wood)));
  return fmt::format("{}", fmt::join(parts, "; "));
}

std::string also_at_this_stop(const FullPlan& plan, const SetUp& s) {
  std::vector<std::string> names;
  for (int k : s.same_stop_as) names.push_back(plan.batch.split.shapes[plan.batch.set_ups[k].shape].full_name());
  return names.empty() ? ""
                       : fmt::format("The same stop serves the {}: leave it standing.", fmt::join(names, " and the "));
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
  canvas.box({at.x, at.y, width, y - at.y}, {}, {.width = 0.35});
  return y - at.y + 2;
}

double draw_test_box(Canvas& canvas, At at, double width, const FullPlan& plan, const SetUp& s, std::size_t k) {
  const TestPlan& t = s.tests[k];
  const Font small = {.points = 8, .width = width - 4};
  double y = at.y + 1.5;
  y += canvas.text({at.x + 2, y}, s.tests.size() > 1 ? fmt::format("PROVE STOP {}", k + 1) : "PROVE IT",
                   {.points = 9, .bold = true}) +
       0.5;
  y +=
      canvas.text({at.x + 2, y}, fmt::format("{:.3f} ± {:.3f} mm", t.test.across_flats.v, plan.batch.batch.tolerance.v),
                  {.points = 15, .bold = true});
  y += canvas.text({at.x + 2, y},
                   fmt::format("{:.4f} in across flats; a perfect saw with this stack gives {:.3f}. One reading has a "
                               "standard uncertainty of {:.3f} mm",
                               t.test.across_flats.inches(), t.expected.v, t.u_reading.v),
                   small) +
       0.8;
  y += canvas.text({at.x + 2, y}, test_in_words(s.program, t.test) + ".", small) + 0.8;
  y += canvas.text({at.x + 2, y},
                   correction_in_words(s.stops[k], t) +
                       fmt::format(" True the miter first: 0.1° too sharp a point reads like {:+.3f} mm.",
                                   t.test.per_miter_mm_per_rad * 0.1 * 3.14159265358979 / 180),
                   small) +
       1.5;
  canvas.box({at.x, at.y, width, y - at.y}, {}, {.width = 0.35});
  return y - at.y + 2;
}

void draw_head(Canvas& canvas, Box area, double height, const FullPlan& plan, const SetUp& s) {
  const Block& b = plan.batch.split.shapes[s.shape];
  const double left = 50;
  const std::vector<DrawnBody> body = {{b.cells, {}, 1, Hatch::none}};
  draw_solids(canvas, mitered(), body, fit(mitered(), body, {area.x + 4, area.y + 7, left - 12, 25}));
  canvas.text({area.x, area.y}, fmt::format("{} blocks", s.blocks()), {.points = 14, .bold = true});
  double y = area.y + 34;
  y += canvas.text({area.x, y}, woods_line(s), {.points = 8, .width = left - 4}) + 1;
  y += canvas.text(
           {area.x, y},
           fmt::format("Each uses up {:.2f} mm of stick, kerf included. {}", s.stick_per_block.v,
                       s.measurable() ? fmt::format("Measure one in {}.", plan.batch.batch.shop.times.measured_every)
                                      : std::string("It has no two sawn faces to measure across: measure a test piece "
                                                    "from the first stick of each wood.")),
           {.points = 8, .width = left - 4}) +
       1;
  y += canvas.text({area.x, y}, also_at_this_stop(plan, s), {.points = 8, .bold = true, .width = left - 4});
  double right = area.y;
  for (std::size_t k = 0; k < s.stops.size(); ++k) {
    const double w = (area.w - left - 3) / 2;
    const double h1 = draw_stop_box(canvas, {area.x + left, right}, w, plan, s, k);
    const double h2 = draw_test_box(canvas, {area.x + left + w + 3, right}, w, plan, s, k);
    right += std::max(h1, h2);
  }
  const std::string start = start_in_words(s.program);
  const Font font = {.points = 9, .bold = true, .width = area.w - left};
  canvas.text({area.x + left, area.y + height - 2 - canvas.text_height(start, font)}, start, font);
}

void draw_cut(Canvas& canvas, Box row, const FullPlan& plan, const SetUp& s, std::size_t k) {
  const Batch& batch = plan.batch.batch;
  const SawView view{s.program,
                     k,
                     batch.stick,
                     batch.shop.blade.kerf,
                     batch.shop.sled.clamp_side,
                     s.stops[static_cast<std::size_t>(s.program.cuts[k].stop)].square_stop.has_value()};
  canvas.line({row.x, row.y}, {row.x + row.w, row.y}, {.width = 0.2});
  canvas.text({row.x, row.y + 2}, fmt::format("{}", k + 1), {.points = 26, .bold = true});
  const double words = 44, end = std::min(38.0, row.h - 4);
  canvas.text({row.x, row.y + 14}, cut_in_words(s.program, k), {.points = 8.5, .width = words - 3});
  draw_from_above(canvas, {row.x + words, row.y + 1.5, row.w - words - end - 3, row.h - 3}, view);
  draw_from_the_blade(canvas, {row.x + row.w - end, row.y + 1.5, end, row.h - 3}, view);
}

void draw_cuts(Canvas& canvas, Box area, const FullPlan& plan, const SetUp& s, std::size_t from, std::size_t to) {
  const double row = std::min(kHighRow, area.h / static_cast<double>(to - from));
  for (std::size_t k = from; k < to; ++k)
    draw_cut(canvas, {area.x, area.y + static_cast<double>(k - from) * row, area.w, row}, plan, s, k);
}

void draw_readings(Canvas& canvas, Box area) {
  canvas.text({area.x, area.y}, "Readings across flats, mm", {.points = 8, .bold = true});
  constexpr int kBoxes = 10;
  const double w = area.w / kBoxes;
  for (int row = 0; row < 2; ++row)
    for (int i = 0; i < kBoxes; ++i)
      canvas.box({area.x + i * w, area.y + 5 + row * 8, w, 8}, {}, {.width = 0.2, .gray = 0.4});
  const double y = area.y + 24;
  double x = area.x;
  for (const char* label : {"mean", "leaf used", "date", "initials"}) {
    canvas.text({x, y}, label, {.points = 8});
    canvas.line({x + 16, y + 4}, {x + area.w / 4 - 4, y + 4}, {.width = 0.2});
    x += area.w / 4;
  }
}

std::vector<std::string> card_cautions(const FullPlan& plan, const SetUp& s) {
  std::vector<std::string> lines = {
      "Drawn for a sled with the stop at your left and the blade at your right. On a sled the other way round "
      "everything is "
      "mirrored: left-handed blocks come out where right-handed ones are drawn.",
      "Make the stop's face wider than the stick on all sides. Blade at rest before you touch stops, gauge blocks or "
      "off-cuts; no chips in the cradle."};
  const bool loose =
      std::any_of(s.program.cuts.begin(), s.program.cuts.end(), [](const Cut& c) { return !c.on_stick; });
  lines.push_back(plan.batch.batch.shop.sled.clamp_side == Side::left
                      ? "The part between stop and blade is clamped; the stick beyond must be held, too, and the blade "
                        "must stand before you unclamp: a part that is loose at the stop can bind and be thrown."
                      : "The stick is clamped beyond the blade: the severed block lies loose at the stop, where it can "
                        "bind and be thrown. Hold it down as well, or give it room.");
  if (loose)
    lines.push_back(
        "Loose blocks: hold them with a clamp or hold-down, never with fingers. If one cannot be held as the machine's "
        "manual asks, do not make the cut.");
  return lines;
}

// Cuts stand under the head when all of them fit above the readings; else they have a page to themselves.
void add_card(Sheets& sheets, std::size_t index) {
  const FullPlan& plan = sheets.plan;
  const SetUp& s = plan.batch.set_ups[index];
  const std::string title = fmt::format("Set-up {} of {}: {}", index + 1, plan.batch.set_ups.size(),
                                        plan.batch.split.shapes[s.shape].full_name());
  const double head = kCardHead + kMoreStops * static_cast<double>(s.stops.size() - 1);
  const double room = sheets.area.h - head - kReadings - kCautionRoom;
  const std::size_t cuts = s.program.cuts.size();
  const bool all_fit = room / static_cast<double>(cuts) >= kLowRow;
  sheets.pages.push_back({title, [&plan, &s, head, room, all_fit, cuts](Canvas& canvas, Box area) {
                            draw_head(canvas, area, head, plan, s);
                            if (all_fit) draw_cuts(canvas, {area.x, area.y + head, area.w, room}, plan, s, 0, cuts);
                            const double y = area.y + area.h - kReadings - kCautionRoom;
                            draw_cautions(canvas, {area.x, y}, area.w, card_cautions(plan, s));
                            draw_readings(canvas, {area.x, area.y + area.h - kReadings, area.w, kReadings});
                          }});
  const std::size_t per_page = static_cast<std::size_t>(sheets.area.h / kLowRow);
  for (std::size_t from = all_fit ? cuts : 0; from < cuts; from += per_page) {
    const std::size_t to = std::min(from + per_page, cuts);
    sheets.pages.push_back({title + " (cuts)", [&plan, &s, from, to](Canvas& canvas, Box area) {
                              draw_cuts(canvas, area, plan, s, from, to);
                            }});
  }
}

}  // namespace

void add_set_up_cards(Sheets& sheets) {
  for (std::size_t i = 0; i < sheets.plan.batch.set_ups.size(); ++i) add_card(sheets, i);
}

}  // namespace stickwright
