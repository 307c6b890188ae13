#include "saw/sensitivity.h"

#include <gtest/gtest.h>

#include <random>

#include "block/catalogue.h"

namespace stickwright {
namespace {

struct Case {
  std::string name;
  Program program;
};

const std::vector<Case>& all_programs() {
  static const auto all = [] {
    std::vector<Case> out;
    for (const Block& b : block_catalogue(18))
      out.push_back({b.full_name(), plan_cuts(b, {.closest_stop = 0.3}).value()});
    return out;
  }();
  return all;
}

// A saw with every number of the state in it, true or off.
SawState saw_for(const Program& p, bool off) {
  SawState s = nominal_saw(Mm{16});
  s.stop_error_mm.assign(p.stops.size(), 0);
  s.seating_mm.assign(p.cuts.size(), 0);
  s.back_to_blade_mm = 182.4;
  s.gauge_expansion = 11.5e-6, s.sled_expansion = 23.8e-6, s.stop_expansion = 100e-6;
  s.sticks[0].movement_1 = 0.00126, s.sticks[0].movement_2 = 0.00248;
  s.cradles[0].yaw_per_n = 2e-6, s.cradles[0].pitch_per_n = 5e-6;
  if (!off) return s;
  std::mt19937_64 random(11);
  const auto some = [&](double most) { return most * (static_cast<double>(random() % 2001) / 1000 - 1); };
  s.miter_error_rad = some(0.01), s.blade_tilt_rad = some(0.01);
  s.cradles[0].roll_rad = some(0.01), s.cradles[0].pitch_rad = some(0.01);
  s.sticks[0].side_1_mm += some(0.1), s.sticks[0].side_2_mm += some(0.1), s.sticks[0].corner_error_rad = some(0.01);
  s.sticks[0].moisture_change = some(2);
  for (double& e : s.stop_error_mm) e = some(0.1);
  for (double& e : s.seating_mm) e = some(0.05);
  s.run_out_mm = some(0.05), s.clamp_change_n = some(40);
  s.cradle_warmer_k = some(6), s.gauge_temperature_c += some(6);
  return s;
}

SawState stepped(SawState s, std::size_t k, double step) {
  *numbers_of(s)[k] += step;
  return s;
}

// The plane of a face as four measures: its normal and where it crosses the line t through (a, b) = 0.
std::array<double, 4> numbers(const Plane& p) {
  return {p.n.a, p.n.b, p.n.t, p.c};
}
std::array<Dual, 4> numbers(const BasicPlane<Dual>& p) {
  return {p.n.a, p.n.b, p.n.t, p.c};
}

// Every face of every block of the catalogue against differences to either side, of second order:
// (4 f(h) - f(2h) - 3 f(0)) / 2h. With h = 2e-4 of a scale that moves faces by about a millimeter, what is left out is
// h^2 f''' / 3, some 1e-7 at most, and the rounding of 1e-13 / h less than that.
void compare_all_faces(bool off) {
  constexpr double kStep = 2e-4, kWithin = 2e-6;
  int kinks = 0, compared = 0;
  for (const Case& c : all_programs()) {
    const SawState s = saw_for(c.program, off);
    const Body here = saw::cut(c.program, s);
    const auto parameters = parameters_of(s);
    for (std::size_t k = 0; k < parameters.size(); ++k) {
      const double h = kStep * parameters[k].scale;
      for (double way : {1.0, -1.0}) {
        const auto dual = saw::cut(c.program, moving(s, k, way * parameters[k].scale));
        const Body once = saw::cut(c.program, stepped(s, k, way * h));
        const Body twice = saw::cut(c.program, stepped(s, k, 2 * way * h));
        for (const BodyFace& f : here.faces) {
          const auto* d = face_made_by(dual, f.made_by);
          const BodyFace *f1 = face_made_by(once, f.made_by), *f2 = face_made_by(twice, f.made_by);
          ASSERT_EQ(d != nullptr, f1 != nullptr) << c.name << ", " << parameters[k].name << ", face " << f.made_by;
          if (!d || !f2) continue;
          for (int i = 0; i < 4; ++i) {
            const double slope =
                (4 * numbers(f1->plane)[i] - numbers(f2->plane)[i] - 3 * numbers(f.plane)[i]) / (2 * kStep);
            ASSERT_NEAR(numbers(d->plane)[i].d, slope, kWithin)
                << c.name << ", " << parameters[k].name << (way > 0 ? " up" : " down") << ", face " << f.made_by;
            ++compared;
          }
        }
      }
    }
    for (std::size_t k = 0; k < parameters.size(); ++k) {
      const auto up = saw::cut(c.program, moving(s, k, parameters[k].scale));
      const auto down = saw::cut(c.program, moving(s, k, -parameters[k].scale));
      for (const BodyFace& f : here.faces) {
        const auto *u = face_made_by(up, f.made_by), *d = face_made_by(down, f.made_by);
        kinks += u && d && std::abs(u->plane.c.d + d->plane.c.d) > 1e-6;
      }
    }
  }
  EXPECT_GT(compared, 10000);
  // Face and edge contacts of the nominal saw touch at one end or the other; in general position nothing touches twice.
  EXPECT_EQ(kinks > 0, !off);
}

TEST(Sensitivity, OfEveryFaceToEveryNumberIsThatOfDifferencesOnEitherSide) {
  compare_all_faces(false);
}
TEST(Sensitivity, OfEveryFaceOfASawThatIsOffIsThatOfDifferences) {
  compare_all_faces(true);
}

double distance_to_nearest(const std::vector<Point>& corners, Point p) {
  double least = INFINITY;
  for (Point q : corners) least = std::min(least, length(p - q));
  return least;
}

// Every corner, slivers of faces among them: where it goes by its derivative is where a corner of the moved body is,
// but for what is of second order: h^2 f'' / 2, with h = 1e-5 and f'' of some 20 mm, more at a sliver. A step as small
// as that, because a sliver a micrometer wide comes and goes with a larger one.
TEST(Sensitivity, OfEveryCornerSaysWhereTheCornerGoes) {
  constexpr double kStep = 1e-5, kWithin = 5e-7;
  for (const Case& c : all_programs()) {
    const SawState s = saw_for(c.program, true);
    const auto parameters = parameters_of(s);
    for (std::size_t k = 0; k < parameters.size(); ++k) {
      const auto now = corners_of(saw::cut(c.program, moving(s, k, parameters[k].scale)));
      const auto then = corners_of(saw::cut(c.program, stepped(s, k, kStep * parameters[k].scale)));
      for (const auto& p : now) {
        const Point goes{p.a.v + kStep * p.a.d, p.b.v + kStep * p.b.d, p.t.v + kStep * p.t.d};
        ASSERT_LT(distance_to_nearest(then, goes), kWithin) << c.name << ", " << parameters[k].name;
      }
    }
  }
}

// Errors from a tenth of a nanometer to a tenth of a millimeter: the smaller ones lie about the size at which corners
// are taken for one. The body must stay whole: no more than its surface times the error away from the nominal volume.
TEST(Forward, SmallErrorsOfEverySizeChangeTheBlockALittle) {
  std::mt19937_64 random(5);
  for (const Case& c : all_programs()) {
    const SawState nominal = saw_for(c.program, false);
    const double whole = volume(saw::cut(c.program, nominal));
    for (int round = 0; round < 60; ++round) {
      SawState s = nominal;
      const double size = std::pow(10, -1 - round % 10);
      const auto parameters = parameters_of(s);
      const auto numbers = numbers_of(s);
      for (std::size_t k = 0; k < numbers.size(); ++k)
        *numbers[k] += size * parameters[k].scale * (static_cast<double>(random() % 2001) / 1000 - 1) / 10;
      const Body body = saw::cut(c.program, s);
      ASSERT_FALSE(body.faces.empty()) << c.name << " at " << size;
      ASSERT_NEAR(volume(body), whole, 3e4 * size + 1e-6) << c.name << " at " << size;
    }
  }
}

}  // namespace
}  // namespace stickwright
