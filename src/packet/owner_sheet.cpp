#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "packet/packet.h"
#include "packet/solid.h"

namespace stickwright {
namespace {

constexpr int kPanelsInARow = 3;
constexpr double kLowPanel = 60, kHighPanel = 84;  // mm

std::vector<std::string> names_of(const PuzzlePlan& p, const std::vector<int>& pieces) {
  std::vector<std::string> names;
  for (int i : pieces) names.push_back(p.design.standing[i].name);
  return names;
}

// Where every piece stands before each step: pieces that slid some way stay there.
std::vector<std::vector<Vec>> places_before(const PuzzlePlan& p) {
  std::vector<Vec> at(p.design.standing.size());
  std::vector<std::vector<Vec>> before;
  for (const Step& s : p.design.take_apart.steps) {
    before.push_back(at);
    for (int i : s.moves) at[i] = at[i] + s.distance.value_or(0) * s.direction;
  }
  return before;
}

// A slide drawn long enough to see; twice any direction is a shift of the family, so the painting stays exact.
Vec drawn_slide(const Step& s) {
  const std::int64_t length = std::abs(s.direction.x) + std::abs(s.direction.y) + std::abs(s.direction.z);
  return (length > 3 ? 2 : 4) * s.direction;
}

// A place that is no shift of the family (an odd slide along an axis) is drawn at the nearest one further out.
Vec drawable(const Family& family, Vec v) {
  return family.is_shift(v) ? v : 2 * v;
}

void draw_step(Canvas& canvas, Box box, const PuzzlePlan& p, std::size_t number, const std::vector<Vec>& places) {
  const Step& s = p.design.take_apart.steps[number];
  const Family& family = *p.design.design.family;
  const Vec slide = drawn_slide(s);
  std::vector<DrawnBody> bodies;
  for (int i : s.from) bodies.push_back({p.design.standing[i].cells, drawable(family, places[i]), 1, Hatch::none});
  for (int i : s.moves)
    bodies.push_back({p.design.standing[i].cells, drawable(family, places[i]) + slide, 0.75, Hatch::right});
  const Projection projection = fit(family, bodies, {box.x + 3, box.y + 7, box.w - 20, box.h - 27}, 9);
  draw_solids(canvas, family, bodies, projection);
  const At from = projection(Vec{}), to = projection(slide);
  const At corner = {box.x + box.w - 9, box.y + 0.5 * box.h};
  const At way = to - from;
  const double length = std::hypot(way.x, way.y);
  if (length > 0) canvas.arrow(corner - (6 / length) * way, corner + (6 / length) * way, {.width = 0.8});
  canvas.text({box.x + 1, box.y + 0.5}, fmt::format("{}", number + 1), {.points = 15, .bold = true});
  const std::string words =
      fmt::format("Hold {}. Slide {} {}.", fmt::join(names_of(p, s.from), ", "), fmt::join(names_of(p, s.moves), ", "),
                  s.distance ? "as far as shown" : "out along the arrow");
  canvas.text({box.x + 1, box.y + box.h - 16}, words, {.points = 7.5, .width = box.w - 2});
}

// As many rows of panels as fit, as high as they can be.
struct Panels {
  std::size_t count;
  double height;
};
Panels panels_in(double room, std::size_t steps) {
  const auto wanted = (steps + kPanelsInARow - 1) / kPanelsInARow;
  const auto rows =
      std::clamp<std::size_t>(static_cast<std::size_t>(room / kLowPanel), 1, std::max<std::size_t>(wanted, 1));
  return {std::min(steps, rows * kPanelsInARow), std::min(kHighPanel, room / static_cast<double>(rows))};
}

void draw_steps(Canvas& canvas, Box area, const PuzzlePlan& p, std::size_t first, std::size_t last) {
  const auto places = places_before(p);
  const double height = panels_in(area.h, last - first).height;
  const double w = area.w / kPanelsInARow;
  for (std::size_t k = first; k < last; ++k) {
    const auto i = static_cast<double>((k - first) % kPanelsInARow),
               j = static_cast<double>((k - first) / kPanelsInARow);
    const Box box = {area.x + i * w, area.y + j * height, w - 2, height - 2};
    canvas.box(box, {}, {.width = 0.15, .gray = 0.5});
    draw_step(canvas, box, p, k, places[k]);
  }
}

// The key to the names: each piece alone, as it stands.
double draw_pieces(Canvas& canvas, Box area, const FullPlan& plan, const PuzzlePlan& p) {
  const Family& family = *p.design.design.family;
  const double w = area.w / 8, h = 26;
  std::vector<const StandingPiece*> by_name;
  for (const StandingPiece& s : p.design.standing) by_name.push_back(&s);
  std::sort(by_name.begin(), by_name.end(),
            [](const auto* a, const auto* b) { return std::pair(a->made, a->copy) < std::pair(b->made, b->copy); });
  for (std::size_t i = 0; i < by_name.size(); ++i) {
    const StandingPiece& s = *by_name[i];
    const Box box = {area.x + static_cast<double>(i % 8) * w, area.y + static_cast<double>(i / 8) * h, w, h};
    const std::vector<DrawnBody> body = {{s.cells, {}, 1, hatch_of_wood(plan, p.wood_of[s.made][s.copy].front())}};
    draw_solids(canvas, family, body, fit(family, body, {box.x + 2, box.y + 1, box.w - 4, box.h - 8}, 5));
    canvas.text({box.x, box.y + h - 6}, s.name, {.points = 7.5, .align = Align::center, .width = w, .ellipsis = true});
  }
  return h * static_cast<double>((p.design.standing.size() + 7) / 8);
}

double intro_height(const PuzzlePlan& p) {
  return 22 + 26 * static_cast<double>((p.design.standing.size() + 7) / 8);
}

void draw_first(Canvas& canvas, Box area, const FullPlan& plan, const PuzzlePlan& p, std::size_t steps) {
  double y = area.y;
  y += canvas.text({area.x, y},
                   "Taking it apart, step by step; to put it together, go from the last picture to the first. Each "
                   "picture shows the pieces that are still together: "
                   "white ones are held, hatched ones have just been moved. Nothing needs force: when a piece binds, "
                   "go back a step.",
                   {.points = 8.5, .width = area.w}) +
       2;
  draw_pieces(canvas, {area.x, y, area.w, 0}, plan, p);
  draw_steps(canvas, {area.x, area.y + intro_height(p), area.w, area.h - intro_height(p)}, p, 0, steps);
}

}  // namespace

void add_owner_sheets(Sheets& sheets) {
  const FullPlan& plan = sheets.plan;
  for (const PuzzlePlan& p : plan.batch.puzzles) {
    const std::string title = fmt::format("For the owner: {}", p.design.design.name);
    const std::size_t steps = p.design.take_apart.steps.size();
    const std::size_t first = panels_in(sheets.area.h - intro_height(p), steps).count;
    sheets.pages.push_back(
        {title, [&plan, &p, first](Canvas& canvas, Box area) { draw_first(canvas, area, plan, p, first); }});
    for (std::size_t from = first; from < steps;) {
      const std::size_t to = from + panels_in(sheets.area.h, steps - from).count;
      sheets.pages.push_back(
          {title + ", continued", [&p, from, to](Canvas& canvas, Box area) { draw_steps(canvas, area, p, from, to); }});
      from = to;
    }
  }
}

}  // namespace stickwright
