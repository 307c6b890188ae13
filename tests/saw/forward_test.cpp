#include "saw/forward.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <set>

#include "saw/test_block.h"

namespace stickwright {
namespace {

const std::vector<Block>& catalogue() {
  static const auto all = block_catalogue(18);
  return all;
}

const Block& block(const std::string& shape) {
  for (const Block& b : catalogue())
    if (b.shape == shape) return b;
  ADD_FAILURE() << shape;
  return catalogue().front();
}

Program program(const std::string& shape) {
  return plan_cuts(block(shape)).value();
}

double nearest(const std::vector<Point>& corners, Point p) {
  double best = INFINITY;
  for (Point q : corners) best = std::min(best, length(p - q));
  return best;
}

TEST(Forward, NominalParametersGiveBackEveryCatalogueBlockUpTo18Cells) {
  const Mm stick{16};
  const double u = unit_mm(stick);
  for (const Block& b : catalogue()) {
    const auto p = plan_cuts(b, {.closest_stop = 0.3});
    ASSERT_TRUE(p) << b.full_name();
    const Body body = saw::cut(*p, nominal_saw(stick));
    const auto real = corners_of(body);
    const auto exact = corners_in_work_frame(b, *p);
    ASSERT_EQ(real.size(), exact.size()) << b.full_name();
    for (Vec v : exact)
      EXPECT_LT(nearest(real, {double(v.x) * u, double(v.y) * u, double(v.z) * u}), 1e-9) << b.full_name();
    EXPECT_EQ(body.faces.size(), b.body.faces.size());
    EXPECT_NEAR(volume(body), static_cast<double>(b.cells.size()) * std::pow(16, 3) / (3 * std::numbers::sqrt2), 1e-6);
  }
}

// The distances worked out in the project's notes on the saw, in units u = s / sqrt 2.
// Center block: the near miter's tip is one unit short of where its plane crosses the axis, the far miter crosses it
// two units beyond, so 1 + 2 = 3u = 3s/sqrt 2. Rhombohedral block: parallel miters two units apart. Squat octahedron:
// the far miter lies two units beyond the near one that it is parallel to.
TEST(Stops, WorkedDistances) {
  const Program center = program("center block");
  EXPECT_EQ(center.stops, (std::vector<Stop>{{StopFace::square, 3, Seating::point}}));
  EXPECT_NEAR(stop_distance(center.stops[0], Mm{1}).v, 2.121320, 5e-7);
  const Program rhombohedral = program("rhombohedral block");
  EXPECT_EQ(rhombohedral.stops, (std::vector<Stop>{{StopFace::mitered, 2, Seating::face}}));
  EXPECT_NEAR(stop_distance(rhombohedral.stops[0], Mm{1}).v, 1.414214, 5e-7);
  const Program octahedron = program("squat octahedron");
  ASSERT_FALSE(octahedron.stops.empty());
  EXPECT_EQ(octahedron.stops[0], (Stop{StopFace::mitered, 2, Seating::face}));
}

// Worked: center block, rhombohedral block and squat octahedron each use 2u of stick.
TEST(Stops, WorkedLengthsOfStick) {
  for (const char* shape : {"center block", "rhombohedral block", "squat octahedron"})
    EXPECT_EQ(program(shape).length, 2) << shape;
}

TEST(Stops, KeepTheBladeClear) {
  for (const Block& b : catalogue())
    for (double closest : {0.0, 0.5, 1.2}) {
      const auto p = plan_cuts(b, {.closest_stop = closest});
      if (!p) continue;
      for (const Stop& s : p->stops) {
        const double d = static_cast<double>(s.distance);
        EXPECT_GE(s.face == StopFace::square ? d - 1 : d / std::numbers::sqrt2, closest);
      }
    }
  EXPECT_FALSE(plan_cuts(block("rhombohedral block"), {.closest_stop = 100}));
}

TEST(Programs, NeedNoSquareStopWhereTheShopHasNone) {
  for (const Block& b : catalogue()) {
    const auto p = plan_cuts(b, {.closest_stop = 0, .square_stops = false});
    ASSERT_TRUE(p) << b.full_name();
    for (const Stop& s : p->stops) EXPECT_EQ(s.face, StopFace::mitered);
    EXPECT_TRUE(check_program(b, *p, Mm{16}));
  }
}

TEST(Programs, SeverOnceAndCutEveryMiterOnce) {
  for (const Block& b : catalogue()) {
    const Program p = plan_cuts(b).value();
    int severs = 0, loose_before = 0;
    bool severed = false;
    std::set<Miter> seen = {p.start};
    for (const Cut& c : p.cuts) {
      severs += c.severs;
      loose_before += !severed && !c.on_stick;
      severed |= c.severs;
      EXPECT_TRUE(seen.insert(c.miter).second);
      EXPECT_EQ(c.on_stick, !severed || c.severs);
    }
    EXPECT_EQ(severs, 1) << b.full_name();
    EXPECT_EQ(loose_before, 0);
    EXPECT_GT(p.length, 0);
  }
}

Point corner_of(Pencil p, double half) {
  const Point corners[] = {{half, 0, 0}, {0, half, 0}, {-half, 0, 0}, {0, -half, 0}};  // away, up, near, down
  return corners[static_cast<int>(p)];
}

// What the card says about the start must be what the forward model does: the corner nearest to a square stop.
TEST(StartPoint, IsWhereThePointOfTheStickLiesAtTheFirstCut) {
  const double half = unit_mm(Mm{16});
  for (const Block& b : catalogue()) {
    const Program p = plan_cuts(b).value();
    const auto corners = corners_of(at_the_stop(p, 0, nominal_saw(Mm{16})).work);
    const Point least = *std::min_element(corners.begin(), corners.end(), [](Point q, Point r) { return q.t < r.t; });
    const Point said = corner_of(start_point(p, 0), half);
    EXPECT_NEAR(least.a, said.a, 1e-9) << b.full_name();
    EXPECT_NEAR(least.b, said.b, 1e-9) << b.full_name();
  }
}

// The severing cut leaves the stick beyond the blade with its point away from the operator: the roll starts from there.
TEST(StartPoint, AfterASeveringCutThePointLiesAway) {
  for (const Block& b : catalogue()) {
    const Program p = plan_cuts(b).value();
    for (std::size_t k = 0; k < p.cuts.size(); ++k) {
      if (!p.cuts[k].severs) continue;
      const AtTheStop at = at_the_stop(p, k, nominal_saw(Mm{16}));
      const auto corners = corners_of(clip(at.work, {-1.0 * at.blade.n, -at.blade.c}, 1));
      const Point least = *std::min_element(corners.begin(), corners.end(), [](Point q, Point r) { return q.t < r.t; });
      EXPECT_NEAR(least.a, unit_mm(Mm{16}), 1e-9) << b.full_name();
    }
  }
}

// From the project's notes: a center block needs one more cut at the same stop; M = s + e / sqrt 2 with stop error e
// (the distance across two faces at 45 degrees is cos 45 deg times their axial distance), and dM/d(eps) = -2 s:
// with miter error eps the tip lies u (1 + 2 eps) short of the axis crossing, so the axial distance of the two parallel
// faces is 2u (1 - eps), and across them cos(45 deg + eps) = (1 - eps) / sqrt 2 of that.
TEST(TestBlock, CenterBlockReadsStickSizeAndTheWorkedSensitivities) {
  const auto t = test_block(program("center block"), 0, Mm{16}).value();
  EXPECT_EQ(t.extra.size(), 1u);
  EXPECT_NEAR(t.across_flats.v, 16, 1e-9);
  EXPECT_NEAR(t.per_stop, 1 / std::numbers::sqrt2, 1e-6);
  EXPECT_NEAR(t.per_miter_mm_per_rad, -2 * 16, 1e-3);
}

// The planner counts contacts exactly; the forward model, with real corners, must agree with it for every cut.
TEST(Contacts, OfThePlannerAreThoseOfTheForwardModel) {
  for (const Block& b : catalogue()) {
    const Program p = plan_cuts(b).value();
    for (std::size_t k = 0; k < p.cuts.size(); ++k) {
      const AtTheStop at = at_the_stop(p, k, nominal_saw(Mm{16}));
      int touching = 0;
      for (Point q : corners_of(at.work)) touching += std::abs(dot(at.stop_face.n, q) - at.stop_face.c) < 1e-6;
      EXPECT_EQ(p.cuts[k].contact, touching >= 3   ? Seating::face
                                   : touching == 2 ? Seating::edge
                                                   : Seating::point)
          << b.full_name() << k;
    }
  }
}

// The test piece of a prism is severed with its near miter flat on the mitered stop: face contact, unlike the block's
// own.
TEST(TestBlock, SaysHowTheTestPieceItselfTouches) {
  const auto t = test_block(plan_cuts(block("prism block")).value(), 0, Mm{16}).value();
  ASSERT_EQ(t.extra.size(), 1u);
  EXPECT_EQ(t.extra[0].contact, Seating::face);
}

// Face contact: the stop's face and the blade plane turn together, so the axial distance stays and only cos(45 deg +
// eps) tells: dM/d(eps) = -s.
TEST(TestBlock, RhombohedralBlockNeedsNoStandIn) {
  const auto t = test_block(program("rhombohedral block"), 0, Mm{16}).value();
  EXPECT_TRUE(t.extra.empty());
  EXPECT_NEAR(t.across_flats.v, 16, 1e-9);
  EXPECT_NEAR(t.per_stop, 1 / std::numbers::sqrt2, 1e-6);
  EXPECT_NEAR(t.per_miter_mm_per_rad, -16, 1e-3);
}

TEST(TestBlock, EveryStopOfEveryCatalogueBlockCanBeProved) {
  for (const Block& b : catalogue()) {
    const Program p = plan_cuts(b, {.closest_stop = 0.3}).value();
    for (std::size_t k = 0; k < p.stops.size(); ++k) {
      const auto t = test_block(p, static_cast<int>(k), Mm{16});
      ASSERT_TRUE(t) << b.full_name();
      // What the stand-in measures with a stop that is 0.1 mm long is what the sensitivity says.
      SawState off = nominal_saw(Mm{16});
      off.stop_error_mm.assign(p.stops.size(), 0);
      off.stop_error_mm[k] = 0.1;
      const Body body = saw::cut(test_program(p, *t), off);
      const BodyFace *f = nullptr, *g = nullptr;
      for (const BodyFace& face : body.faces) {
        if (face.made_by == t->face_a) f = &face;
        if (face.made_by == t->face_b) g = &face;
      }
      ASSERT_TRUE(f && g);
      const double flats = std::abs(dot(f->plane.n, middle(*f) - middle(*g)));
      EXPECT_NEAR(flats, t->across_flats.v + 0.1 * t->per_stop, 1e-6) << b.full_name();
    }
  }
}

// A V cradle that is rolled by rho tilts each miter; a blade tilted by tau does the same. Turning both by the same
// small angle about nearly the same line must nearly cancel in the angle between a miter and the stick's sides.
TEST(Forward, MiterErrorTurnsTheFaceByThatAngle) {
  SawState s = nominal_saw(Mm{20});
  s.miter_error_rad = 0.01;
  const Body body = saw::cut(program("rhombohedral block"), s);
  for (const BodyFace& f : body.faces)
    EXPECT_NEAR(std::acos(std::abs(f.plane.n.t)), f.made_by < 0 ? std::numbers::pi / 2 : std::numbers::pi / 4 + 0.01,
                1e-12);
}

// Common practice, no source: comparing two opposite miters with a square shows twice the miter error.
TEST(Forward, OppositeMitersMeetAtNinetyDegreesPlusTwiceTheError) {
  SawState s = nominal_saw(Mm{20});
  s.miter_error_rad = 0.002;
  const Body body = saw::cut(program("center block"), s);
  const BodyFace *near = nullptr, *far = nullptr;
  for (const BodyFace& f : body.faces) {
    if (f.made_by == 0) near = &f;
    if (f.made_by == 1) far = &f;
  }
  ASSERT_TRUE(near && far);
  const double between_normals = std::acos(dot(near->plane.n, far->plane.n));
  EXPECT_NEAR(std::numbers::pi - between_normals, std::numbers::pi / 2 + 2 * 0.002, 1e-12);
}

TEST(Clip, ACubeInHalf) {
  Body cube = saw::cut(program("rhombohedral block"), nominal_saw(Mm{16}));
  const double whole = volume(cube);
  const Point c = [&] {
    Point sum;
    for (Point p : corners_of(cube)) sum = sum + (1.0 / 8) * p;
    return sum;
  }();
  const Plane through{{0, 0, 1}, c.t};
  EXPECT_NEAR(volume(clip(cube, through, 9)), whole / 2, 1e-9);  // centrally symmetric
  EXPECT_EQ(clip(cube, {{0, 0, 1}, 1e4}, 9).faces.size(), cube.faces.size());
  EXPECT_TRUE(clip(cube, {{0, 0, 1}, -1e4}, 9).faces.empty());
}

}  // namespace
}  // namespace stickwright
