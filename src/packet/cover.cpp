#include <fmt/core.h>

#include <algorithm>

#include "packet/packet.h"
#include "packet/solid.h"
#include "wood/species.h"

namespace stickwright {
namespace {

std::vector<DrawnBody> standing_bodies(const FullPlan& plan, const PuzzlePlan& p) {
  std::vector<DrawnBody> bodies;
  for (const StandingPiece& s : p.design.standing)
    bodies.push_back({s.cells, {}, 1, hatch_of_wood(plan, p.wood_of[s.made][s.copy].front())});
  return bodies;
}

constexpr std::size_t kMostPictures = 12;

// The puzzles in rows, each with its name below.   returns  the height they take
double draw_pictures(Canvas& canvas, Box area, const FullPlan& plan) {
  const std::size_t n = std::min(plan.batch.puzzles.size(), kMostPictures), in_a_row = n <= 2 ? 2 : n <= 4 ? n : 4;
  const double w = area.w / static_cast<double>(in_a_row), h = n <= 4 ? 50 : 34;
  double y = area.y, deepest = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const PuzzlePlan& p = plan.batch.puzzles[i];
    const double x = area.x + static_cast<double>(i % in_a_row) * w;
    if (i % in_a_row == 0) y += deepest, deepest = 0;
    const auto bodies = standing_bodies(plan, p);
    const Family& family = *p.design.design.family;
    draw_solids(canvas, family, bodies, fit(family, bodies, {x + 3, y, w - 6, h}));
    const double words = canvas.text({x + 1, y + h + 1}, fmt::format("{} x {}", p.copies, p.design.design.name),
                                     {.points = 10, .bold = true, .align = Align::center, .width = w - 2});
    deepest = std::max(deepest, h + words + 3);
  }
  return y + deepest - area.y;
}

std::string counted(std::size_t n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::vector<Row> facts(const FullPlan& plan) {
  const BatchPlan& b = plan.batch;
  std::vector<Row> rows = {
      {"Shop", b.batch.shop.name},
      {"Sticks", fmt::format("square, {}; kerf {:.2f} mm", show_mm_inch(b.batch.stick, 2), b.batch.shop.blade.kerf.v)},
      {"Accuracy asked", fmt::format("across flats within {:.3f} mm to either side", b.batch.tolerance.v)}};
  for (const PuzzlePlan& p : b.puzzles)
    rows.push_back({p.design.design.name, fmt::format("{} made; {}; goes together in {}; apart in {}", p.copies,
                                                      counted(p.design.standing.size(), "piece", "pieces"),
                                                      ways_in_words(p.design.assemblies),
                                                      counted(p.design.take_apart.steps.size(), "step", "steps"))});
  for (const SetUp& s : b.set_ups) {
    std::string woods;
    for (const auto& [wood, count] : s.needed)
      woods += fmt::format("{}{} {}", woods.empty() ? "" : ", ", count + s.spares.at(wood), wood);
    rows.push_back(
        {b.split.shapes[s.shape].full_name(), fmt::format("{} to cut, spares included: {}", s.blocks(), woods)});
  }
  rows.push_back({"Sticks used", fmt::format("{}; fewer than {} cannot do", plan.sticks.used(), plan.sticks.bound())});
  const Schedule& s = plan.week.schedule;
  rows.push_back({"Work", fmt::format("from {} to {} at {}{}", show_date(b.batch.start),
                                      show_date(plan.week.date_of(s.finish)), show_clock(s.finish),
                                      plan.week.days_late > 0 ? fmt::format(": {} days after the due date of {}",
                                                                            plan.week.days_late, show_date(b.batch.due))
                                                              : fmt::format("; due {}", show_date(b.batch.due)))});
  return rows;
}

std::vector<std::string> cautions(const FullPlan& plan) {
  std::vector<std::string> lines = {
      "This packet plans cuts; it does not say that a cut is safe. The machine's manual, local rules and your own "
      "training come first.",
      "Eye and ear protection; blade guard or a shield over the sled; power off and blade at rest before stops or "
      "gauge blocks are touched.",
      std::string(dust_caution())};
  for (const std::string& wood : woods_in(plan))
    if (const auto species = find_species(wood); species && !species.value()->caution.empty())
      lines.push_back(wood + ": " + std::string(species.value()->caution));
  return lines;
}

const std::vector<Column> kColumns = {{"", 1}, {"", 3.4}};
constexpr double kPoints = 8.5;

double draw_top(Canvas& canvas, Box area, const FullPlan& plan) {
  double y = area.y + draw_pictures(canvas, area, plan);
  y += draw_wood_key(canvas, {area.x, y}, plan) + 2;
  return y + draw_cautions(canvas, {area.x, y}, area.w, cautions(plan)) + 4 - area.y;
}

// The sheets of the packet, continued ones left out.
std::vector<Row> contents(const std::vector<Page>& pages, std::size_t covers) {
  std::vector<Row> rows;
  for (std::size_t i = 0; i < pages.size(); ++i)
    if (i == 0 || !pages[i].continued) rows.push_back({fmt::format("page {}", covers + i + 1), pages[i].title});
  return rows;
}

std::vector<Row> cover_rows(const FullPlan& plan, const std::vector<Page>& pages, std::size_t covers) {
  std::vector<Row> rows = facts(plan);
  for (Row& r : contents(pages, covers)) rows.push_back(std::move(r));
  return rows;
}

// Where the rows break; as many parts as covers are needed.
std::vector<std::size_t> breaks(const Sheets& sheets, const std::vector<Row>& rows, double top) {
  std::vector<std::size_t> at = {0};
  while (at.back() < rows.size()) {
    Box room = sheets.area;
    room.h -= at.size() == 1 ? top : 0;
    at.push_back(rows_that_fit(sheets.paper, room, kColumns, rows, at.back(), kPoints));
  }
  return at;
}

}  // namespace

void add_cover(Sheets& sheets) {
  const FullPlan& plan = sheets.plan;
  const double top = draw_top(sheets.paper, sheets.area, plan);
  // How many covers there are does not change the height of a row, only the number in it.
  const std::size_t covers = breaks(sheets, cover_rows(plan, sheets.pages, 1), top).size() - 1;
  const std::vector<Row> rows = cover_rows(plan, sheets.pages, covers);
  const std::vector<std::size_t> at = breaks(sheets, rows, top);
  std::vector<Page> front;
  for (std::size_t k = 0; k < covers; ++k) {
    const std::vector<Row> part(rows.begin() + static_cast<std::ptrdiff_t>(at[k]),
                                rows.begin() + static_cast<std::ptrdiff_t>(at[k + 1]));
    front.push_back({plan.batch.batch.name,
                     [&plan, part, k](Canvas& canvas, Box area) {
                       const double used = k == 0 ? draw_top(canvas, area, plan) : 0;
                       draw_table(canvas, {area.x, area.y + used, area.w, area.h - used}, kColumns, part, 0, kPoints);
                     },
                     k > 0});
  }
  sheets.pages.insert(sheets.pages.begin(), front.begin(), front.end());
}

}  // namespace stickwright
