#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "batch/truing_look.h"
#include "packet/flow.h"
#include "packet/known_table.h"
#include "packet/packet.h"
#include "packet/truing_check.h"
#include "packet/truing_view.h"
#include "packet/writing_boxes.h"
#include "shop/jig_lines.h"

namespace stickwright {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kPicture = 82, kGap = 4;

const std::vector<std::string> kCautions = {
    "Saw unplugged while you touch the blade, stand a square against it, or put in leaves; plug in only to cut.",
    "How a saw is trued, and what of it may be shimmed, its manual says; where it says otherwise, it comes first. This "
    "card does not say that a cut is safe.",
    "Blade guard or a shield over the sled; the stick clamped, leaves and tools out of the blade's way."};

double draw_order(Canvas& canvas, At at, double width) {
  double y = at.y;
  y += canvas.text({at.x, y},
                   "Work in this order: blade tilt, cradle roll, cradle pitch, then the miter, with the clamp force "
                   "that you cut with. After a change look again, from the check that you changed.",
                   {.points = 9, .bold = true, .width = width}) +
       1.5;
  y += draw_cautions(canvas, {at.x, y}, width, kCautions) + 3;
  return y - at.y;
}

// What one error of 0.1 degrees makes of a difference of two corner lengths.
double effect_mm(Mm stick, double SawState::*error, double CradleOf<double>::*of_cradle, int plus, int minus) {
  SawState saw = nominal_saw(stick);
  const auto difference = [&] {
    const auto lengths = block_shape(saw).corner_mm;
    return lengths[static_cast<std::size_t>(plus)] - lengths[static_cast<std::size_t>(minus)];
  };
  const double before = difference();
  (error ? saw.*error : saw.cradles[0].*of_cradle) = 0.1 * kDegree;
  return difference() - before;
}

std::vector<std::string> block_words(const Shop& shop, Mm stick) {
  const Program program = truing_block();
  const double per = effect_mm(stick, &SawState::miter_error_rad, nullptr, 2, 0) / 0.1;  // mm per degree
  const double true_mm = 4 * unit_mm(stick);
  return {
      fmt::format("Cut one miter, roll the stick half a turn, set its tip against a square stop about {:.0f} mm from "
                  "the blade and cut the second one. Measure along the four corner lines; take away chips first.",
                  stop_distance(program.stops[0], stick).v),
      fmt::format("near less away: 2.8284 × side of the stick, {:.3f} mm for {:.2f} mm. Every 0.01 mm more is a miter "
                  "error of {:+.4f}°.",
                  true_mm, stick.v, 0.01 / per),
      fmt::format("up less down: 0. It tells tilt, roll and pitch together: 0.1° of tilt reads {:+.3f} mm, of roll "
                  "{:+.3f} mm, of pitch {:+.3f} mm.",
                  effect_mm(stick, &SawState::blade_tilt_rad, nullptr, 1, 3),
                  effect_mm(stick, nullptr, &CradleOf<double>::roll_rad, 1, 3),
                  effect_mm(stick, nullptr, &CradleOf<double>::pitch_rad, 1, 3)),
      fmt::format("With the {} one block and the stick's two sides tell the miter to u = {:.4f}°.",
                  shop.caliper.name.empty() ? "caliper" : shop.caliper.name, u_of_truing_block(shop, stick) / kDegree)};
}

double draw_block(Canvas& canvas, At at, double width, const Shop& shop, Mm stick) {
  double y = at.y + canvas.text(at, "Proof: the truing block", {.points = 11, .bold = true}) + 1;
  const auto lengths = block_shape(nominal_saw(stick)).corner_mm;
  draw_truing_block(canvas, {at.x, y, kPicture, 44}, Mm{lengths[2]}, Mm{lengths[0]});
  const double x = at.x + kPicture + kGap, w = width - kPicture - kGap;
  double down = y;
  const auto words = block_words(shop, stick);
  for (std::size_t i = 0; i < words.size(); ++i)
    down += canvas.text({x, down}, words[i], {.points = 8.5, .bold = i == 1, .width = w}) + 1;
  y = std::max(y + 45, down) + 1;
  y += draw_writing_boxes(canvas, {at.x, y}, width,
                          {"away", "up", "near", "down", "side 1", "side 2", "near – away", "up – down"});
  return y + 4 - at.y;
}

std::vector<std::string> notes_of(const FullPlan& plan) {
  const Batch& batch = plan.batch.batch;
  std::vector<std::string> lines = blade_lines(batch.shop, batch.stick);
  for (const Cradle& c : batch.shop.cradles)
    for (const std::string& line : cradle_lines(c, batch.stick)) lines.push_back(line);
  return lines;
}

double draw_notes(Canvas& canvas, At at, double width, const std::vector<std::string>& lines) {
  double y = at.y + canvas.text(at, "Blade and cradle", {.points = 11, .bold = true}) + 1;
  for (const std::string& line : lines) y += canvas.text({at.x, y}, line, {.points = 8, .width = width}) + 0.8;
  return y + 3 - at.y;
}

double draw_known(Canvas& canvas, At at, double width, const std::vector<Row>& rows) {
  double y = at.y + canvas.text(at, "What is known of this saw", {.points = 11, .bold = true}) + 1;
  y += canvas.text(
           {at.x, y},
           "All predictions in this packet stand on these numbers. What is assumed becomes better when you write "
           "it into the shop file.",
           {.points = 8, .width = width}) +
       1;
  return draw_table(canvas, {at.x, y, width, 1000}, kKnownColumns, rows, 0, 7.5).y + 3 - at.y;
}

}  // namespace

void add_truing_card(Sheets& sheets) {
  const FullPlan& plan = sheets.plan;
  const Shop& shop = plan.batch.batch.shop;
  const Mm stick = plan.batch.batch.stick;
  std::vector<SheetPart> parts = {[](Canvas& c, At at, double w) { return draw_order(c, at, w); }};
  int number = 0;
  for (TruingCheck& check : truing_checks(shop, stick)) {
    check.title = fmt::format("{}. {}", ++number, check.title);
    parts.push_back([&shop, check](Canvas& c, At at, double w) { return draw_truing_check(c, at, w, check, shop); });
  }
  parts.push_back([&shop, stick](Canvas& c, At at, double w) { return draw_block(c, at, w, shop, stick); });
  parts.push_back(
      [rows = known_rows(plan.batch.saw)](Canvas& c, At at, double w) { return draw_known(c, at, w, rows); });
  if (const auto notes = notes_of(plan); !notes.empty())
    parts.push_back([notes](Canvas& c, At at, double w) { return draw_notes(c, at, w, notes); });
  add_flowing_pages(sheets.pages, sheets.paper, sheets.area, "Truing the saw", parts);
}

}  // namespace stickwright
