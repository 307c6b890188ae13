#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <memory>

#include "batch/wording.h"
#include "packet/block_view.h"
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

std::string about_the_stop(const SetUp& s) {
  std::string out;
  if (s.stop_stands) out += "The first stop stands already, from the set-up before. ";
  if (s.leave_standing) out += "The next set-up begins with the same stop: leave it standing.";
  return out;
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
  if (const std::string same = about_the_stop(s); !same.empty())
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

// A row of the card: setting a stop, a cut of the block, or a cut that makes a test piece.
struct CardRow {
  const Program* program = nullptr;  // of the block or of the stand-in; none: set the stop
  std::size_t cut = 0;
  std::size_t stop = 0;
  std::string mark;                // "1", or "T" for a test piece
  std::optional<Mm> across_flats;  // this cut makes the face that is measured
  double least() const { return program ? kLowRow : kStopRow; }
};

// The programs of the stand-ins live as long as the pages that show them.
struct Card {
  const SetUp* set_up;
  std::vector<Program> stand_ins;  // as SetUp::tests
  std::vector<CardRow> rows;
};

std::shared_ptr<const Card> card_of(const SetUp& s) {
  const auto card = std::make_shared<Card>();
  card->set_up = &s;
  for (const TestPlan& t : s.tests) card->stand_ins.push_back(test_program(s.program, t.test));
  for (std::size_t k = 0; k < s.stops.size(); ++k) card->rows.push_back({nullptr, 0, k, "", {}});
  const auto stops = static_cast<std::ptrdiff_t>(s.stops.size());
  const auto measured_at = [](const TestPlan& t, std::size_t cut) -> std::optional<Mm> {
    if (std::max(t.test.face_a, t.test.face_b) != static_cast<int>(cut) + 1) return {};
    return t.test.across_flats;
  };
  for (std::size_t k = 0; k < s.program.cuts.size(); ++k) {
    CardRow row{&s.program, k, static_cast<std::size_t>(s.program.cuts[k].stop), fmt::format("{}", k + 1), {}};
    for (const TestPlan& t : s.tests)
      if (t.test.extra.empty() && !row.across_flats) row.across_flats = measured_at(t, k);
    card->rows.push_back(row);
  }
  for (std::size_t i = 0; i < s.tests.size(); ++i) {
    std::vector<CardRow> rows;
    for (auto k = static_cast<std::size_t>(s.tests[i].test.after_cut); k < card->stand_ins[i].cuts.size(); ++k) {
      const auto stop = static_cast<std::size_t>(card->stand_ins[i].cuts[k].stop);
      rows.push_back({&card->stand_ins[i], k, stop, "T", measured_at(s.tests[i], k)});
    }
    // A test piece of its own is sawn first; one that is a block cut further comes after the block's cuts.
    const bool first = s.tests[i].test.after_cut == 0;
    card->rows.insert(first ? card->rows.begin() + stops : card->rows.end(), rows.begin(), rows.end());
  }
  return card;
}

void draw_stop_row(Canvas& canvas, Box row, const FullPlan& plan, const SetUp& s, const CardRow& r) {
  const std::string mark = s.stops.size() > 1 ? fmt::format("Stop {}. ", r.stop + 1) : "";
  canvas.text({row.x, row.y + 2}, mark + setting_in_words(s.stops[r.stop]), {.points = 8, .width = kWords + 14});
  draw_setting_the_stop(canvas, {row.x + kWords + 18, row.y + 1.5, row.w - kWords - 18, row.h - 2.5}, s.stops[r.stop],
                        plan.batch.batch);
}

std::string words_of(const CardRow& r) {
  const std::string words = cut_in_words(*r.program, r.cut);
  return r.mark == "T" ? "test piece: " + words : words;
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
  y += canvas.text({row.x, y}, words_of(r), {.points = 8.5, .width = kWords - 2}) + 0.5;
  if (!r.program->cuts[r.cut].on_stick)
    canvas.text({row.x, y}, "Clamp it, never hold it by hand.", {.points = 7.5, .bold = true, .width = kWords - 2});
  const double end = std::min(34.0, row.h - 3), measure = r.across_flats ? kMeasure + 2 : 0;
  const double x = row.x + kWords, y1 = row.y + 1.5, h = row.h - 3;
  draw_from_above(canvas, {x, y1, row.w - kWords - end - measure - 3, h}, view);
  draw_from_the_blade(canvas, {row.x + row.w - end - measure, y1, end, h}, view);
  if (r.across_flats) draw_where_to_measure(canvas, {row.x + row.w - kMeasure, y1, kMeasure, h}, view, *r.across_flats);
}

void draw_rows(Canvas& canvas, Box area, const FullPlan& plan, const Card& card, std::size_t first, std::size_t last) {
  double least = 0, cuts = 0;
  for (std::size_t i = first; i < last; ++i) least += card.rows[i].least(), cuts += card.rows[i].program ? 1 : 0;
  const double spread = cuts > 0 ? std::clamp((area.h - least) / cuts, 0.0, kHighRow - kLowRow) : 0;
  double y = area.y;
  for (std::size_t i = first; i < last; ++i) {
    const CardRow& r = card.rows[i];
    const Box row = {area.x, y, area.w, r.least() + (r.program ? spread : 0)};
    canvas.line({row.x, row.y}, {row.x + row.w, row.y}, {.width = 0.2});
    r.program ? draw_cut_row(canvas, row, plan, *card.set_up, r) : draw_stop_row(canvas, row, plan, *card.set_up, r);
    y += row.h;
  }
}

// The first row that does not fit into the room any more.
std::size_t rows_within(const Card& card, std::size_t first, double room) {
  std::size_t i = first;
  for (double y = 0; i < card.rows.size() && (y += card.rows[i].least()) <= room; ++i) {
  }
  return i;
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

void add_card(Sheets& sheets, std::size_t index) {
  const FullPlan& plan = sheets.plan;
  const SetUp& s = plan.batch.set_ups[index];
  const std::string title = fmt::format("Set-up {} of {}: {}", index + 1, plan.batch.set_ups.size(),
                                        plan.batch.split.shapes[s.shape].full_name());
  const auto card = card_of(s);
  const double head = draw_head(sheets.paper, sheets.area, plan, s);
  const double foot =
      draw_cautions(sheets.paper, {sheets.area.x, sheets.area.y}, sheets.area.w, card_cautions(plan, s)) + 1;
  // Cuts are not torn apart: all stand under the head, or they have pages to themselves.
  std::size_t first = rows_within(*card, 0, sheets.area.h - head - foot);
  if (first < card->rows.size()) first = std::min(first, s.stops.size());
  sheets.pages.push_back(
      {title,
       [&plan, card, head, foot, first](Canvas& canvas, Box area) {
         draw_head(canvas, area, plan, *card->set_up);
         draw_rows(canvas, {area.x, area.y + head, area.w, area.h - head - foot}, plan, *card, 0, first);
         draw_cautions(canvas, {area.x, area.y + area.h - foot}, area.w, card_cautions(plan, *card->set_up));
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
