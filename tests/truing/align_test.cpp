#include "truing/align.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "saw/plain_model.h"

namespace stickwright {
namespace {

SawState off(double miter, double tilt, double roll, double pitch) {
  SawState s = nominal_saw(Mm{16});
  s.miter_error_rad = miter;
  s.blade_tilt_rad = tilt;
  s.cradles[0].roll_rad = roll;
  s.cradles[0].pitch_rad = pitch;
  s.stop_error_mm = {0};
  return s;
}

Observation read(Look look, int which, double over, const SawState& s, double u) {
  Observation o{look, which, {}, Mm{over}, Mm{u}};
  o.measured = Mm{expected_reading(o, s, block_shape(s))};
  return o;
}

std::vector<Observation> all_readings(const SawState& s, double u) {
  std::vector<Observation> all = {read(Look::point, 0, 60, s, u), read(Look::blade, 0, 60, s, u),
                                  read(Look::bar, 0, 150, s, u),  read(Look::flanks, 0, 30, s, u),
                                  read(Look::width, 0, 0, s, u),  read(Look::width, 1, 0, s, u)};
  for (int corner = 0; corner < 4; ++corner) all.push_back(read(Look::corner_length, corner, 0, s, u));
  return all;
}

// Common practice, no source: two opposite miters held against a square show twice the error. A gap of 0.05 mm at the
// end of an arm of 60 mm is an angle of 0.05/60, the miter's error half of it.
TEST(Align, ALightGapOverThePointIsTwiceTheMiterError) {
  const std::vector<Observation> gap = {{Look::point, 0, Mm{0.05}, Mm{60}, Mm{0.003}}};
  const Alignment a = align(gap, {.u_square_rad = 1e-4});
  EXPECT_NEAR(a[Error::miter].rad, 0.05 / 120, 1e-12);
  // Eye and square, each halved with the angle.
  EXPECT_NEAR(a[Error::miter].u_rad, std::hypot(0.003 / 120, 1e-4 / 2), 1e-9);
  EXPECT_TRUE(a[Error::miter].seen);
  for (Error e : {Error::tilt, Error::roll, Error::pitch}) {
    EXPECT_FALSE(a[e].seen) << to_string(e);
    EXPECT_TRUE(std::isinf(a[e].u_rad)) << to_string(e);
  }
  EXPECT_EQ(a.hidden.size(), 3u);
  EXPECT_TRUE(a.next_shows_more);
}

// A square wider than a right angle shows less light at the tip of a point, and more at the foot of the blade: with
// nothing else off, both readings together must say the square is off and miter and tilt are not. The square's error q
// is known to be 0 to 1e-2, miter and tilt are held to 0 by the truing block and its flanks and bar.
TEST(Align, OneWideSquareReadsBothWays) {
  const double wide = 2e-3;
  const SawState s = off(0, 0, 0, 0);
  std::vector<Observation> readings = all_readings(s, 1e-4);
  for (Observation& o : readings) {
    if (o.look == Look::point) o.measured = Mm{-wide * o.over.v};
    if (o.look == Look::blade) o.measured = Mm{wide * o.over.v};
  }
  const Alignment a = align(readings, {.u_square_rad = 1e-2});
  EXPECT_NEAR(a[Error::miter].rad, 0, 2e-5);
  EXPECT_NEAR(a[Error::tilt].rad, 0, 2e-5);
  EXPECT_LT(a.fit.chi_square, 1);
}

// The truing block by hand, to first order: a far miter t = c - (tan 45 + e)... its plane crosses the corner line at
// distance u from the axis (1 + 2 e) u away from where it crosses the axis, and the opposite miter as much the other
// way: near less away = 4 u (1 + 2 e). A blade tilted by tau leans its plane by sqrt 2 tau u at the corners up and
// down, and both planes of the block lean: up less down = -4 sqrt 2 u tau.
TEST(TruingBlock, ShowsFourTimesWhatOneMiterIsOff) {
  const double u = unit_mm(Mm{16}), e = 1e-4;
  const auto lengths = [](const SawState& s) { return block_shape(s).corner_mm; };
  const auto mitered = lengths(off(e, 0, 0, 0));
  EXPECT_NEAR(mitered[2] - mitered[0], 4 * u * (1 + 2 * e), 1e-6);
  EXPECT_NEAR(mitered[1] - mitered[3], 0, 1e-9);
  const auto tilted = lengths(off(0, e, 0, 0));
  EXPECT_NEAR(tilted[2] - tilted[0], 4 * u, 1e-6);
  EXPECT_NEAR(tilted[1] - tilted[3], -4 * std::numbers::sqrt2 * u * e, 1e-6);
}

// docs/derivations/truing.md, step 3: up less down = -4 sqrt 2 u (tilt - (roll + pitch) / sqrt 2), and nothing of it in
// near less away. Step 4: a stick of unequal widths has another -sqrt 2 (w1 - w2).
TEST(TruingBlock, ShowsRollPitchAndUnequalWidthsInTheSamePlaceAsTilt) {
  const double u = unit_mm(Mm{16}), e = 1e-4;
  const auto lengths = [](const SawState& s) { return block_shape(s).corner_mm; };
  for (const SawState& s : {off(0, 0, e, 0), off(0, 0, 0, e)}) {
    EXPECT_NEAR(lengths(s)[1] - lengths(s)[3], 4 * u * e, 1e-6);
    EXPECT_NEAR(lengths(s)[2] - lengths(s)[0], 4 * u, 1e-6);
  }
  const auto hidden = lengths(off(0, e, e, e * (std::numbers::sqrt2 - 1)));
  EXPECT_NEAR(hidden[1] - hidden[3], 0, 1e-6);
  SawState flat = off(0, 0, 0, 0);
  flat.sticks[0].side_1_mm += 0.003;
  EXPECT_NEAR(lengths(flat)[1] - lengths(flat)[3], -std::numbers::sqrt2 * 0.003, 1e-6);
  // Corners up and down wider by gamma: near less away is 4 u (1 + gamma / 2).
  SawState wide = off(0, 0, 0, 0);
  wide.sticks[0].corner_error_rad = e;
  EXPECT_NEAR(lengths(wide)[2] - lengths(wide)[0], 4 * u * (1 + e / 2), 1e-6);
}

// The truing block of a second model, written another way.
TEST(TruingBlock, HasTheCornersOfThePlainModel) {
  std::mt19937_64 random(6);
  const auto some = [&](double most) { return most * (static_cast<double>(random() % 2001) / 1000 - 1); };
  for (int round = 0; round < 100; ++round) {
    SawState s = off(some(0.02), some(0.02), some(0.02), some(0.02));
    s.sticks[0].side_1_mm += some(0.1), s.sticks[0].corner_error_rad = some(0.01), s.stop_error_mm = {some(0.2)};
    const auto plain = plain::corners(plain::half_spaces(truing_block(), s));
    const auto ours = corners_of(saw::cut(truing_block(), s));
    ASSERT_EQ(ours.size(), plain.size());
    for (Point p : ours)
      EXPECT_TRUE(std::any_of(plain.begin(), plain.end(), [&](const auto& c) {
        return std::hypot(c.at[0] - p.a, c.at[1] - p.b, c.at[2] - p.t) < 1e-9;
      }));
  }
}

TEST(Align, FindsASawAgainFromExactReadings) {
  std::mt19937_64 random(3);
  const auto some = [&](double most) { return most * (static_cast<double>(random() % 2001) / 1000 - 1); };
  for (int round = 0; round < 50; ++round) {
    SawState s = off(some(0.02), some(0.02), some(0.02), some(0.02));
    s.sticks[0].side_1_mm += some(0.05), s.sticks[0].side_2_mm += some(0.05);
    s.stop_error_mm = {some(0.2)};
    // Sharp readings, so that what is known besides does not pull.
    const Alignment a = align(all_readings(s, 1e-6), {.u_corner_rad = 1e-9, .u_square_rad = 1e-9});
    ASSERT_TRUE(a.hidden.empty());
    EXPECT_NEAR(a[Error::miter].rad, s.miter_error_rad, 1e-6);
    EXPECT_NEAR(a[Error::tilt].rad, s.blade_tilt_rad, 1e-6);
    EXPECT_NEAR(a[Error::roll].rad, s.cradles[0].roll_rad, 1e-6);
    EXPECT_NEAR(a[Error::pitch].rad, s.cradles[0].pitch_rad, 1e-6);
  }
}

// The truing block alone: the miter is seen; tilt, roll and pitch all lean its faces sideways and only one combination
// of them shows, so two directions stay hidden. Blade and bar measured besides, nothing does.
TEST(Align, SaysWhatTheReadingsCannotTellApart) {
  const SawState s = off(0.001, 0.002, 0, 0);
  std::vector<Observation> block;
  for (int corner = 0; corner < 4; ++corner) block.push_back(read(Look::corner_length, corner, 0, s, 0.005));
  const Alignment a = align(block, {});
  EXPECT_TRUE(a[Error::miter].seen);
  EXPECT_NEAR(a[Error::miter].rad, 0.001, 1e-4);
  EXPECT_FALSE(a[Error::tilt].seen || a[Error::roll].seen || a[Error::pitch].seen);
  EXPECT_EQ(a.hidden.size(), 2u);
  EXPECT_TRUE(a.next_shows_more);
  block.push_back(read(Look::blade, 0, 60, s, 0.003));
  block.push_back(read(Look::bar, 0, 150, s, 0.005));
  const Alignment b = align(block, {});
  EXPECT_TRUE(b.hidden.empty());
  EXPECT_NEAR(b[Error::tilt].rad, 0.002, 1e-5);
  EXPECT_NEAR(b[Error::roll].rad, 0, 1e-4);
  EXPECT_FALSE(b.next.empty());
  EXPECT_FALSE(b.next_shows_more);
}

// The stated uncertainties against 2000 trials with scattered readings: the standard deviation of an estimate is right
// to 1/sqrt(2 * 2000) = 1.6 %, so within 8 %, five times that.
TEST(Align, ScattersAsItsCovarianceSays) {
  std::mt19937_64 random(8);
  std::normal_distribution<double> normal;
  const SawState truth = off(0.002, -0.001, 0.003, 0.001);
  const TruingKnowledge known{.u_width_mm = 0.02, .u_corner_rad = 0.0005, .u_square_rad = 5e-5};
  constexpr int kTrials = 2000;
  std::array<double, 4> sum{}, squares{}, stated{};
  for (int trial = 0; trial < kTrials; ++trial) {
    SawState s = truth;
    s.sticks[0].side_1_mm += known.u_width_mm * normal(random);
    s.sticks[0].side_2_mm += known.u_width_mm * normal(random);
    s.sticks[0].corner_error_rad = known.u_corner_rad * normal(random);
    const double square = known.u_square_rad * normal(random);
    auto readings = all_readings(s, 0.004);
    for (Observation& o : readings)
      o.measured = Mm{o.measured.v + o.u.v * normal(random) + sign_of_square(o.look) * o.over.v * square};
    const Alignment a = align(readings, known);
    for (std::size_t e = 0; e < 4; ++e) {
      sum[e] += a.errors[e].rad;
      squares[e] += a.errors[e].rad * a.errors[e].rad;
      stated[e] = a.errors[e].u_rad;
    }
  }
  for (std::size_t e = 0; e < 4; ++e) {
    const double mean = sum[e] / kTrials, sd = std::sqrt(squares[e] / kTrials - mean * mean);
    EXPECT_NEAR(sd / stated[e], 1, 0.08) << to_string(kErrors[e]);
  }
}

TEST(Repeats, SayHowManyMoreReadingsWouldDo) {
  const std::vector<Observation> gap = {{Look::point, 0, Mm{0.02}, Mm{60}, Mm{0.006}}};
  // u = hypot(0.006/120/sqrt n, 1e-5/2): 2.6e-5 needs n with 5e-5/sqrt n <= 2.551e-5, so 4.
  EXPECT_EQ(repeats_for(gap, {.u_square_rad = 1e-5}, Error::miter, 2.6e-5), std::optional(4));
  // The square alone is worse than that.
  EXPECT_FALSE(repeats_for(gap, {.u_square_rad = 1e-4}, Error::miter, 2.6e-5));
}

}  // namespace
}  // namespace stickwright
