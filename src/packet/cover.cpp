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

double draw_pictures(Canvas& canvas, Box area, const FullPlan& plan) {
  const auto n = static_cast<double>(plan.batch.puzzles.size());
  const double w = area.w / std::max(n, 2.0), h = 62;
  double x = area.x;
  for (const PuzzlePlan& p : plan.batch.puzzles) {
    const auto bodies = standing_bodies(plan, p);
    const Family& family = *p.design.design.family;
    draw_solids(canvas, family, bodies, fit(family, bodies, {x + 3, area.y, w - 6, h - 12}));
    canvas.text({x, area.y + h - 9}, fmt::format("{} x {}", p.copies, p.design.design.name),
                {.points = 10, .bold = true, .align = Align::center, .width = w});
    x += w;
  }
  return h;
}

std::vector<Row> facts(const FullPlan& plan) {
  const BatchPlan& b = plan.batch;
  std::vector<Row> rows = {
      {"Shop", b.batch.shop.name},
      {"Sticks", fmt::format("square, {}; kerf {:.2f} mm", show_mm_inch(b.batch.stick, 2), b.batch.shop.blade.kerf.v)},
      {"Accuracy asked", fmt::format("across flats within {:.3f} mm to either side", b.batch.tolerance.v)}};
  for (const PuzzlePlan& p : b.puzzles)
    rows.push_back({p.design.design.name,
                    fmt::format("{} made; {} pieces; goes together in {} {}; apart in {} steps", p.copies,
                                p.design.standing.size(), p.design.assemblies.count,
                                p.design.assemblies.count == 1 ? "way" : "ways", p.design.take_apart.steps.size())});
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

}  // namespace

void add_cover(Sheets& sheets) {
  const FullPlan& plan = sheets.plan;
  sheets.pages.push_back(
      {plan.batch.batch.name, [&plan](Canvas& canvas, Box area) {
         double y = area.y + draw_pictures(canvas, area, plan);
         y += draw_wood_key(canvas, {area.x, y}, plan) + 3;
         const Drawn table = draw_table(canvas, {area.x, y, area.w, area.h}, {{"", 1}, {"", 3.4}}, facts(plan), 0, 8.5);
         y = table.y + 5;
         draw_cautions(canvas, {area.x, y}, area.w, cautions(plan));
       }});
}

}  // namespace stickwright
