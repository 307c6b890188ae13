#include "packet/truing_check.h"

#include <fmt/core.h>

#include <algorithm>
#include <numbers>

#include "batch/truing_means.h"
#include "packet/shim_table_view.h"
#include "packet/truing_view.h"
#include "packet/writing_boxes.h"

namespace stickwright {
namespace {

constexpr double kPicture = 66, kGap = 4;  // mm of the width for the picture; between columns
constexpr std::size_t kStrip = 12;         // readings in a strip
constexpr Nm kFinestStep{5'000};           // between readings; with coarser steps a reading takes the nearest column

double degrees(double rad) {
  return rad * 180 / std::numbers::pi;
}

// Light or height: what the reading is called.
const char* reading_of(Look look) {
  return look == Look::point || look == Look::blade ? "light" : "height";
}

std::string place_or(const std::string& said, const char* otherwise) {
  return said.empty() ? otherwise : said;
}

TruingCheck tilt_check(const Shop& shop, Mm stick) {
  const TruingLook look = truing_look(shop, stick, Look::blade);
  return {"Blade tilt",
          "Stand the square on the sled, its arm along the blade plate between two teeth, and look for light.",
          "Light at the blade's foot: +, at its top: –. First use the machine's own tilt and stop, as its manual says; "
          "a leaf "
          "is for what is left. If the light grows, it belongs on the other side.",
          look,
          place_or(shop.sled.tilt_leaf_at, "under one edge of the sled's base"),
          "sled.tilt_lever",
          {"light, mm", "leaf", "light after"},
          36,
          [arm = look.over](Canvas& c, Box b) { draw_square_at_blade(c, b, arm); }};
}

TruingCheck roll_check(const Shop& shop, Mm stick) {
  const TruingLook look = truing_look(shop, stick, Look::flanks);
  const std::string at = shop.cradles.empty() ? "" : shop.cradles.front().flank_leaf_at;
  return {"Cradle roll",
          fmt::format("Slide an indicator on the sled: read it on one flank, then on the other, {:g} mm apart and as "
                      "far from the middle of the V.",
                      look.over.v),
          "The flank away from you higher: +. A leaf lifts the flank that is lower.",
          look,
          place_or(at, "under the flank that is lower"),
          "flank_spread of the [[cradle]]",
          {"height, mm", "leaf", "height after"},
          36,
          [places = look.over](Canvas& c, Box b) { draw_indicator_on_flanks(c, b, places); }};
}

TruingCheck pitch_check(const Shop& shop, Mm stick) {
  const TruingLook look = truing_look(shop, stick, Look::bar);
  return {"Cradle pitch",
          fmt::format("Clamp a straight bar in the V and read the indicator on it at two places {:g} mm apart.",
                      look.over.v),
          "The end towards the blade higher: +.",
          look,
          turn_means(shop)[static_cast<std::size_t>(Error::pitch)].at,
          "length of the [[cradle]]",
          {"height, mm", "leaf", "height after"},
          42,
          [bar = look.over](Canvas& c, Box b) { draw_bar_in_cradle(c, b, bar); }};
}

std::string clamp_in_words(const Shop& shop) {
  if (shop.cradles.empty()) return "Clamp the stick as you clamp it to cut.";
  return fmt::format("Clamp the stick as you clamp it to cut, with {:.0f} N, in the {}.",
                     shop.cradles.front().clamp_force.v, shop.cradles.front().name);
}

TruingCheck miter_check(const Shop& shop, Mm stick) {
  const TruingLook look = truing_look(shop, stick, Look::point);
  const std::string at = shop.cradles.empty() ? "" : shop.cradles.front().leaf_at;
  const double seen = degrees(0.01 / (2 * stick.v));
  return {"Miter",
          clamp_in_words(shop) +
              " Cut one miter, roll the stick half a turn, cut the opposite one to a point. Hold the square over it.",
          fmt::format("Light at the tip: the point is wider than 90°, the miter error is +. Light at the ends of the "
                      "arms: too sharp, –. On the stick's own faces, {:g} mm long, 0.01 mm of light is already "
                      "{:.3f}°. Cut again after the leaf; if there is more light, the leaf belongs on the other side.",
                      stick.v, seen),
          look,
          place_or(at, "beside the cradle, at its far end from the pivot"),
          "pivot_to_leaf of the [[cradle]]",
          {"light, mm", "tip or ends", "leaf", "light after"},
          44,
          [](Canvas& c, Box b) { draw_point_and_square(c, b); }};
}

std::vector<Row> angle_strip(const TruingLook& look) {
  std::vector<Row> rows = {{"mm"}, {"angle"}};
  for (const double mm : {0.01, 0.02, 0.03, 0.05, 0.07, 0.1, 0.15, 0.2, 0.3, 0.5}) {
    rows[0].push_back(fmt::format("{:g}", mm));
    rows[1].push_back(fmt::format("{:.3f}°", degrees(look.rad_per_mm * mm)));
  }
  return rows;
}

double draw_strip(Canvas& canvas, At at, double width, const std::vector<Row>& rows) {
  std::vector<Column> columns(rows.front().size(), Column{"", 1, Align::center});
  columns.front() = {"", 1.05};
  double y = at.y;
  canvas.line({at.x, y}, {at.x + width, y}, {.width = 0.25});
  for (const Row& row : rows) y = draw_table(canvas, {at.x, y, width, 1000}, columns, {row}, 0, 8.5).y;
  return y - at.y;
}

// Words, formula, when to leave it, and blanks.
double draw_words(Canvas& canvas, At at, double width, const TruingCheck& check) {
  const Font font = {.points = 8.5, .width = width};
  double y = at.y;
  for (const std::string& words : {check.what, check.means}) y += canvas.text({at.x, y}, words, font) + 1;
  y += canvas.text({at.x, y}, formula_in_words(check.look), {.points = 9, .bold = true, .width = width}) + 1;
  y += canvas.text({at.x, y}, leave_in_words(check.look), font) + 1.5;
  return y + draw_writing_boxes(canvas, {at.x, y}, width, check.blanks) - at.y;
}

std::string strip_title(const TruingCheck& check, bool leaves) {
  if (leaves)
    return fmt::format("{}, mm, and the leaves for it, mm, {}, or on the other side:",
                       sign_of_square(check.look.look) != 0 ? "Light" : "Height", check.leaf_place);
  if (check.missing_key.empty()) return "What a reading means:";
  return fmt::format("What a reading means; with {} in the shop file and leaves, the leaf would stand here:",
                     check.missing_key);
}

}  // namespace

std::string formula_in_words(const TruingLook& look) {
  const bool twice = look.look == Look::point;
  return fmt::format("{} = {} / {}{:g} mm{}: 0.05 mm is {:.3f}°.", to_string(look.tells), reading_of(look.look),
                     twice ? "(2 × " : "", look.over.v, twice ? ")" : "", degrees(look.rad_per_mm * 0.05));
}

std::string leave_in_words(const TruingLook& look) {
  return fmt::format("Below {:.3f} mm leave it alone: {} the {} to u = {:.4f}° and no better.", look.leave_below().v,
                     sign_of_square(look.look) != 0 ? "eye and square tell" : "the indicator tells", to_string(look.tells),
                     degrees(look.u_rad));
}

std::vector<TruingCheck> truing_checks(const Shop& shop, Mm stick) {
  return {tilt_check(shop, stick), roll_check(shop, stick), pitch_check(shop, stick), miter_check(shop, stick)};
}

std::vector<Row> strip_rows(const TruingCheck& check, const Shop& shop) {
  const std::vector<LeafRow> leaves = leaves_for(check.look, shop, kStrip);
  if (leaves.empty()) return angle_strip(check.look);
  const bool fine = leaves.size() < 2 || leaves[1].first.v - leaves[0].last.v <= kFinestStep.v;
  std::vector<Row> rows = {{fine ? "up to" : "near"}, {"leaves"}};
  for (const LeafRow& r : leaves) {
    const double reading = fine ? to_mm(r.last).v : 0.5 * (to_mm(r.first).v + to_mm(r.last).v);
    rows[0].push_back(fmt::format("{:.3f}", reading));
    rows[1].push_back(r.leaves.empty() ? "none" : leaves_in_words(shop.feeler_leaves, r.leaves));
  }
  return rows;
}

double draw_truing_check(Canvas& canvas, At at, double width, const TruingCheck& check, const Shop& shop) {
  double y = at.y + canvas.text(at, check.title, {.points = 11, .bold = true}) + 1;
  const double words = draw_words(canvas, {at.x + kPicture + kGap, y}, width - kPicture - kGap, check);
  check.picture(canvas, {at.x, y, kPicture, check.picture_height});
  y += std::max(words, check.picture_height) + 1.5;
  const std::vector<Row> rows = strip_rows(check, shop);
  y += canvas.text({at.x, y}, strip_title(check, rows[1].front() == "leaves"),
                   {.points = 8, .bold = true, .width = width}) +
       0.8;
  return y + draw_strip(canvas, {at.x, y}, width, rows) + 4 - at.y;
}

}  // namespace stickwright
