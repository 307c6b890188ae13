#include "packet/saw_view.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace stickwright {
namespace {

// Millimeters of the saw to millimeters of paper, seen from above.
struct Plan {
  At zero;  // the stop's face on the axis
  double scale;
  At operator()(double t, double a) const { return {zero.x + scale * t, zero.y - scale * a}; }
};

std::vector<At> outline(const Plan& plan, const BodyFace& face) {
  std::vector<At> points;
  for (Point p : face.loop) points.push_back(plan(p.t, p.a));
  return points;
}

// Convex bodies: the faces that look up are all that is seen, and none hides another.
void draw_body(Canvas& canvas, const Plan& plan, const Body& body, double gray) {
  for (const BodyFace& f : body.faces)
    if (f.plane.n.b > 1e-9)
      canvas.polygon(outline(plan, f), {.gray = std::clamp(gray + 0.06 * f.plane.n.a, 0.0, 1.0)}, {.width = 0.3});
}

// The band of the blade, drawn through and beyond the stick.
void draw_blade(Canvas& canvas, const Plan& plan, const CutAtSaw& c, Mm kerf) {
  const Point n = c.at.blade.n;
  const double axis = c.blade_at, lean = n.a / n.t, along = kerf.v / n.t, reach = kBladeReach * c.half;
  std::vector<At> band;
  for (double a : {-reach, reach}) band.push_back(plan(axis - lean * a, a));
  for (double a : {reach, -reach}) band.push_back(plan(axis - lean * a + along, a));
  canvas.polygon(band, {.gray = 0.15});
}

// The stop, with its face through t = 0, and the back stop behind it; between them the gauge blocks, where they stay
// there. The face is wider than the stick: the point of a miter must not miss it.
void draw_stop(Canvas& canvas, const Plan& plan, const SawView& view, double half, double room) {
  const double w = kStopHalf * half, lean = view.stop().face == StopFace::mitered ? 1 : 0;
  const double stack = view.stack_behind ? 0.45 * half : 0, body = std::max(room * 0.72, half * (0.5 + lean)) - stack;
  canvas.polygon({plan(-body, -w), plan(lean * w, -w), plan(-lean * w, w), plan(-body, w)},
                 {.gray = 1, .hatch = Hatch::right}, {.width = 0.4});
  const double back = body + stack;
  if (stack > 0) {
    const double s = kStackShare * w;
    canvas.polygon({plan(-back, -s), plan(-body, -s), plan(-body, s), plan(-back, s)},
                   {.gray = 1, .hatch = Hatch::level, .hatch_gap = 0.9}, {.width = 0.4});
    const At below = plan(-0.5 * (back + body), -kBackHalf * half);
    canvas.line(plan(-0.5 * (back + body), -s), below, {.width = 0.12});
    canvas.text(below + At{-1, 0.2}, "gauge blocks", {.points = 6});
  }
  canvas.polygon(
      {plan(-back, -kBackHalf * half), plan(-back, kBackHalf * half), plan(-back - kBackThick * half, kBackHalf * half),
       plan(-back - kBackThick * half, -kBackHalf * half)},
      {.gray = 0.3}, {.width = 0.3});
}

void mark_contact(Canvas& canvas, const Plan& plan, const CutAtSaw& c) {
  std::vector<At> touching;
  for (Point p : c.contact) touching.push_back(plan(p.t, p.a));
  for (std::size_t i = 0; i < touching.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) canvas.line(touching[i], touching[j], {.width = 0.9});
  for (At p : touching) canvas.disc(p, 0.9, {.gray = 1}, {.width = 0.5});
}

void draw_clamp(Canvas& canvas, const Plan& plan, const CutAtSaw& cut) {
  const At c = plan(cut.clamp.t, cut.clamp.a);
  const double r = std::max(1.8, 0.22 * cut.half * plan.scale);
  canvas.disc(c, r, {.gray = 1}, {.width = 0.45});
  canvas.line({c.x - 0.7 * r, c.y - 0.7 * r}, {c.x + 0.7 * r, c.y + 0.7 * r}, {.width = 0.3});
  canvas.line({c.x - 0.7 * r, c.y + 0.7 * r}, {c.x + 0.7 * r, c.y - 0.7 * r}, {.width = 0.3});
}

// When it can be seen from above.
void draw_pencil_line(Canvas& canvas, const Plan& plan, const SawView& view, const CutAtSaw& c) {
  if (view.cut_drawn().pencil == Pencil::down || !c.pencil_line) return;
  const auto [from, to] = *c.pencil_line;
  canvas.line(plan(from.t, from.a * 0.97), plan(to.t, to.a * 0.97), {.width = 0.7, .gray = 0, .dash = 2.2});
}

}  // namespace

void draw_from_above(Canvas& canvas, Box box, const SawView& view) {
  const CutAtSaw cut = cut_at_saw(view);
  const double half = cut.half, axis = cut.blade_at;
  const double room = 2.3 * half, length = room + axis + kBeyond * half;
  const double scale = std::min(box.w / length, (box.h - 11) / (2.9 * half));
  const Plan plan{{box.x + room * scale, box.y + 3 + (box.h - 12) / 2}, scale};
  canvas.clipped(box, [&] {
    draw_stop(canvas, plan, view, half, room);
    draw_body(canvas, plan, cut.rest, 0.97);
    draw_body(canvas, plan, cut.kept, 0.74);
    draw_blade(canvas, plan, cut, view.kerf);
    draw_pencil_line(canvas, plan, view, cut);
    mark_contact(canvas, plan, cut);
    draw_clamp(canvas, plan, cut);
  });
  const double y = kDimensionAt * half;  // the dimension runs below the stick
  canvas.line(plan(0, 0), plan(0, -y - 1.5 / plan.scale), {.width = 0.12, .gray = 0.3, .dash = 0.8});
  canvas.line(plan(axis, 0), plan(axis, -y - 1.5 / plan.scale), {.width = 0.12, .gray = 0.3, .dash = 0.8});
  canvas.dimension(plan(0, -y), plan(axis, -y), "");
  const Mm distance = stop_distance(view.stop(), view.stick);
  const Font font = {.points = 8, .bold = true};
  const At label = plan(axis, -y) + At{1.5, -1.7};
  std::string words = fmt::format("{:.3f} mm = {:.4f} in", distance.v, distance.inches());
  if (label.x + canvas.text_width(words, font) > box.x + box.w) words = fmt::format("{:.3f} mm", distance.v);
  canvas.text(label, words, font);
  canvas.text({box.x, box.y}, "from above", {.points = 6.5, .gray = 0.3});
  canvas.text({box.x + box.w, box.y}, "away", {.points = 6.5, .align = Align::right, .gray = 0.2});
  canvas.text({box.x + box.w, box.y + box.h - 3.2}, "you", {.points = 6.5, .align = Align::right, .gray = 0.2});
}

void draw_where_to_measure(Canvas& canvas, Box box, const SawView& view, Mm across_flats) {
  const CutAtSaw cut = cut_at_saw(view);
  const Body& kept = cut.kept;
  const Point middle = cut.middle;
  double reach = 0;
  for (Point p : corners_of(kept))
    reach = std::max(reach, std::max(std::abs(p.a - middle.a), std::abs(p.t - middle.t)));
  const double scale = std::min(box.w, box.h - 8) / 2 / (1.15 * reach);
  const At center = {box.x + box.w / 2, box.y + box.h / 2};
  const Plan plan{center - At{scale * middle.t, -scale * middle.a}, scale};
  draw_body(canvas, plan, kept, 0.9);
  const Point n = cut.at.blade.n;
  const auto [to, from] = where_to_measure(cut, across_flats);
  const double w = 0.28 * reach, thick = 0.16 * reach;
  const auto anvil = [&](Point p, double way) {
    const auto corner = [&](double along, double out) {
      return plan(p.t - along * n.a + out * n.t, p.a + along * n.t + out * n.a);
    };
    canvas.polygon({corner(-w, 0), corner(w, 0), corner(w, way * thick), corner(-w, way * thick)}, {.gray = 0.15});
  };
  anvil(to, 1);
  anvil(from, -1);
  canvas.dimension(plan(from.t, from.a), plan(to.t, to.a), "");
  canvas.text({center.x, box.y + box.h - 3.4}, fmt::format("{:.3f} mm", across_flats.v),
              {.points = 7.5, .bold = true, .align = Align::center});
  canvas.text({box.x, box.y}, "measure here", {.points = 6.5, .gray = 0.3});
}

void draw_from_the_blade(Canvas& canvas, Box box, const SawView& view) {
  const double r = std::min(box.w, box.h - 8) * 0.30;
  const At c = {box.x + box.w / 2, box.y + 4 + (box.h - 8) * 0.46};
  const At corner[] = {{c.x + r, c.y}, {c.x, c.y - r}, {c.x - r, c.y}, {c.x, c.y + r}};  // away, up, near, down
  // The V and its relief groove.
  const double v = 1.35 * r;
  canvas.polygon({{c.x - v, c.y + r - v},
                  {c.x - 0.12 * r, c.y + r - 0.12 * r},
                  {c.x - 0.12 * r, c.y + 1.2 * r},
                  {c.x + 0.12 * r, c.y + 1.2 * r},
                  {c.x + 0.12 * r, c.y + r - 0.12 * r},
                  {c.x + v, c.y + r - v},
                  {c.x + v, c.y + 1.55 * r},
                  {c.x - v, c.y + 1.55 * r}},
                 {.gray = 0.9}, {.width = 0.3});
  canvas.polygon({corner[0], corner[1], corner[2], corner[3]}, {.gray = 0.74}, {.width = 0.4});
  const At mark = corner[static_cast<int>(view.program.cuts[view.cut].pencil)];
  canvas.disc(mark, 1.5, {.gray = 0});
  canvas.text({box.x, box.y}, "from the blade", {.points = 6.5, .gray = 0.3});
  canvas.text({c.x, c.y - 1.6}, to_string(view.program.cuts[view.cut].pencil),
              {.points = 8, .bold = true, .align = Align::center});
  const double foot = c.y + 1.55 * r + 0.8;
  canvas.text({c.x - v, foot}, "you", {.points = 6.5, .align = Align::left, .gray = 0.2});
  canvas.text({c.x + v, foot}, "away", {.points = 6.5, .align = Align::right, .gray = 0.2});
}

}  // namespace stickwright
