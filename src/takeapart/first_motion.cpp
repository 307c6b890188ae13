#include "takeapart/first_motion.h"

#include <algorithm>
#include <cassert>

#include "takeapart/hindrance.h"
#include "takeapart/row_motion.h"

namespace stickwright {
namespace {

using Numbers = std::vector<std::int64_t>;

constexpr int kMostCases = 2'000;

// Speeds of the columns as speeds of the pieces, turns about the center brought to turns about the origin.
Motion motion_of(const MotionRows& rows, int pieces, const Numbers& v, Vec center) {
  Motion m;
  m.slide.resize(pieces);
  if (rows.width() == 6) m.turn.resize(pieces);
  for (int i = 0; i < pieces; ++i) {
    const int c = rows.column(i);
    if (c < 0) continue;
    m.slide[i] = {v[c], v[c + 1], v[c + 2]};
    if (rows.width() == 3) continue;
    m.turn[i] = {v[c + 3], v[c + 4], v[c + 5]};
    m.slide[i] = m.slide[i] - cross(m.turn[i], center);
  }
  return m;
}

Motion motion_of(const Parting& p, int pieces) {
  Motion m;
  m.slide.resize(pieces);
  for (int i : p.moves) m.slide[i] = p.direction;
  return m;
}

struct Case {
  Verdict verdict = Verdict::stopped;
  Motion motion;
  Certificate certificate;
};

// Sliding: the faces give rows; an edge contact that the motion runs into is gone around one way after the other.
class Sliding {
 public:
  explicit Sliding(const Touching& touching) : touching_(touching), contacts_(touching.faces) {}

  Case by_faces() {
    const MotionRows rows(contacts_, touching_.pieces, {0});
    RowMotion answer = row_motion(rows);
    Case c{answer.verdict, {}, {}};
    if (answer.verdict == Verdict::found) c.motion = motion_of(rows, touching_.pieces, answer.speed, {});
    if (answer.verdict == Verdict::none_exists) c.certificate = {false, contacts_, std::move(answer.force), {}, {}};
    return c;
  }

  Case by_faces_and_edges() {
    if (++cases_ > kMostCases) return {};
    Case c = by_faces();
    if (c.verdict != Verdict::found) return c;
    const EdgeContact* hit = hindering_edge(touching_, c.motion);
    return hit == nullptr ? c : around(*hit);
  }

 private:
  Case around(const EdgeContact& edge) {
    Case all{Verdict::none_exists, {}, {}};
    all.certificate.edge = edge;
    for (Vec n : edge.normals) {
      contacts_.push_back({edge.from, edge.to, n, {}, {}});
      Case c = by_faces_and_edges();
      contacts_.pop_back();
      if (c.verdict == Verdict::found) return c;
      if (c.verdict == Verdict::stopped) all.verdict = Verdict::stopped;
      all.certificate.cases.push_back(std::move(c.certificate));
    }
    return all;
  }

  const Touching& touching_;
  std::vector<Contact> contacts_;
  int cases_ = 0;
};

// Some motion of the pieces, if only the faces' idea of one is not hindered by edges, or two hands can do something.
Case slide(const Touching& touching, const std::vector<Parting>& partings) {
  Sliding sliding(touching);
  Case c = sliding.by_faces();
  if (c.verdict == Verdict::found && hindering_edge(touching, c.motion) == nullptr) return c;
  if (!partings.empty()) return {Verdict::found, motion_of(partings.front(), touching.pieces), {}};
  return c.verdict == Verdict::found ? sliding.by_faces_and_edges() : c;
}

Vec middle_of(std::span<const Contact> contacts) {
  Vec sum;
  for (const auto& [from, to, normal, inside, at] : contacts)
    sum = sum + Vec{at.top.x / at.bottom, at.top.y / at.bottom, at.top.z / at.bottom};
  const auto n = static_cast<std::int64_t>(std::max<std::size_t>(contacts.size(), 1));
  return {sum.x / n, sum.y / n, sum.z / n};
}

Case turn(std::vector<Contact> corners, int pieces) {
  const Vec center = middle_of(corners);  // keeps the moments small
  const MotionRows rows(corners, pieces, {0}, center);
  RowMotion answer = row_motion(rows);
  Case c{answer.verdict, {}, {}};
  if (answer.verdict == Verdict::found) c.motion = motion_of(rows, pieces, answer.speed, center);
  if (answer.verdict == Verdict::none_exists)
    c.certificate = {true, std::move(corners), std::move(answer.force), {}, {}};
  return c;
}

}  // namespace

FirstMotion first_motion(const Family& family, const Standing& standing, const FirstMotionOptions& options) {
  const Touching touching = stickwright::touching(family, standing);
  assert(touching.pieces >= 1 && touching.pieces <= kMostPieces);
  FirstMotion out;
  out.partings = partings(family, touching);
  Case c = options.turning ? turn(contact_corners(family, standing), touching.pieces) : slide(touching, out.partings);
  out.verdict = c.verdict;
  if (c.verdict == Verdict::found) out.motion = std::move(c.motion);
  if (c.verdict == Verdict::none_exists) out.certificate = std::move(c.certificate);
  return out;
}

}  // namespace stickwright
