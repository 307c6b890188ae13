#include "packet/truing_view.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace stickwright {
namespace {

constexpr double kLean = 7 * std::numbers::pi / 180;  // errors are drawn this large, so that they can be seen
const Font kSmall = {.points = 6.5};
const Ink kSteel = {.gray = 1, .hatch = Hatch::level, .hatch_gap = 1.0};
const Ink kJig = {.gray = 0.9};
const Ink kWood = {.gray = 0.76};

At turned(At center, At p, double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return center + At{c * p.x - s * p.y, s * p.x + c * p.y};
}

std::vector<At> turned(At center, const std::vector<At>& points, double angle) {
  std::vector<At> out;
  for (At p : points) out.push_back(turned(center, p, angle));
  return out;
}

// What is read there, with a line to its words.
void point_out(Canvas& canvas, At what, At words, const std::string& text, Align align = Align::left) {
  canvas.line(what, words, {.width = 0.15});
  canvas.disc(what, 0.45, {.gray = 0});
  const double aside = align == Align::left ? 0.8 : -0.8;
  canvas.text(words + At{aside, -1.4}, text, {.points = 7, .bold = true, .align = align});
}

void draw_indicator(Canvas& canvas, At tip) {
  canvas.line(tip, tip + At{0, -6}, {.width = 0.5});
  canvas.disc(tip + At{0, -8.2}, 2.2, {.gray = 1}, {.width = 0.4});
  canvas.line(tip + At{0, -8.2}, tip + At{1.1, -9.4}, {.width = 0.3});
}

// The V from its end, and its middle groove; up is away from `bottom`.
std::vector<At> cradle_outline(double v) {
  return {{-v, -v}, {-0.1 * v, -0.1 * v}, {-0.1 * v, 0.12 * v}, {0.1 * v, 0.12 * v},  {0.1 * v, -0.1 * v},
          {v, -v},  {1.25 * v, -v},       {1.25 * v, 0.4 * v},  {-1.25 * v, 0.4 * v}, {-1.25 * v, -v}};
}

// A point under a square whose inner corner is at `corner` and opens to the left; `sharper` than a right angle, or
// wider. The square touches the point at its tip, or at the ends of its faces.
void draw_one_point(Canvas& canvas, At corner, double face, double sharper, const std::string& name) {
  const double half = std::numbers::pi / 4 - sharper;
  const At end = {-face * std::cos(half), face * std::sin(half)};
  // A wide point stands off the corner until its faces' ends touch the arms at 45 degrees.
  const double off = sharper < 0 ? std::abs(end.x) - end.y : 0;
  const At tip = corner + At{off < 0 ? off : 0, 0}, up = tip + At{end.x, -end.y}, down = tip + At{end.x, end.y};
  const double back = 6;
  canvas.polygon({up + At{-back, 0}, up, tip, down, down + At{-back, 0}}, kWood, {.width = 0.35});
  const double arm = face * 1.15 * std::numbers::sqrt2 / 2, wide = 3.2 * std::numbers::sqrt2;
  canvas.polygon({corner, corner + At{-arm, -arm}, corner + At{-arm + wide / 2, -arm - wide / 2}, corner + At{wide, 0},
                  corner + At{-arm + wide / 2, arm + wide / 2}, corner + At{-arm, arm}},
                 kSteel, {.width = 0.35});
  const At light = sharper < 0 ? 0.5 * (tip + corner) : 0.5 * (up + (corner + At{up.x - corner.x, up.x - corner.x}));
  const At words = sharper < 0 ? corner + At{5.6, -6.5} : At{corner.x - 4, corner.y - arm - 3.4};
  point_out(canvas, light, words, "light");
  canvas.text({corner.x - face * 0.35, corner.y + arm + 3.4}, name, {.points = 7, .align = Align::center});
}

}  // namespace

void draw_square_at_blade(Canvas& canvas, Box box, Mm arm) {
  const double floor = box.y + box.h - 7, tall = box.h - 13, x = box.x + 0.52 * box.w;
  canvas.box({box.x + 2, floor, box.w - 4, 3}, kJig, {.width = 0.3});
  canvas.text({box.x + 2, floor + 3.4}, "sled", kSmall);
  const double w = 3.4;
  canvas.polygon(
      {{x, floor}, {x - 17, floor}, {x - 17, floor - w}, {x - w, floor - w}, {x - w, floor - tall}, {x, floor - tall}},
      kSteel, {.width = 0.35});
  canvas.polygon(turned({x, floor}, {{0, 1.5}, {0, -tall - 2}, {1.8, -tall - 2}, {1.8, 1.5}}, kLean), {.gray = 0.15});
  const double gap = tall * std::tan(kLean);
  point_out(canvas, {x + gap * 0.45, floor - tall + 1}, {x + gap + 6, floor - tall + 3}, "light, –");
  canvas.dimension({x - 20, floor}, {x - 20, floor - tall}, "");
  canvas.text({x - 21.5, floor - tall / 2 - 1.4}, fmt::format("{:g} mm", arm.v), {.points = 7, .align = Align::right});
  canvas.text({x + 4, floor - 5}, "blade", kSmall);
}

void draw_indicator_on_flanks(Canvas& canvas, Box box, Mm places) {
  const double v = 11;
  const At bottom = {box.x + box.w / 2, box.y + box.h - 9};
  canvas.polygon(turned(bottom, cradle_outline(v), -kLean / 2), kJig, {.width = 0.35});
  const double r = 0.68 * v;
  const At near = turned(bottom, {-r, -r}, -kLean / 2), away = turned(bottom, {r, -r}, -kLean / 2);
  draw_indicator(canvas, near);
  draw_indicator(canvas, away);
  canvas.dimension({near.x, near.y - 13}, {away.x, near.y - 13}, "");
  canvas.text({bottom.x, near.y - 17.2}, fmt::format("{:g} mm", places.v), {.points = 7, .align = Align::center});
  canvas.text({bottom.x - 1.3 * v, bottom.y + 6}, "you", {.points = 7, .align = Align::center});
  canvas.text({bottom.x + 1.3 * v, bottom.y + 6}, "away: higher is +", {.points = 7, .align = Align::center});
}

void draw_bar_in_cradle(Canvas& canvas, Box box, Mm bar) {
  const At foot = {box.x + 6, box.y + box.h - 9};
  const double length = box.w - 20;
  canvas.polygon(turned(foot, {{0, 0}, {0, -6}, {length, -6}, {length, 0}}, -kLean / 2), kJig, {.width = 0.35});
  canvas.polygon(turned(foot, {{1, -6}, {1, -8.6}, {length + 6, -8.6}, {length + 6, -6}}, -kLean / 2), kSteel,
                 {.width = 0.35});
  canvas.line({foot.x - 4, foot.y + 0.4}, {box.x + box.w, foot.y + 0.4}, {.width = 0.4});
  const At a = turned(foot, {4, -8.6}, -kLean / 2), b = turned(foot, {length + 2, -8.6}, -kLean / 2);
  draw_indicator(canvas, a);
  draw_indicator(canvas, b);
  canvas.dimension({a.x, b.y - 13}, {b.x, b.y - 13}, "");
  canvas.text({0.5 * (a.x + b.x), b.y - 17.2}, fmt::format("{:g} mm", bar.v), {.points = 7, .align = Align::center});
  canvas.text({foot.x, foot.y + 2.4}, "stop", {.points = 7});
  canvas.text({box.x + box.w, foot.y + 2.4}, "blade: higher is +", {.points = 7, .align = Align::right});
}

void draw_point_and_square(Canvas& canvas, Box box) {
  const double y = box.y + box.h / 2, face = std::min(13.0, (box.h - 16) / 1.62), step = box.w / 2;
  canvas.text({box.x, box.y}, "from above", {.points = 6.5, .gray = 0.3});
  draw_one_point(canvas, {box.x + 0.62 * step, y}, face, -kLean, "too wide: +");
  draw_one_point(canvas, {box.x + 1.62 * step, y}, face, kLean, "too sharp: –");
}

void draw_truing_block(Canvas& canvas, Box box, Mm near, Mm away) {
  const double scale = std::min((box.w - 32) / near.v, (box.h - 19) / (near.v - away.v)), w = near.v * scale,
               lean = (near.v - away.v) / 2 * scale;
  const double x = box.x + 2, top = box.y + 11, bottom = top + lean * 2;
  canvas.polygon({{x + lean, top}, {x + w - lean, top}, {x + w, bottom}, {x, bottom}}, kWood, {.width = 0.35});
  canvas.line({x + lean / 2, (top + bottom) / 2}, {x + w - lean / 2, (top + bottom) / 2}, {.width = 0.25});
  canvas.dimension({x + lean, top - 2.4}, {x + w - lean, top - 2.4}, "");
  canvas.text({x + w / 2, top - 6.2}, "away", {.points = 8, .bold = true, .align = Align::center});
  canvas.text({x + w / 2, (top + bottom) / 2 - 4}, "up", {.points = 8, .bold = true, .align = Align::center});
  canvas.text({x + w / 2, (top + bottom) / 2 + 0.6}, "(down below it)", {.points = 6.5, .align = Align::center});
  canvas.dimension({x, bottom + 2.4}, {x + w, bottom + 2.4}, "");
  canvas.text({x + w / 2, bottom + 3.2}, "near", {.points = 8, .bold = true, .align = Align::center});
  canvas.text({box.x, box.y}, "from above, as it lay for its second cut", {.points = 6.5, .gray = 0.3});
  // From its end: the four corner lines as four corners.
  const double r = 5;
  const At c = {box.x + box.w - 16, (top + bottom) / 2};
  canvas.polygon({c + At{r, 0}, c + At{0, -r}, c + At{-r, 0}, c + At{0, r}}, kWood, {.width = 0.35});
  canvas.text(c + At{0, -r - 3.4}, "up", {.points = 7, .align = Align::center});
  canvas.text(c + At{0, r + 0.4}, "down", {.points = 7, .align = Align::center});
  canvas.text(c + At{-r - 0.8, -1.4}, "near", {.points = 7, .align = Align::right});
  canvas.text(c + At{r + 0.8, -1.4}, "away", {.points = 7});
}

}  // namespace stickwright
