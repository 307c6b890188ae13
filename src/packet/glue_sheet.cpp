#include <fmt/core.h>

#include <map>
#include <set>

#include "packet/packet.h"
#include "packet/solid.h"

namespace stickwright {
namespace {

std::vector<DrawnBody> blocks_in_place(const GlueUp& g) {
  std::vector<DrawnBody> bodies;
  for (std::size_t i = 0; i < g.blocks.size(); ++i) bodies.push_back({g.blocks[i].cells, {}, 1, hatch_of(g.blocks[i].shape == g.blocks[0].shape ? 0 : 1)});
  return bodies;
}

// How far each block is moved out so that the joints open: away from the block that it hangs on, along the joint's normal.
std::vector<Vec> opened(const GlueUp& g) {
  std::vector<Vec> shift(g.blocks.size());
  std::vector<bool> placed(g.blocks.size());
  placed[0] = true;
  for (std::size_t round = 0; round < g.blocks.size(); ++round)
    for (const Joint& j : g.joints)
      for (const auto& [from, to, sign] : {std::tuple(j.a, j.b, 1), std::tuple(j.b, j.a, -1)})
        if (placed[from] && !placed[to]) {
          placed[to] = true;
          // Twice a normal is a shift of the family, so cells stay cells and the painting stays exact.
          shift[to] = shift[from] + (2 * sign) * j.plane.n;
        }
  return shift;
}

At projected(const Projection& p, const std::array<double, 3>& v) {
  return p(v[0], v[1], v[2]);
}

// The grain as a double arrow along the stick's axis, drawn over the block.
void draw_grain(Canvas& canvas, const Projection& p, const std::array<double, 3>& middle, int axis) {
  std::array<double, 3> from = middle, to = middle;
  from[static_cast<std::size_t>(axis)] -= 0.7;
  to[static_cast<std::size_t>(axis)] += 0.7;
  canvas.line(projected(p, from), projected(p, to), {.width = 1.3, .gray = 1});
  canvas.arrow(projected(p, middle), projected(p, from), {.width = 0.4});
  canvas.arrow(projected(p, middle), projected(p, to), {.width = 0.4});
}

void draw_number(Canvas& canvas, At at, const std::string& label, bool joint) {
  const double r = joint ? 2.6 : 2.9;
  if (joint)
    canvas.box({at.x - r, at.y - r, 2 * r, 2 * r}, {.gray = 1}, {.width = 0.35});
  else
    canvas.disc(at, r, {.gray = 1}, {.width = 0.45});
  canvas.text({at.x, at.y - 1.95}, label, {.points = 8.5, .bold = true, .align = Align::center});
}

void draw_opened(Canvas& canvas, Box box, const GlueUp& g) {
  std::vector<DrawnBody> bodies = blocks_in_place(g);
  const std::vector<Vec> shift = opened(g);
  for (std::size_t i = 0; i < bodies.size(); ++i) bodies[i].shift = shift[i];
  const Projection p = fit(mitered(), bodies, {box.x + 8, box.y + 6, box.w - 16, box.h - 12}, 14);
  draw_solids(canvas, mitered(), bodies, p);
  std::vector<At> middle;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    const auto m = middle_of(mitered(), bodies[i]);
    draw_grain(canvas, p, m, g.blocks[i].grain_axis);
    middle.push_back(projected(p, m));
  }
  for (std::size_t j = 0; j < g.joints.size(); ++j) {
    const At a = middle[g.joints[j].a], b = middle[g.joints[j].b], c = 0.5 * (a + b);
    canvas.line(a, b, {.width = 0.3, .dash = 1});
    draw_number(canvas, c, std::string(1, static_cast<char>('a' + j)), true);
  }
  for (std::size_t i = 0; i < middle.size(); ++i) draw_number(canvas, middle[i] + At{4.6, -3.4}, fmt::format("{}", i + 1), false);
}

std::string woods_of_block(const PuzzlePlan& p, std::size_t made, std::size_t block) {
  std::map<std::string, int> count;
  for (const auto& copy : p.wood_of[made]) ++count[copy[block]];
  if (count.size() == 1) return count.begin()->first;
  std::string out;
  for (const auto& [wood, n] : count) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", n * p.copies, wood);
  return out;
}

double draw_block_table(Canvas& canvas, Box area, const FullPlan& plan, const PuzzlePlan& p, std::size_t made) {
  const GlueUp& g = plan.batch.split.pieces[p.first + made];
  std::vector<Row> rows;
  for (std::size_t i = 0; i < g.blocks.size(); ++i)
    rows.push_back({fmt::format("{}", i + 1), plan.batch.split.shapes[g.blocks[i].shape].full_name(), woods_of_block(p, made, i),
                    fmt::format("along {}", static_cast<char>('x' + g.blocks[i].grain_axis))});
  return draw_table(canvas, area, {{"block", 0.5}, {"shape", 2}, {"wood", 2.2}, {"grain", 0.7}}, rows, 0).y;
}

double draw_joint_table(Canvas& canvas, Box area, const FullPlan& plan, const GlueUp& g) {
  const double u = unit_mm(plan.batch.batch.stick);
  std::vector<Row> rows;
  for (std::size_t j = 0; j < g.joints.size(); ++j)
    rows.push_back({std::string(1, static_cast<char>('a' + j)), fmt::format("{} to {}", g.joints[j].a + 1, g.joints[j].b + 1),
                    fmt::format("{:.1f}", g.joints[j].area_units() * u * u), ""});
  return draw_table(canvas, area, {{"joint", 0.5}, {"blocks", 1}, {"area, mm²", 1, Align::right}, {"glued (tick)", 2}}, rows, 0).y;
}

std::string clock_text(Seconds s) {
  return s.v % 3600 == 0 ? fmt::format("{} h", s.v / 3600) : fmt::format("{} min", s.v / 60);
}

std::vector<std::string> glue_notes(const FullPlan& plan) {
  const StepTimes& t = plan.batch.batch.shop.times;
  return {fmt::format("Dry-fit first. Clamp {}; work on the piece again after {}.", clock_text(t.clamp), clock_text(t.cure)),
          "The joints are slanted cuts across the grain: they soak up glue and hold less than side grain (end-grain joints reach about a quarter of the wood's strength; "
          "Wood Handbook, FPL-GTR-190, ch. 10). Size them with thin glue first.",
          "Wipe squeeze-out from the corners before it sets: it keeps the pieces apart. Gloves where the glue's label asks for them."};
}

void draw_sheet(Canvas& canvas, Box area, const FullPlan& plan, const PuzzlePlan& p, std::size_t made) {
  const GlueUp& g = plan.batch.split.pieces[p.first + made];
  const MadePiece& piece = p.design.made[made];
  double y = area.y;
  y += canvas.text({area.x, y}, fmt::format("{} in each of {} puzzles: {} to glue, and no mirror images among them.", piece.copies, p.copies, piece.copies * p.copies), {.points = 9.5, .width = area.w}) + 2;
  const double h = std::min(105.0, area.h * 0.42), w = area.w / 2;
  canvas.text({area.x, y}, "as it stands", {.points = 7.5, .gray = 0.3});
  canvas.text({area.x + w, y}, "with the joints opened; arrows: grain", {.points = 7.5, .gray = 0.3});
  const auto bodies = blocks_in_place(g);
  draw_solids(canvas, mitered(), bodies, fit(mitered(), bodies, {area.x + 6, y + 8, w - 14, h - 16}, 14));
  draw_opened(canvas, {area.x + w, y + 4, w, h - 6}, g);
  y += h + 2;
  y = draw_block_table(canvas, {area.x, y, area.w, area.h}, plan, p, made) + 5;
  if (!g.joints.empty()) {
    y = draw_joint_table(canvas, {area.x, y, area.w, area.h}, plan, g) + 5;
    draw_cautions(canvas, {area.x, y}, area.w, glue_notes(plan));
  } else {
    canvas.text({area.x, y}, "One block makes this piece: nothing to glue.", {.points = 9});
  }
}

}  // namespace

void add_glue_sheets(Sheets& sheets) {
  const FullPlan& plan = sheets.plan;
  for (const PuzzlePlan& p : plan.batch.puzzles)
    for (std::size_t i = 0; i < p.design.made.size(); ++i)
      sheets.pages.push_back({fmt::format("Glue-up: {} of the {}", p.design.made[i].name, p.design.design.name),
                              [&plan, &p, i](Canvas& canvas, Box area) { draw_sheet(canvas, area, plan, p, i); }});
}

}  // namespace stickwright
