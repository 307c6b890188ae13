#include "saw/first_order.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "block/catalogue.h"

namespace stickwright {
namespace {

struct NamedProgram {
  std::string name;
  Program program;
};

// Every block of the catalogue, with the stops that it likes best and with mitered ones alone.
const std::vector<NamedProgram>& programs() {
  static const auto all = [] {
    std::vector<NamedProgram> out;
    for (bool square : {true, false})
      for (const Block& b : block_catalogue(18))
        out.push_back({b.full_name() + (square ? "" : ", no square stops"),
                       plan_cuts(b, {.closest_stop = 0.3, .square_stops = square}).value()});
    return out;
  }();
  return all;
}

const Program& program(const std::string& name) {
  for (const NamedProgram& p : programs())
    if (p.name == name) return p.program;
  ADD_FAILURE() << name;
  return programs().front().program;
}

// A miter that grazes the edge between a side and the start, and on that edge the work lies for the last cut: with
// t - a >= 0 the miter, t + b >= 1 the start and a + b <= 1 the side, all three meet where a + b = 1, t = a. Two ends,
// and the stop's push is held by the miter alone or by the other two. (The miter is cut with the work turned, so that
// no saw leaves it parallel to the stop.)
Program edge_held_by_three_planes() {
  Program p;
  p.start = {End::near, 3, 1};
  p.stops = {{StopFace::square, 4, Seating::point},   // from the tip of the start, t = 0, to t = 4
             {StopFace::square, 5, Seating::point},   // from the tip of that, t = 5, back to t = 0
             {StopFace::mitered, 2, Seating::edge}};  // from the miter, t - a = 0, to t - a = 2
  p.cuts.resize(3);
  p.cuts[0].miter = {End::far, 0, 4}, p.cuts[0].stop = 0;
  p.cuts[1].miter = {End::near, 0, 0}, p.cuts[1].stop = 1, p.cuts[1].end_for_end = true;
  p.cuts[2].miter = {End::far, 2, 2}, p.cuts[2].stop = 2;
  return p;
}

// A miter that grazes the edge between a side and the start, a - b = -1, t = a, and so the tip of the start, where the
// work touches for the last cut. The push, (0, 0, -1), is held by the start and both sides or by start, miter and the
// other side. Miter and both sides make a corner there, too, that the stop cannot push on: the weights would be 1, 1/2
// and -1/2.
Program corner_of_four_planes() {
  Program p;
  p.start = {End::near, 0, 0};
  p.stops = {{StopFace::square, 5, Seating::point},   // from the tip, t = -1, to t = 4
             {StopFace::square, 6, Seating::point},   // from the tip of that, t = 5, back to t = -1
             {StopFace::square, 4, Seating::point}};  // from the tip of the start to t = 3
  p.cuts.resize(3);
  p.cuts[0].miter = {End::far, 0, 4}, p.cuts[0].stop = 0;
  p.cuts[1].miter = {End::near, 1, -1}, p.cuts[1].stop = 1, p.cuts[1].end_for_end = true;
  p.cuts[2].miter = {End::far, 2, 3}, p.cuts[2].stop = 2;
  return p;
}

// A saw without geometric errors and with every number of the state in it.
SawState true_saw(const Program& p) {
  SawState s = nominal_saw(Mm{16});
  s.cradles.resize(2), s.sticks.resize(2);
  s.stop_error_mm.assign(p.stops.size(), 0);
  s.seating_mm.assign(p.cuts.size(), 0);
  s.back_to_blade_mm = 182.4;
  s.gauge_expansion = 11.5e-6, s.sled_expansion = 23.8e-6, s.stop_expansion = 100e-6;
  for (auto& stick : s.sticks)
    stick.side_1_mm = stick.side_2_mm = 16, stick.movement_1 = 0.00126, stick.movement_2 = 0.00248;
  for (auto& cradle : s.cradles) cradle.yaw_per_n = 2e-6, cradle.pitch_per_n = 5e-6;
  return s;
}
constexpr Workplace kPlace = {.cradle = 1, .stick = 1};

using Numbers = std::vector<double>;

// In each number up to its scale to either side.
Numbers random_direction(const SawState& s, std::mt19937_64& random) {
  Numbers x;
  for (const Parameter& p : parameters_of(s)) x.push_back(p.scale * std::uniform_real_distribution(-1.0, 1.0)(random));
  return x;
}

SawState off_by(SawState s, const Numbers& x) {
  const auto numbers = numbers_of(s);
  for (std::size_t k = 0; k < x.size(); ++k) *numbers[k] += x[k];
  return s;
}

Numbers times(double k, Numbers x) {
  for (double& v : x) v *= k;
  return x;
}

StateOf<Dual> moving_along(const SawState& s, const Numbers& x) {
  StateOf<Dual> moved = standing_still(s);
  const auto numbers = numbers_of(moved);
  for (std::size_t k = 0; k < x.size(); ++k) numbers[k]->d = x[k];
  return moved;
}

BlockChange change_of(const FirstOrderBlock& block, const Numbers& x) {
  BlockChange out;
  change(block, x, out);
  return out;
}

std::array<double, 4> numbers(const FaceChange& f) {
  return {f.offset, f.turn.a, f.turn.b, f.turn.t};
}

// How far, in mm, the first-order faces stand off those of the forward model, at the corners of the nominal faces.
double worst_difference(const FirstOrderBlock& block, const Body& real, const BlockChange& moved) {
  double worst = 0;
  for (std::size_t k = 0; k < block.faces.size(); ++k) {
    const BodyFace* f = face_made_by(real, block.faces[k].made_by);
    if (!f) return INFINITY;
    for (Point p : block.nominal.faces[k].loop)
      worst = std::max(worst, std::abs(f->plane.c - dot(f->plane.n, p) - moved.face(block.faces[k]).outward(p)));
  }
  return worst;
}

// The planes of slides that are given are those of slides that are found by touching.
TEST(PlanesWhenSlid, AreTheFacesOfTheForwardModelForSawsThatAreOff) {
  std::mt19937_64 random(3);
  for (const NamedProgram& p : programs()) {
    SawState saw = true_saw(p.program);
    for (int round = 0; round < 3; ++round) {
      std::vector<double> slides;
      for (std::size_t i = 0; i < p.program.cuts.size(); ++i) slides.push_back(at_the_stop(p.program, i, saw).slid_mm);
      const auto planes = saw::planes_when_slid<double>(p.program, saw, slides).planes;
      for (const BodyFace& f : saw::cut(p.program, saw).faces) {
        const Plane& q = planes[plane_number(f.made_by)];
        EXPECT_LT(length(q.n - f.plane.n), 1e-13) << p.name;
        EXPECT_NEAR(q.c, f.plane.c, 1e-11) << p.name;
      }
      saw = off_by(true_saw(p.program), times(0.01, random_direction(saw, random)));
    }
  }
}

void expect_slopes(const NamedProgram& p, const SawState& about, int directions) {
  std::mt19937_64 random(17);
  const FirstOrderBlock block = first_order(p.program, about, kPlace);
  ASSERT_EQ(block.numbers.size(), parameters_of(about).size());
  for (int round = 0; round < directions; ++round) {
    const Numbers x = random_direction(about, random);
    const auto dual = saw::cut(p.program, moving_along(about, x), kPlace);
    const BlockChange moved = change_of(block, x);
    for (const FirstOrderFace& f : block.faces) {
      const auto* d = face_made_by(dual, f.made_by);
      ASSERT_TRUE(d) << p.name << ", face " << f.made_by;
      const std::array<double, 4> slope = {d->plane.c.d, d->plane.n.a.d, d->plane.n.b.d, d->plane.n.t.d};
      for (int i = 0; i < 4; ++i)
        ASSERT_NEAR(numbers(moved.face(f))[i], slope[i], 1e-9 * (1 + std::abs(slope[i])))
            << p.name << ", direction " << round << ", face " << f.made_by;
    }
  }
}

TEST(FirstOrder, IsTheSlopeOfEveryFaceInRandomDirectionsOfAllNumbersForEveryCatalogueBlock) {
  for (const NamedProgram& p : programs()) expect_slopes(p, true_saw(p.program), 60);
}

TEST(FirstOrder, IsTheSlopeForSawsThatAreOffToo) {
  std::mt19937_64 random(4);
  for (const NamedProgram& p : programs()) {
    const SawState nominal = true_saw(p.program);
    expect_slopes(p, off_by(nominal, times(0.01, random_direction(nominal, random))), 5);
  }
}

TEST(FirstOrder, IsTheSlopeWhereThreePlanesHoldTheEdgeThatTouches) {
  const Program p = edge_held_by_three_planes();
  const SawState s = true_saw(p);
  const FirstOrderBlock block = first_order(p, s, kPlace);
  const FirstOrderSlide& last = block.slides[2];
  ASSERT_EQ(last.ends, 2u);
  ASSERT_EQ(last.bases, 2u);
  expect_slopes({"edge held by three planes", p}, s, 2000);
  std::mt19937_64 random(12);
  int between = 0;  // the planes cross between the ends, and there it touches
  for (int round = 0; round < 2000; ++round) {
    const BlockChange moved = change_of(block, random_direction(s, random));
    const auto row = moved.rows.begin() + static_cast<std::ptrdiff_t>(last.first_row);
    between += std::none_of(row, row + 4, [&](double r) { return std::abs(r - moved.slides[2]) < 1e-9; });
  }
  EXPECT_GT(between, 5);
}

TEST(FirstOrder, IsTheSlopeWhereThreeOfTheFourPlanesOfACornerCannotHoldThePush) {
  const Program p = corner_of_four_planes();
  const FirstOrderBlock block = first_order(p, true_saw(p), kPlace);
  EXPECT_EQ(block.slides[2].ends, 1u);
  EXPECT_EQ(block.slides[2].bases, 2u);
  expect_slopes({"corner of four planes", p}, true_saw(p), 500);
}

TEST(FirstOrder, NothingChangesWhereNothingIsOff) {
  for (const NamedProgram& p : programs()) {
    const SawState s = true_saw(p.program);
    const FirstOrderBlock block = first_order(p.program, s, kPlace);
    const BlockChange moved = change_of(block, Numbers(block.numbers.size(), 0));
    EXPECT_LT(worst_difference(block, saw::cut(p.program, s, kPlace), moved), 1e-9) << p.name;
    EXPECT_TRUE(std::all_of(moved.rows.begin(), moved.rows.end(), [](double r) { return r == 0; }));
    EXPECT_EQ(block.faces.size(), block.nominal.faces.size());
  }
}

TEST(FirstOrder, IsPositivelyHomogeneous) {
  std::mt19937_64 random(5);
  for (const NamedProgram& p : programs()) {
    const SawState s = true_saw(p.program);
    const FirstOrderBlock block = first_order(p.program, s, kPlace);
    const Numbers x = random_direction(s, random);
    const BlockChange once = change_of(block, x);
    for (double k : {0.0, 1e-4, 0.3, 7.0}) {
      const BlockChange more = change_of(block, times(k, x));
      for (std::size_t r = 0; r < block.rows; ++r)
        EXPECT_NEAR(more.rows[r], k * once.rows[r], 1e-12 * (1 + k)) << p.name;
    }
  }
}

// Where one corner touches that three planes make there is no kink; an edge or a face is a largest, whose slopes to
// either side add up to more than 0.
TEST(FirstOrder, HasAKinkWhereAnEdgeOrAFaceTouches) {
  std::mt19937_64 random(6);
  int points = 0, kinks = 0;
  for (const NamedProgram& p : programs()) {
    const SawState s = true_saw(p.program);
    const FirstOrderBlock block = first_order(p.program, s, kPlace);
    bool bent = false;  // a kink early in the program bends all that follows
    for (std::size_t i = 0; i < block.slides.size() && !bent; ++i) {
      if (block.slides[i].bases > 1) break;
      double least = INFINITY, most = -INFINITY;
      for (int round = 0; round < 50; ++round) {
        const Numbers x = random_direction(s, random);
        const double both = change_of(block, x).slides[i] + change_of(block, times(-1, x)).slides[i];
        least = std::min(least, both), most = std::max(most, both);
      }
      EXPECT_GT(least, -1e-12) << p.name;
      if (block.slides[i].ends == 1) {
        EXPECT_LT(most, 1e-12) << p.name;
        ++points;
      }
      bent = most > 1e-12;
      kinks += most > 1e-3;
    }
  }
  EXPECT_GT(points, 10);
  EXPECT_GT(kinks, 10);
}

// Otherwise the comparison with dual numbers could not tell a row that is wrong. A face that was cut as the work lies
// now stays parallel to the stop whatever the saw: there all ends say the same. A face that was turned end for end
// since can only be tilted up or down, by the blade's tilt and the cradle's roll: its end of middle height never
// touches.
TEST(FirstOrder, BothEndsAndBothBasesDecideInSomeDirection) {
  std::mt19937_64 random(7);
  int ends = 0, bases = 0;
  for (const NamedProgram& p : programs()) {
    const SawState s = true_saw(p.program);
    const FirstOrderBlock block = first_order(p.program, s, kPlace);
    for (std::size_t i = 0; i < block.slides.size(); ++i) {
      const FirstOrderSlide& slide = block.slides[i];
      const std::size_t n = slide.ends * slide.bases;
      std::vector<int> decides(n);
      double spread = 0;
      for (int round = 0; round < 60; ++round) {
        const BlockChange moved = change_of(block, random_direction(s, random));
        for (std::size_t r = 0; r < n; ++r) {
          const double off = std::abs(moved.rows[slide.first_row + r] - moved.slides[i]);
          decides[r] += off < 1e-12;
          spread = std::max(spread, off);
        }
      }
      if (spread < 1e-3) continue;
      EXPECT_GE(n - std::count(decides.begin(), decides.end(), 0), 2u) << p.name << ", cut " << i + 1;
      ends += slide.ends > 1, bases += slide.bases > 1;
    }
  }
  EXPECT_GT(ends, 10);
  EXPECT_GT(bases, 0);
}

// By hand. The squat octahedron's second cut leaves a face with a normal (1, sqrt 2 tau, 1) / sqrt 2 as it lies then,
// blade tilt tau. Turned end for end about the vertical it looks along (-1, sqrt 2 tau, -1), but the stop that it comes
// to lie on along (1, sqrt 2 tau, 1): they meet in the highest or in the lowest of its corners, and between those
// a + t + sqrt 2 tau b differs by 2 sqrt 2 tau for each millimeter of height.
TEST(FirstOrder, TiltMakesTheTurnedFaceTouchWithOneEndOrTheOther) {
  const Program& p = program("squat octahedron");
  const SawState s = true_saw(p);
  const FirstOrderBlock block = first_order(p, s);
  const AtTheStop at = at_the_stop(p, 2, s);
  double low = INFINITY, high = -INFINITY;
  for (Point q : corners_of(at.work))
    if (std::abs(dot(at.stop_face.n, q)) < 1e-6) low = std::min(low, q.b), high = std::max(high, q.b);
  ASSERT_GT(high - low, 1);
  Numbers x(block.numbers.size(), 0);
  ASSERT_EQ(block.numbers[1].name, "blade tilt");
  x[1] = 0.001;
  const double both = change_of(block, x).slides[2] + change_of(block, times(-1, x)).slides[2];
  EXPECT_NEAR(both, 2 * std::numbers::sqrt2 * 0.001 * (high - low), 1e-9);
}

TEST(FirstOrder, LeavesOutWhatIsOfSecondOrder) {
  std::mt19937_64 random(8);
  for (const NamedProgram& p : programs()) {
    const SawState s = true_saw(p.program);
    const FirstOrderBlock block = first_order(p.program, s, kPlace);
    for (int round = 0; round < 20; ++round) {
      const Numbers x = times(0.01, random_direction(s, random)), half = times(0.5, x);
      const double whole = worst_difference(block, saw::cut(p.program, off_by(s, x), kPlace), change_of(block, x));
      const double halved =
          worst_difference(block, saw::cut(p.program, off_by(s, half), kPlace), change_of(block, half));
      EXPECT_LT(halved, 0.27 * whole) << p.name;
      EXPECT_GT(halved, 0.23 * whole) << p.name;
    }
  }
}

// The errors of a shop of which nothing is known (docs/derivations/true-cuts.md), as standard deviations.
Numbers shop_errors(const SawState& s, std::mt19937_64& random) {
  constexpr double kDegree = std::numbers::pi / 180;
  SawState u = s;
  for (double* number : numbers_of(u)) *number = 0;
  u.miter_error_rad = 0.03 * kDegree, u.blade_tilt_rad = 0.05 * kDegree;
  for (auto& c : u.cradles)
    c = {.roll_rad = 0.05 * kDegree, .pitch_rad = 0.05 * kDegree, .yaw_per_n = 1e-6, .pitch_per_n = 2e-6};
  for (auto& k : u.sticks) k = {0.03, 0.03, 0.05 * kDegree, 0.5, 0.0015, 0.0015};
  u.run_out_mm = 0.02;
  for (double& e : u.stop_error_mm) e = 0.03;
  for (double& e : u.seating_mm) e = 0.01;
  u.clamp_change_n = 15, u.gauge_temperature_c = 3, u.cradle_warmer_k = 0.75;
  u.gauge_expansion = u.sled_expansion = u.stop_expansion = 10e-6, u.back_to_blade_mm = 0.1;
  Numbers x;
  for (double* number : numbers_of(u)) x.push_back(*number * std::normal_distribution<double>()(random));
  return x;
}

BlockChange change_with_products_of(const FirstOrderBlock& block, const Numbers& x) {
  BlockChange out;
  change_with_products(block, x, out);
  return out;
}

// Without angles the model is made of lengths, which add up, and of products of two numbers: nothing is left out. (Sled
// and widths that are off, or stops set warm and used warmer still, would make products of three and more.)
TEST(FirstOrder, WithProductsLeavesOutNothingOfLengthsMoistureAndWarmth) {
  std::mt19937_64 random(10);
  for (const NamedProgram& p : programs()) {
    const SawState s = true_saw(p.program);
    const FirstOrderBlock block = first_order(p.program, s, kPlace);
    double without = 0;
    for (int round = 0; round < 20; ++round) {
      SawState u = s;
      for (double* number : numbers_of(u)) *number = 0;
      u.sticks[1].moisture_change = 4, u.sticks[1].movement_1 = u.sticks[1].movement_2 = 0.002;
      (round % 2 ? u.gauge_temperature_c : u.cradle_warmer_k) = 10;
      u.gauge_expansion = u.sled_expansion = u.stop_expansion = 5e-5;
      u.run_out_mm = 0.1;
      u.stop_error_mm.assign(u.stop_error_mm.size(), 0.2), u.seating_mm.assign(u.seating_mm.size(), 0.1);
      Numbers x;
      for (double* number : numbers_of(u)) x.push_back(*number * std::uniform_real_distribution(-1.0, 1.0)(random));
      const Body real = saw::cut(p.program, off_by(s, x), kPlace);
      EXPECT_LT(worst_difference(block, real, change_with_products_of(block, x)), 1e-9) << p.name;
      without = std::max(without, worst_difference(block, real, change_of(block, x)));
    }
    EXPECT_GT(without, 1e-3) << p.name;
  }
}

TEST(FirstOrder, WithProductsTakesTheYawAndThePitchThatAClampMakesForMiterAndPitch) {
  const Program& p = program("squat octahedron");
  const SawState s = true_saw(p);
  const FirstOrderBlock block = first_order(p, s);
  SawState clamped = s, turned = s;
  for (double* number : numbers_of(clamped)) *number = 0;
  for (double* number : numbers_of(turned)) *number = 0;
  clamped.clamp_change_n = 30, clamped.cradles[0].yaw_per_n = 3e-6, clamped.cradles[0].pitch_per_n = 4e-6;
  turned.miter_error_rad = 30 * (2e-6 + 3e-6), turned.cradles[0].pitch_rad = 30 * (5e-6 + 4e-6);
  Numbers x, y;
  for (double* number : numbers_of(clamped)) x.push_back(*number);
  for (double* number : numbers_of(turned)) y.push_back(*number);
  const BlockChange by_clamp = change_with_products_of(block, x), by_turn = change_of(block, y);
  for (std::size_t r = 0; r < block.rows; ++r) EXPECT_NEAR(by_clamp.rows[r], by_turn.rows[r], 1e-14);
}

// The most that can be left out: docs/derivations/first-order-cuts.md, step 8, where the constants are worked out.
double bound(const Program& p, const FirstOrderBlock& block, const SawState& s, const Numbers& x, double reach_mm) {
  const SawState off = off_by(s, x);
  const auto was = saw::seen_by_the_work(p, s, kPlace), is = saw::seen_by_the_work(p, off, kPlace);
  const double angles = std::abs(is.miter_rad - was.miter_rad) + std::abs(off.blade_tilt_rad) +
                        std::abs(off.cradles[1].roll_rad) + std::abs(is.pitch_rad - was.pitch_rad) +
                        std::abs(off.sticks[1].corner_error_rad);
  double slide = 0, stop = 0;
  for (double c : change_with_products_of(block, x).slides) slide = std::max(slide, std::abs(c));
  for (std::size_t k = 0; k < is.stops.size(); ++k) stop = std::max(stop, std::abs(is.stops[k] - was.stops[k]));
  double seating = 0;
  for (double e : off.seating_mm) seating = std::max(seating, std::abs(e));
  const double widths = std::max(std::abs(is.side_1_mm - was.side_1_mm), std::abs(is.side_2_mm - was.side_2_mm));
  const double moves = angles * reach_mm + slide + stop + seating + widths + std::abs(off.run_out_mm);
  const double* column = block.columns.data() + (block.moving_number.size() + block.products.size()) * block.rows;
  std::vector<double> second;  // derivative of each slide
  for (const FirstOrderSlide& one : block.slides) {
    second.push_back(102 * angles * moves);
    for (std::size_t j = 0; j + 1 < second.size(); ++j) {
      const double* row = column + j * block.rows + one.first_row;
      double weight = 0;
      for (std::size_t r = 0; r < one.ends * one.bases; ++r) weight = std::max(weight, std::abs(row[r]));
      second.back() += weight * second[j];
    }
  }
  return (4 * angles * moves + *std::max_element(second.begin(), second.end()) / std::numbers::sqrt2) / 2;
}

// From the work's origin to the farthest corner that it has before any cut, without the far end of the stick.
double reach_of(Program p, const SawState& s) {
  double reach = 0;
  for (; !p.cuts.empty(); p.cuts.pop_back())
    for (Point q : corners_of(saw::cut(p, s, kPlace)))
      if (q.t < 500) reach = std::max(reach, length(q));
  return reach;
}

// 9600 saws. The limit of 5 micrometers is a tenth of the thinnest feeler leaf in a common set (common practice, no
// source).
TEST(FirstOrder, IsGoodToAFewMicrometersAtTheErrorsOfAShop) {
  std::mt19937_64 random(9);
  double worst = 0, sum = 0, without = 0, largest = 0, nearest = 0;
  int saws = 0;
  for (const NamedProgram& p : programs()) {
    const SawState s = true_saw(p.program);
    const FirstOrderBlock block = first_order(p.program, s, kPlace);
    const double reach = reach_of(p.program, s);
    for (int round = 0; round < 200; ++round) {
      const Numbers x = shop_errors(s, random);
      const Body real = saw::cut(p.program, off_by(s, x), kPlace);
      const BlockChange moved = change_with_products_of(block, x);
      const double off = worst_difference(block, real, moved), most = bound(p.program, block, s, x, reach);
      EXPECT_LT(off, most) << p.name;
      EXPECT_LT(off, 5e-3) << p.name;
      worst = std::max(worst, off), sum += off, ++saws, nearest = std::max(nearest, off / most);
      without = std::max(without, worst_difference(block, real, change_of(block, x)));
      for (std::size_t k = 0; k < block.faces.size(); ++k)
        for (Point q : block.nominal.faces[k].loop)
          largest = std::max(largest, std::abs(moved.face(block.faces[k]).outward(q)));
    }
  }
  RecordProperty("worst_um", std::to_string(1e3 * worst));
  RecordProperty("mean_um", std::to_string(1e3 * sum / saws));
  RecordProperty("worst_without_products_um", std::to_string(1e3 * without));
  RecordProperty("largest_move_mm", std::to_string(largest));
  RecordProperty("largest_share_of_the_bound", std::to_string(nearest));
}

}  // namespace
}  // namespace stickwright
