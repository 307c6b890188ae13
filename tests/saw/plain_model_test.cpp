// The forward model against a second one that was written in another way, on saws that are off in everything at once.
#include "saw/plain_model.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "saw/forward.h"
#include "saw/test_block.h"

namespace stickwright {
namespace {

struct Case {
  std::string name;
  Program program;
};

void add_tests_of(std::vector<Case>& cases, const std::string& name, const Program& p, double stick_mm) {
  for (std::size_t k = 0; k < p.stops.size(); ++k)
    if (const auto t = test_block(p, static_cast<int>(k), Mm{stick_mm}))
      cases.push_back({name + ", test of stop " + std::to_string(k + 1), test_program(p, *t)});
}

const std::vector<Case>& cases() {
  static const auto all = [] {
    std::vector<Case> out;
    for (const Block& b : block_catalogue(18)) {
      const Program p = plan_cuts(b, {.closest_stop = 0.3}).value();
      out.push_back({b.full_name(), p});
      add_tests_of(out, b.full_name(), p, 16);
    }
    return out;
  }();
  return all;
}

// Everything off by up to `size` times what moves a face by a millimeter.
SawState some_saw(const Program& p, double stick_mm, double size, std::mt19937_64& random) {
  const auto some = [&](double most) { return most * (static_cast<double>(random() % 20001) / 10000 - 1); };
  SawState s = nominal_saw(Mm{stick_mm});
  s.stop_error_mm.assign(p.stops.size(), 0);
  s.seating_mm.assign(p.cuts.size(), 0);
  s.back_to_blade_mm = 180 + some(20);
  for (std::size_t k = 0; k < p.stops.size(); ++k) s.stack_behind_mm.push_back(40 + some(30));
  const auto parameters = parameters_of(s);
  const auto numbers = numbers_of(s);
  for (std::size_t k = 0; k < numbers.size(); ++k) *numbers[k] += some(size * parameters[k].scale);
  s.gauge_expansion = 11.5e-6, s.sled_expansion = 23.8e-6, s.stop_expansion = 100e-6;
  return s;
}

bool same(const plain::Corner& p, Point q) {
  return std::hypot(p.at[0] - q.a, p.at[1] - q.b, p.at[2] - q.t) < 1e-9 + p.doubt;
}

bool same_corners(const std::vector<Point>& ours, const std::vector<plain::Corner>& plain) {
  return std::all_of(
             ours.begin(), ours.end(),
             [&](Point q) { return std::any_of(plain.begin(), plain.end(), [&](auto& p) { return same(p, q); }); }) &&
         std::all_of(plain.begin(), plain.end(), [&](auto& p) {
           return std::any_of(ours.begin(), ours.end(), [&](Point q) { return same(p, q); });
         });
}

// How far, in mm, each of two convex bodies reaches out of the other.
double reach_out(const Body& ours, const std::vector<plain::Half>& halves, const std::vector<plain::Corner>& corners) {
  double most = 0;
  for (Point q : corners_of(ours))
    for (const plain::Half& h : halves) most = std::max(most, h.n[0] * q.a + h.n[1] * q.b + h.n[2] * q.t - h.c);
  for (const plain::Corner& p : corners)
    for (const BodyFace& f : ours.faces)
      most = std::max(most, dot(f.plane.n, Point{p.at[0], p.at[1], p.at[2]}) - f.plane.c);
  return most;
}

// Two convex bodies that do not reach out of each other are one. Their corners are the same, too, but where planes meet
// under less than a few seconds of arc: there the forward model takes a corner less than 1e-9 mm from a plane to lie in
// it, and a corner may slip far along a line.
TEST(PlainModel, FindsTheSameBodyOnSawsThatAreOffInEverything) {
  std::mt19937_64 random(2024);
  int compared = 0;
  for (const Case& c : cases())
    for (double stick : {12.0, 16.0, 25.4})
      for (double size : {0.0, 1e-5, 1e-4, 1e-3, 1e-2, 5e-2})
        for (int round = 0; round < 4; ++round) {
          const SawState s = some_saw(c.program, stick, size, random);
          const Body ours = saw::cut(c.program, s);
          const auto halves = plain::half_spaces(c.program, s);
          const auto corners = plain::corners(halves);
          ASSERT_GE(corners.size(), 4u) << c.name;
          ASSERT_LT(reach_out(ours, halves, corners), 3e-9) << c.name << ", stick " << stick << ", off by " << size;
          ++compared;
          if (size > 0 && size < 1e-2) continue;
          ASSERT_TRUE(same_corners(corners_of(ours), corners)) << c.name << ", stick " << stick << ", " << size;
        }
  EXPECT_GT(compared, 2000);
}

// By hand. The corner up of a stick 10 mm square, 0.02 rad wider than a right angle: half of it is 45 degrees and 0.01
// rad, so it lies 5 / sin(45 deg + 0.01) above the axis, lower than the 5 sqrt 2 of a square stick.
TEST(Stick, IsLowerWhereTheCornersUpAndDownAreWider) {
  const Program p = plan_cuts(block_catalogue(18).front(), {.closest_stop = 0.3}).value();
  SawState s = nominal_saw(Mm{10});
  s.sticks[0].corner_error_rad = 0.02;
  Program start = p;
  start.cuts.clear();
  double up = 0;
  for (Point q : corners_of(saw::cut(start, s))) up = std::max(up, q.b);
  EXPECT_NEAR(up, 5 / std::sin(std::numbers::pi / 4 + 0.01), 1e-12);
  EXPECT_LT(up, 5 * std::numbers::sqrt2);
}

double distance_by_model(StopFace face, double behind, double warm_when_set, double warmer_since) {
  Program p;
  p.start = {End::near, 0, 0};
  p.stops = {{face, 5, Seating::point}};
  Cut cut;
  cut.miter = {End::far, 0, 4};
  p.cuts = {cut};
  SawState s = nominal_saw(Mm{10 * std::numbers::sqrt2});  // a unit of 10 mm, a distance of 50 mm
  s.back_to_blade_mm = 200, s.stack_behind_mm = {behind};
  s.gauge_expansion = 1e-5, s.sled_expansion = 2e-5, s.stop_expansion = 1e-4;
  s.gauge_temperature_c = 20 + warm_when_set, s.cradle_warmer_k = warmer_since;
  const AtTheStop at = at_the_stop(p, 0, s);
  return at.blade.c / at.blade.n.t;
}

// By hand, 200 mm of sled at 2e-5, a stop at 1e-4, gauge blocks at 1e-5, distance 50 mm.
// Mitered: the stack sets 50 (1 + 1e-5 * 10) = 50.005; the stop is what is left, 149.995. Warmer by 5: the sled gains
// 200 * 1e-4 = 0.02, the stop 149.995 * 5e-4 = 0.0749975.
TEST(Temperature, OfAMiteredStop) {
  EXPECT_NEAR(distance_by_model(StopFace::mitered, 0, 10, 0), 50.005, 1e-10);
  EXPECT_NEAR(distance_by_model(StopFace::mitered, 0, 10, 5), 50.005 + 0.02 - 0.0749975, 1e-10);
}

// Square, on a stack of 30 that stays: a warm stack pushes it towards the blade, 30 * 1e-5 * 10 = 0.003. Warmer by 5:
// sled 0.02, stop (200 - 50 - 30) * 5e-4 = 0.06, stack 30 * 5e-5 = 0.0015.
TEST(Temperature, OfASquareStopOnItsStack) {
  EXPECT_NEAR(distance_by_model(StopFace::square, 30, 10, 0), 50 - 0.003, 1e-10);
  EXPECT_NEAR(distance_by_model(StopFace::square, 30, 10, 5), 50 - 0.003 + 0.02 - 0.06 - 0.0015, 1e-10);
}

}  // namespace
}  // namespace stickwright
