#include "packet/cut_scene.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "batch/plan.h"
#include "packet/body_mesh.h"
#include "packet/card_rows.h"
#include "packet/cut_at_saw.h"

namespace stickwright {
namespace {

const BatchPlan& wrenfield() {
  static const BatchPlan plan = plan_set_ups(STICKWRIGHT_SOURCE "/examples/wrenfield/batch.toml").take();
  return plan;
}

// Every cut of every card, test pieces too.
struct DrawnCut {
  std::string name;
  Cut cut;
  const StopPlan* stop;
  SawScene scene;
};
std::vector<DrawnCut> all_cuts() {
  std::vector<DrawnCut> out;
  const Batch& batch = wrenfield().batch;
  for (const auto& s : wrenfield().set_ups) {
    const auto card = card_of(s);
    for (const CardRow& r : card->rows) {
      if (!r.program) continue;
      const StopPlan& stop = s.stops[r.stop];
      const SawView view{*r.program,
                         r.cut,
                         batch.stick,
                         batch.shop.blade.kerf,
                         batch.shop.sled.clamp_side,
                         stop.square_stop.has_value()};
      out.push_back({set_up_id(wrenfield(), s) + ", cut " + r.mark, r.program->cuts[r.cut], &stop,
                     cut_scene(view, stop, batch.shop.sled.back_to_blade, r.across_flats)});
    }
  }
  return out;
}

std::vector<Body> of(const SawScene& scene, AtTheSaw what) {
  std::vector<Body> out;
  for (const SceneBody& b : scene.bodies)
    if (b.what == what) out.push_back(b.body);
  return out;
}

double mesh_volume(const BodyMesh& m) {
  double six = 0;
  for (const auto& [a, b, c] : m.triangles) six += dot(m.corners[a], cross(m.corners[b], m.corners[c]));
  return six / 6;
}

// Least and greatest of n.p over the corners.
std::pair<double, double> span_along(const Body& body, Point n) {
  double low = 1e9, high = -1e9;
  for (Point p : corners_of(body)) low = std::min(low, dot(n, p)), high = std::max(high, dot(n, p));
  return {low, high};
}

constexpr double kTol = 1e-6;  // mm; the pictures come from doubles that are good to 1e-9
const Point kAlong{0, 0, 1}, kBladeNormal{std::numbers::sqrt2 / 2, 0, std::numbers::sqrt2 / 2};

TEST(BodyMesh, OfABoxHasEightCornersTwelveEdgesAndItsVolume) {
  const BodyMesh m = mesh_of(box_body({-1, 0, 2}, {1, 3, 6}));
  EXPECT_EQ(m.corners.size(), 8u);
  EXPECT_EQ(m.triangles.size(), 12u);
  EXPECT_EQ(m.edges.size(), 12u);
  EXPECT_DOUBLE_EQ(mesh_volume(m), 2 * 3 * 4);
}

TEST(CutScene, EveryBodyIsWatertightAndTurnedOutwards) {
  int bodies = 0;
  for (const DrawnCut& c : all_cuts())
    for (const SceneBody& b : c.scene.bodies) {
      const BodyMesh m = mesh_of(b.body);
      std::map<std::pair<int, int>, int> sides;
      for (const auto& t : m.triangles)
        for (int k = 0; k < 3; ++k) ++sides[{t[k], t[(k + 1) % 3]}];
      for (const auto& [side, times] : sides) {
        EXPECT_EQ(times, 1) << c.name << ", " << to_string(b.what);
        EXPECT_TRUE(sides.contains({side.second, side.first})) << c.name << ", " << to_string(b.what);
      }
      EXPECT_EQ(
          static_cast<int>(m.corners.size()) - static_cast<int>(m.edges.size()) + static_cast<int>(b.body.faces.size()),
          2)
          << "Euler, " << c.name << ", " << to_string(b.what);
      EXPECT_GT(mesh_volume(m), 0) << c.name << ", " << to_string(b.what);
      ++bodies;
    }
  EXPECT_GT(bodies, 50);
}

// A stick of side s whose one end is square and the other a miter has the volume s^2 times its length on the axis: the
// miter takes as much on one side as it leaves on the other. A kerf k takes s^2 k sqrt 2, and between two parallel
// miters 2u apart, u = s / sqrt 2, there are s^2 2u.
TEST(CutScene, VolumesAreThoseOfASquareStickByHand) {
  const double s = wrenfield().batch.stick.v, kerf = wrenfield().batch.shop.blade.kerf.v;
  const double u = s / std::numbers::sqrt2;
  int severed = 0, between_parallel = 0;
  for (const DrawnCut& c : all_cuts()) {
    if (!c.cut.severs) continue;
    ++severed;
    EXPECT_NEAR(volume(of(c.scene, AtTheSaw::kerf).at(0)), s * s * kerf * std::numbers::sqrt2, kTol) << c.name;
    const Body beyond = of(c.scene, AtTheSaw::stick_beyond).at(0);
    const double from = c.stop->distance.v + kerf * std::numbers::sqrt2, to = span_along(beyond, kAlong).second;
    EXPECT_NEAR(volume(beyond), s * s * (to - from), kTol) << c.name;
    if (c.stop->stop.face == StopFace::mitered && c.cut.contact == Seating::face) {
      ++between_parallel;
      EXPECT_NEAR(volume(of(c.scene, AtTheSaw::kept).at(0)), s * s * static_cast<double>(c.stop->stop.distance) * u,
                  kTol)
          << c.name;
    }
  }
  EXPECT_GE(severed, 3);
  EXPECT_GE(between_parallel, 1);
}

TEST(CutScene, TheWorkTouchesTheStopsFaceAsTheProgramSays) {
  for (const DrawnCut& c : all_cuts()) {
    const std::size_t corners = c.scene.contact.size();
    EXPECT_EQ(c.cut.contact, corners == 1 ? Seating::point : corners == 2 ? Seating::edge : Seating::face) << c.name;
    const bool square = c.stop->stop.face == StopFace::square;
    const Body stop = of(c.scene, AtTheSaw::stop).at(0);
    EXPECT_NEAR(span_along(stop, square ? kAlong : kBladeNormal).second, 0, kTol) << c.name;
    // Each corner that touches lies on the face, and inside of it.
    const auto face = std::find_if(stop.faces.begin(), stop.faces.end(), [&](const BodyFace& f) {
      return length(f.plane.n - (square ? kAlong : kBladeNormal)) < kTol;
    });
    ASSERT_NE(face, stop.faces.end()) << c.name;
    for (Point p : c.scene.contact) {
      EXPECT_NEAR(dot(face->plane.n, p), 0, kTol) << c.name;
      for (const BodyFace& f : stop.faces) EXPECT_LE(dot(f.plane.n, p), f.plane.c + kTol) << c.name;
    }
  }
}

TEST(CutScene, TheBladePlaneStandsAtTheStopsDistanceAndIsAKerfWide) {
  for (const DrawnCut& c : all_cuts()) {
    const auto [near_side, far_side] = span_along(of(c.scene, AtTheSaw::blade).at(0), kBladeNormal);
    EXPECT_NEAR(near_side * std::numbers::sqrt2, c.stop->distance.v, kTol) << c.name;
    EXPECT_NEAR(far_side - near_side, wrenfield().batch.shop.blade.kerf.v, kTol) << c.name;
    EXPECT_NEAR(span_along(of(c.scene, AtTheSaw::kept).at(0), kBladeNormal).second, near_side, kTol) << c.name;
    for (const SceneBody& b : c.scene.bodies)
      if (b.what == AtTheSaw::off_cut || b.what == AtTheSaw::stick_beyond) {
        EXPECT_GE(span_along(b.body, kBladeNormal).first, far_side - kTol) << c.name;
      }
  }
}

// Square: back stop, stack, stop; the stop is as long as the shelf says, but for what the stack misses. Mitered: the
// blank stands at the back stop, the stack is gone.
TEST(CutScene, TheStackStandsBehindASquareStopAndIsGoneBehindAMiteredOne) {
  const Batch& batch = wrenfield().batch;
  int square = 0, mitered = 0;
  for (const DrawnCut& c : all_cuts()) {
    const double back = span_along(of(c.scene, AtTheSaw::back_stop).at(0), kAlong).second;
    EXPECT_NEAR(c.stop->distance.v - back, batch.shop.sled.back_to_blade.v, kTol);
    const auto blocks = of(c.scene, AtTheSaw::gauge_block);
    const double from = span_along(of(c.scene, AtTheSaw::stop).at(0), kAlong).first;
    if (!c.stop->square_stop) {
      ++mitered;
      EXPECT_TRUE(blocks.empty()) << c.name;
      EXPECT_NEAR(from, back, kTol) << c.name;
      continue;
    }
    ++square;
    ASSERT_EQ(blocks.size(), c.stop->sizes.size()) << c.name;
    double t = back;
    for (std::size_t k = 0; k < blocks.size(); ++k) {
      EXPECT_NEAR(span_along(blocks[k], kAlong).first, t, kTol);
      EXPECT_NEAR(span_along(blocks[k], kAlong).second, t += to_mm(c.stop->sizes[k]).v, kTol);
    }
    EXPECT_NEAR(from, t, kTol) << c.name;
    EXPECT_NEAR(-from, c.stop->square_stop->v, 0.005) << c.name;
  }
  EXPECT_GE(square, 1);
  EXPECT_GE(mitered, 1);
}

TEST(CutScene, TheCradleCarriesTheStickAndDoesNotReachIntoIt) {
  const double half = unit_mm(wrenfield().batch.stick);
  for (const DrawnCut& c : all_cuts()) {
    bool carries = false;
    for (const Body& flank : of(c.scene, AtTheSaw::cradle))
      for (Point p : corners_of(flank)) {
        EXPECT_LE(p.b, std::abs(p.a) - half + kTol) << c.name;
        carries |= std::abs(p.b - std::abs(p.a) + half) < kTol;
      }
    EXPECT_TRUE(carries) << c.name;
  }
}

TEST(CutScene, WhatIsMeasuredIsAsLongAsTheTestSaysAndEndsOnTwoFacesOfTheWork) {
  int measured = 0;
  const Batch& batch = wrenfield().batch;
  for (const auto& s : wrenfield().set_ups) {
    const auto card = card_of(s);
    for (const CardRow& r : card->rows) {
      if (!r.across_flats) continue;
      ++measured;
      const SawView view{*r.program, r.cut, batch.stick, batch.shop.blade.kerf, Side::left, false};
      const CutAtSaw cut = cut_at_saw(view);
      const auto [on_the_cut, across] = where_to_measure(cut, *r.across_flats);
      EXPECT_NEAR(length(on_the_cut - across), s.tests[*r.test].test.across_flats.v, kTol);
      for (const Point p : {on_the_cut, across})
        EXPECT_TRUE(std::any_of(cut.kept.faces.begin(), cut.kept.faces.end(), [&](const BodyFace& f) {
          return std::abs(dot(f.plane.n, p) - f.plane.c) < kTol &&
                 std::abs(std::abs(dot(f.plane.n, cut.at.blade.n)) - 1) < kTol;
        }));
    }
  }
  std::size_t tests = 0;
  for (const auto& s : wrenfield().set_ups) tests += s.tests.size();
  EXPECT_EQ(measured, static_cast<int>(tests));
}

// A mitered stop is as long as the way from back stop to blade less the stack that stood behind it.
TEST(StopScene, TheBlankIsCutAtTheBladeWithTheStackBehindIt) {
  const Batch& batch = wrenfield().batch;
  for (const auto& s : wrenfield().set_ups)
    for (const StopPlan& stop : s.stops) {
      const SawScene scene = stop_scene(stop, batch);
      const Body block = of(scene, AtTheSaw::stop).at(0);
      EXPECT_EQ(of(scene, AtTheSaw::gauge_block).size(), stop.sizes.size());
      if (stop.square_stop) {
        EXPECT_NEAR(span_along(block, kAlong).second - span_along(block, kAlong).first, stop.square_stop->v, kTol);
        continue;
      }
      const double at_axis = span_along(block, kBladeNormal).second * std::numbers::sqrt2;
      EXPECT_NEAR(at_axis - span_along(block, kAlong).first,
                  batch.shop.sled.back_to_blade.v - to_mm(stop.stack.total).v, kTol);
    }
}

}  // namespace
}  // namespace stickwright
