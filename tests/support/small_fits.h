// small_fits.h - closed puzzles small enough to be solved by hand, and a checker that knows only the rules.
#pragma once
#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "closing/closed_fit.h"

namespace stickwright::test {

// Rows along one line, all normals along it: pairs (from, to).
inline GapRows on_a_line(int bodies, const std::vector<std::pair<int, int>>& contacts) {
  GapRows g{bodies, std::vector<Point>(bodies), {}};
  for (const auto& [from, to] : contacts) g.rows.push_back({from, to, {1, 0, 0}, {}});
  return g;
}

// Pins 0 and `pitch` along the line on body 0, in holes of body 1, as in the published two-pin fits: each pin touches
// its hole on the left and on the right.
inline GapRows two_pins(double pitch) {
  GapRows g{2, {{}, {pitch / 2, 0, 0}}, {}};
  for (const double at : {0.0, pitch})
    for (const double way : {1.0, -1.0}) g.rows.push_back({0, 1, {way, 0, 0}, {at, 0, 0}});
  return g;
}

// A square face of four corners each between bodies that follow each other in a ring: 0 on 1, 1 on 2, ... the last on
// 0; all normals along t.
inline GapRows square_ring(int bodies) {
  GapRows g{bodies, {}, {}};
  for (int i = 0; i < bodies; ++i) g.center.push_back({1.0 * i, -0.5 * i, 10.0 * i});
  for (int i = 0; i < bodies; ++i)
    for (const auto& [a, b] : {std::pair{-8.0, -8.0}, {8.0, -8.0}, {8.0, 8.0}, {-8.0, 8.0}})
      g.rows.push_back({i, (i + 1) % bodies, {0, 0, 1}, {a, b, 10.0 * i + 5}});
  return g;
}

// What each row leaves when the bodies stand as `moved` says.
inline std::vector<double> gaps(const GapRows& g, std::span<const double> h, const std::vector<Twist>& moved) {
  std::vector<double> out;
  const auto shift = [&](int body, Point p) { return moved[body].slide + cross(moved[body].turn, p - g.center[body]); };
  for (std::size_t r = 0; r < g.rows.size(); ++r) {
    const GapRow& row = g.rows[r];
    out.push_back(h[r] + dot(row.normal, shift(row.to, row.at) - shift(row.from, row.at)));
  }
  return out;
}

// By how much, at most, a fit misses being proved: the least gap is the play, the forces are not negative, add up to 1
// and balance on every body but the held one (moments about its center, over 10 mm), and their work is the play.
inline double unproved(const GapRows& g, std::span<const double> h, const ClosedFit& fit) {
  const std::vector<double> left = gaps(g, h, fit.moved);
  double worst = std::abs(*std::min_element(left.begin(), left.end()) - fit.play_mm), sum = 0, work = 0;
  std::vector<Point> force(g.bodies), moment(g.bodies);
  for (const ContactForce& f : fit.forces) {
    const GapRow& row = g.rows[f.row];
    worst = std::max(worst, -f.share);
    sum += f.share, work += f.share * h[f.row];
    for (const auto& [body, k] : {std::pair{row.from, -f.share}, {row.to, f.share}}) {
      force[body] = force[body] + k * row.normal;
      moment[body] = moment[body] + 0.1 * k * cross(row.at - g.center[body], row.normal);
    }
  }
  worst = std::max({worst, std::abs(sum - 1), std::abs(work - fit.play_mm)});
  for (int i = 1; i < g.bodies; ++i) worst = std::max({worst, length(force[i]), length(moment[i])});
  const Twist& held = fit.moved[0];
  return std::max({worst, length(held.slide), length(held.turn)});
}

}  // namespace stickwright::test
