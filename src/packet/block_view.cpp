#include "packet/block_view.h"

#include <algorithm>
#include <cmath>

#include "packet/solid.h"
#include "saw/forward.h"

namespace stickwright {
namespace {

constexpr double kDisc = 2.0;        // mm, radius of a number's disc
const Mm kAnyStick{std::sqrt(2.0)};  // one lattice unit is a millimeter

struct SawnFace {
  const ExactFace* face;
  int cut;
};

Point in_work_frame(Vec v) {
  return {static_cast<double>(v.x), static_cast<double>(v.y), static_cast<double>(v.z)};
}

// The forward model knows which cut made which face; a face is found again by its corners.
std::vector<SawnFace> sawn_faces(const Block& block, const Program& program) {
  const Body real = saw::cut(program, nominal_saw(kAnyStick));
  const std::vector<Vec> corners = corners_in_work_frame(block, program);
  std::vector<SawnFace> out;
  for (const ExactFace& face : block.body.faces)
    for (const BodyFace& f : real.faces)
      if (f.made_by >= 0 && std::all_of(face.loop.begin(), face.loop.end(), [&](int i) {
            return std::abs(dot(f.plane.n, in_work_frame(corners[static_cast<std::size_t>(i)])) - f.plane.c) < 1e-6;
          }))
        out.push_back({&face, f.made_by});
  return out;
}

Turn best_turn(const std::vector<SawnFace>& faces) {
  int most = -1;
  Turn best;
  for (const Turn& turn : mitered().rotations()) {
    int seen = 0;
    for (const SawnFace& s : faces)
      if (dot(turn * s.face->plane.n, kEye) > 0) seen += s.cut > 0 ? 3 : 2;
    if (seen > most) most = seen, best = turn;
  }
  return best;
}

At middle_on_paper(const std::vector<At>& points) {
  At m;
  for (At p : points) m = m + (1.0 / static_cast<double>(points.size())) * p;
  return m;
}

void draw_face_number(Canvas& canvas, At at, int cut) {
  canvas.disc(at, kDisc, {.gray = 1}, {.width = 0.3});
  canvas.text({at.x, at.y - 1.65}, std::to_string(cut), {.points = 7.5, .bold = true, .align = Align::center});
}

double distance(At a, At b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

// Outwards from the block's middle until clear of its outline and of the numbers that stand already.
At place_outside(At middle, At face, double radius, const std::vector<At>& taken) {
  double angle = std::atan2(face.y - middle.y, face.x - middle.x);
  for (int k = 0; k < 12; ++k, angle += 0.5) {
    const At p = middle + (radius + kDisc + 1) * At{std::cos(angle), std::sin(angle)};
    if (std::all_of(taken.begin(), taken.end(), [&](At q) { return distance(p, q) > 2 * kDisc + 0.5; })) return p;
  }
  return face;
}

// The disc has to lie on its face: distance from the middle to the nearest side.
bool has_room(const std::vector<At>& loop, At middle) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const At e = loop[(i + 1) % loop.size()] - loop[i], d = middle - loop[i];
    const double length = std::hypot(e.x, e.y);
    if (length > 0 && std::abs(e.x * d.y - e.y * d.x) / length < kDisc * 0.8) return false;
  }
  return true;
}

}  // namespace

void draw_numbered_block(Canvas& canvas, Box box, const Block& block, const Program& program) {
  const std::vector<SawnFace> faces = sawn_faces(block, program);
  const Turn turn = best_turn(faces);
  const std::vector<DrawnBody> body = {{moved(mitered(), {turn, {}}, block.cells), {}, 1, Hatch::none}};
  const double margin = 2 * kDisc + 1.2;
  const Projection p = fit(mitered(), body, {box.x + margin, box.y + margin, box.w - 2 * margin, box.h - 2 * margin});
  draw_solids(canvas, mitered(), body, p);
  std::vector<At> corners;
  for (Vec v : block.body.corners) corners.push_back(p(turn * v));
  const At middle = middle_on_paper(corners);
  double radius = 0;
  for (At c : corners) radius = std::max(radius, distance(c, middle));
  radius = std::min(radius, std::min(box.w, box.h) / 2 - 2 * kDisc - 1);
  std::vector<At> taken;
  for (const SawnFace& s : faces) {
    std::vector<At> loop;
    for (int i : s.face->loop) loop.push_back(corners[static_cast<std::size_t>(i)]);
    const At on = middle_on_paper(loop);
    const bool seen = dot(turn * s.face->plane.n, kEye) > 0;
    const bool inside = seen && has_room(loop, on);
    const At at = inside ? on : place_outside(middle, on, radius, taken);
    if (!inside) canvas.line(at, on, {.width = 0.2, .dash = seen ? 0.0 : 0.8});
    if (!inside && seen) canvas.disc(on, 0.5, {.gray = 0});
    draw_face_number(canvas, at, s.cut);
    taken.push_back(at);
  }
}

}  // namespace stickwright
