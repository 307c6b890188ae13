#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "packet/packet.h"
#include "packet/solid.h"

namespace stickwright {
namespace {

std::vector<DrawnBody> blocks_in_place(const GlueUp& g) {
  std::vector<DrawnBody> bodies;
  for (std::size_t i = 0; i < g.blocks.size(); ++i)
    bodies.push_back({g.blocks[i].cells, {}, 1, hatch_of(g.blocks[i].shape == g.blocks[0].shape ? 0 : 1)});
  return bodies;
}

// Shifts of the family, so cells stay cells and the painting stays exact: even numbers.
std::vector<Vec> moved_out(const std::vector<std::array<double, 3>>& middles, double factor) {
  std::array<double, 3> center{};
  for (const auto& m : middles)
    for (std::size_t k = 0; k < 3; ++k) center[k] += m[k] / static_cast<double>(middles.size());
  std::vector<Vec> shift;
  for (const auto& m : middles) {
    const auto even = [&](std::size_t k) { return 2 * std::llround(factor * (m[k] - center[k]) / 2); };
    shift.push_back({even(0), even(1), even(2)});
  }
  return shift;
}

// How far each block is moved out so that all joints open: away from the middle of the piece, as little as will do.
std::vector<Vec> opened(const GlueUp& g) {
  std::vector<std::array<double, 3>> middles;
  for (const PlacedBlock& b : g.blocks) middles.push_back(middle_of(mitered(), {b.cells, {}, 1, Hatch::none}));
  std::vector<Vec> shift;
  for (double factor = 0.8; factor < 8; factor += 0.2) {
    shift = moved_out(middles, factor);
    if (std::all_of(g.joints.begin(), g.joints.end(),
                    [&](const Joint& j) { return dot(j.plane.n, shift[j.b] - shift[j.a]) >= 2; }))
      break;
  }
  return shift;
}

// A, B, ... Z, AA, AB, ...
std::string block_letter(std::size_t i) {
  const std::string last(1, static_cast<char>('A' + i % 26));
  return i < 26 ? last : block_letter(i / 26 - 1) + last;
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

// A letter stands square to the grain's arrow, on the side where more of the block is seen.
At beside(At spot, At arrow, At grain) {
  const double length = std::hypot(grain.x, grain.y);
  const At across = length < 1e-6 ? At{1, 0} : (1 / length) * At{-grain.y, grain.x};
  const At d = spot - arrow;
  return arrow + (d.x * across.x + d.y * across.y < 0 ? -4.2 : 4.2) * across;
}

void draw_opened(Canvas& canvas, Box box, const GlueUp& g) {
  std::vector<DrawnBody> bodies = blocks_in_place(g);
  const std::vector<Vec> shift = opened(g);
  for (std::size_t i = 0; i < bodies.size(); ++i) bodies[i].shift = shift[i];
  const Projection p = fit(mitered(), bodies, {box.x + 8, box.y + 6, box.w - 16, box.h - 12}, 16);
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
    draw_number(canvas, c, fmt::format("{}", j + 1), true);
  }
  const auto spots = label_spots(mitered(), bodies, p);
  for (std::size_t i = 0; i < middle.size(); ++i)
    draw_number(canvas, beside(spots[i].value_or(middle[i]), middle[i], p(axis_vec(g.blocks[i].grain_axis)) - p(Vec{})),
                block_letter(i), false);
}

std::string woods_of_block(const PuzzlePlan& p, std::size_t made, std::size_t block) {
  std::map<std::string, int> count;
  for (const auto& copy : p.wood_of[made]) ++count[copy[block]];
  if (count.size() == 1) return count.begin()->first;
  std::string out;
  for (const auto& [wood, n] : count) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", n * p.copies, wood);
  return out;
}

// Which way x, y and z point in the pictures.
void draw_axes(Canvas& canvas, At at) {
  const Projection p{at, 5};
  constexpr const char* kNames[] = {"x", "y", "z"};
  for (int axis = 0; axis < 3; ++axis) {
    const At tip = p(axis_vec(axis, 1));
    canvas.arrow(at, tip, {.width = 0.3});
    canvas.text(tip + 0.35 * (tip - at) + At{0, -1.4}, kNames[axis], {.points = 7, .align = Align::center});
  }
}

// One line for pieces that are each of one wood; "" when blocks of a piece differ.
std::string woods_of_piece(const PuzzlePlan& p, std::size_t made) {
  std::map<std::string, int> count;
  for (const auto& copy : p.wood_of[made]) {
    if (std::any_of(copy.begin(), copy.end(), [&](const std::string& w) { return w != copy.front(); })) return "";
    ++count[copy.front()];
  }
  std::string out;
  for (const auto& [wood, n] : count) out += fmt::format("{}{} of {}", out.empty() ? "" : ", ", n * p.copies, wood);
  return "Each is of one wood: " + out + ".";
}

const std::vector<Column> kBlockColumns = {{"block", 0.5}, {"shape", 2}, {"wood", 2.2}, {"grain", 0.7}};
const std::vector<Column> kJointColumns = {
    {"stage", 0.5}, {"joint", 0.5}, {"blocks", 1}, {"area, mm²", 0.8, Align::right}, {"", 0.2}, {"glued (tick)", 2}};

std::vector<Row> block_rows(const FullPlan& plan, const PuzzlePlan& p, std::size_t made) {
  const GlueUp& g = plan.batch.split.pieces[p.first + made];
  const bool one_wood = !woods_of_piece(p, made).empty();
  std::vector<Row> rows;
  for (std::size_t i = 0; i < g.blocks.size(); ++i)
    rows.push_back({block_letter(i), plan.batch.split.shapes[g.blocks[i].shape].full_name(),
                    one_wood ? std::string("as the piece") : woods_of_block(p, made, i),
                    fmt::format("along {}", static_cast<char>('x' + g.blocks[i].grain_axis))});
  return rows;
}

std::vector<Row> joint_rows(const FullPlan& plan, const GlueUp& g) {
  const double u = unit_mm(plan.batch.batch.stick);
  const std::vector<int> stage = glue_stages(g);
  std::vector<std::size_t> order(g.joints.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) { return stage[i] < stage[j]; });
  std::vector<Row> rows;
  for (std::size_t j : order)
    rows.push_back({fmt::format("{}", stage[j]), fmt::format("{}", j + 1),
                    fmt::format("{} to {}", block_letter(static_cast<std::size_t>(g.joints[j].a)),
                                block_letter(static_cast<std::size_t>(g.joints[j].b))),
                    fmt::format("{:.1f}", g.joints[j].area_units() * u * u), "", ""});
  return rows;
}

std::string clock_text(Seconds s) {
  return s.v % 3600 == 0 ? fmt::format("{} h", s.v / 3600) : fmt::format("{} min", s.v / 60);
}

std::vector<std::string> glue_notes(const FullPlan& plan) {
  const StepTimes& t = plan.batch.batch.shop.times;
  return {
      fmt::format("Dry-fit first. Glue stage by stage, starting at block A; clamp {} before the next stage. Work on "
                  "the piece again {} after the last.",
                  clock_text(t.clamp), clock_text(t.cure)),
      "The joints are slanted cuts across the grain: they soak up glue and hold less than side grain (end-grain "
      "joints reach about a quarter of the wood's strength; "
      "Wood Handbook, FPL-GTR-190, ch. 10). Size them with thin glue first.",
      "Wipe squeeze-out from the corners before it sets: it keeps the pieces apart. Gloves where the glue's label "
      "asks for them."};
}

std::string heading(const PuzzlePlan& p, std::size_t made) {
  const MadePiece& piece = p.design.made[made];
  const bool has_hand = handed(mitered(), shape_of(mitered(), piece.cells).shape);
  return fmt::format("{} in each of {} puzzles: {} to glue.{}", piece.copies, p.copies, piece.copies * p.copies,
                     has_hand ? " It is handed: glue all of them alike, a mirror image does not fit." : "");
}

void draw_pictures(Canvas& canvas, Box area, const GlueUp& g) {
  const double w = 0.42 * area.w;
  canvas.text({area.x, area.y}, "as it stands", {.points = 7.5, .gray = 0.3});
  canvas.text({area.x + w, area.y}, "with the joints opened; arrows: grain", {.points = 7.5, .gray = 0.3});
  const auto bodies = blocks_in_place(g);
  draw_solids(canvas, mitered(), bodies, fit(mitered(), bodies, {area.x + 6, area.y + 8, w - 14, area.h - 16}, 16));
  draw_opened(canvas, {area.x + w, area.y + 4, area.w - w, area.h - 6}, g);
  draw_axes(canvas, {area.x + 9, area.y + area.h - 7});
}

// The sheet's tables in order; what does not fit goes on, on further pages.
struct Tables {
  std::vector<Row> blocks, joints;
};

constexpr double kPictures = 0.45;  // of the page

double draw_first(Canvas& canvas, Box area, const FullPlan& plan, const PuzzlePlan& p, std::size_t made) {
  const GlueUp& g = plan.batch.split.pieces[p.first + made];
  double y = area.y;
  y += canvas.text({area.x, y}, heading(p, made), {.points = 9.5, .width = area.w}) + 2;
  if (const std::string woods = woods_of_piece(p, made); !woods.empty())
    y += canvas.text({area.x, y}, woods, {.points = 9, .width = area.w}) + 1;
  draw_pictures(canvas, {area.x, y, area.w, area.h * kPictures}, g);
  y += area.h * kPictures + 2;
  if (g.joints.empty())
    y += canvas.text({area.x, y}, "One block makes this piece: nothing to glue.", {.points = 9}) + 3;
  else
    y += draw_cautions(canvas, {area.x, y}, area.w, glue_notes(plan)) + 4;
  return y - area.y;
}

void add_sheet(Sheets& sheets, const PuzzlePlan& p, std::size_t made) {
  const FullPlan& plan = sheets.plan;
  const Tables tables{block_rows(plan, p, made), joint_rows(plan, plan.batch.split.pieces[p.first + made])};
  const std::string title = fmt::format("Glue-up: {} of the {}", p.design.made[made].name, p.design.design.name);
  const double top = draw_first(sheets.paper, sheets.area, plan, p, made);
  // Both tables on the first page when they fit there; else each on pages of its own.
  const Box trial = {sheets.area.x, 0, sheets.area.w, 1e9};
  double height = draw_table(sheets.paper, trial, kBlockColumns, tables.blocks, 0).y;
  if (!tables.joints.empty()) height += 5 + draw_table(sheets.paper, trial, kJointColumns, tables.joints, 0).y;
  const bool fits = top + height <= sheets.area.h;
  sheets.pages.push_back({title,
                          [&plan, &p, made, tables, fits](Canvas& canvas, Box area) {
                            double y = area.y + draw_first(canvas, area, plan, p, made);
                            if (!fits) return;
                            y = draw_table(canvas, {area.x, y, area.w, area.h}, kBlockColumns, tables.blocks, 0).y + 5;
                            if (!tables.joints.empty())
                              draw_table(canvas, {area.x, y, area.w, area.h}, kJointColumns, tables.joints, 0);
                          },
                          false});
  if (fits) return;
  const std::size_t from = sheets.pages.size();
  add_table_pages(sheets.pages, sheets.paper, sheets.area, title + ": blocks", kBlockColumns, tables.blocks);
  add_table_pages(sheets.pages, sheets.paper, sheets.area, title + ": joints", kJointColumns, tables.joints);
  for (std::size_t i = from; i < sheets.pages.size(); ++i) sheets.pages[i].continued = true;
}

}  // namespace

void add_glue_sheets(Sheets& sheets) {
  for (const PuzzlePlan& p : sheets.plan.batch.puzzles)
    for (std::size_t i = 0; i < p.design.made.size(); ++i) add_sheet(sheets, p, i);
}

}  // namespace stickwright
