#include "jig/compliance.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>

namespace stickwright {
namespace {

Estimate exactly(double value) {
  return within(value, 0, Spread::rectangular, "test");
}

// A layer with Poisson's ratio 0: free and confined are the same, so the stiffness is `k` without any spread.
Layer plain_layer(double k) {
  return {{"plain", exactly(k * 10), exactly(0), {}, {}}, Mm{10}};
}

ClampedCradle cradle(double off_center, double sideways) {
  return {Mm{120}, Mm{12}, {plain_layer(200)}, Newton{150}, Mm{off_center}, sideways};
}

// ---- The independent answer: many small springs under a stiff stick in space, solved as they stand. ----

using Vec3 = std::array<double, 3>;  // a, b, t

Vec3 cross(const Vec3& p, const Vec3& q) {
  return {p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]};
}

struct Spring {
  std::array<double, 5> arm;  // how fast it is pressed as the stick shifts along a, b and turns about a, b, t
  bool far_flank = false;
  bool bears = true;
};

// Shift along a and b, turns about a, b and t; and the hardest pressed spring's pressure.
struct Settled {
  std::array<double, 5> move{};
  double peak_pressure = 0;
};

// A flank through (0, -s / sqrt 2) that touches the middle of the stick's lower face, of half the stick's side s from
// the axis. Springs at the middles of n x m patches.
std::vector<Spring> springs(double length, double flank, int n, int m) {
  std::vector<Spring> all;
  const double d = 1 / std::sqrt(2.0);
  for (const double side : {1.0, -1.0})  // the flank towards +a, and the other
    for (int i = 0; i < n; ++i)
      for (int j = 0; j < m; ++j) {
        const double t = length * ((i + 0.5) / n - 0.5), across = flank * ((j + 0.5) / m - 0.5);
        const Vec3 out = {side * d, -d, 0};                                            // out of the stick
        const Vec3 at = {8 * out[0] + across * d, 8 * out[1] + side * across * d, t};  // on its face
        const Vec3 turn = cross(at, out);
        all.push_back({{out[0], out[1], turn[0], turn[1], turn[2]}, side > 0, true});
      }
  return all;
}

std::array<double, 5> solved(std::array<std::array<double, 6>, 5> a) {
  for (std::size_t c = 0; c < 5; ++c) {
    std::size_t best = c;
    for (std::size_t r = c; r < 5; ++r)
      if (std::abs(a[r][c]) > std::abs(a[best][c])) best = r;
    std::swap(a[c], a[best]);
    for (std::size_t r = 0; r < 5; ++r) {
      if (r == c) continue;
      const double f = a[r][c] / a[c][c];
      for (std::size_t k = 0; k < 6; ++k) a[r][k] -= f * a[c][k];
    }
  }
  std::array<double, 5> x{};
  for (std::size_t r = 0; r < 5; ++r) x[r] = a[r][5] / a[r][r];
  return x;
}

double pressed(const Spring& s, const std::array<double, 5>& move) {
  double depth = 0;
  for (std::size_t i = 0; i < 5; ++i) depth += s.arm[i] * move[i];
  return depth;
}

// Lets go of springs that would pull, and takes back those that are pressed, until nothing changes.
Settled settle(const ClampedCradle& c, double k, int n, int m) {
  auto all = springs(c.length.v, c.flank.v, n, m);
  const double each = k * c.length.v * c.flank.v / (n * m);
  const double sideways = c.clamp_force.v * c.sideways;
  const Vec3 force = {sideways, -std::sqrt(c.clamp_force.v * c.clamp_force.v - sideways * sideways), 0};
  const Vec3 moment = cross({0, 0, c.off_center.v}, force);
  const std::array<double, 5> load = {force[0], force[1], moment[0], moment[1], moment[2]};
  Settled settled;
  for (int round = 0; round < 200; ++round) {
    std::array<std::array<double, 6>, 5> system{};
    for (const Spring& s : all)
      if (s.bears)
        for (std::size_t i = 0; i < 5; ++i)
          for (std::size_t j = 0; j < 5; ++j) system[i][j] += each * s.arm[i] * s.arm[j];
    for (std::size_t i = 0; i < 5; ++i) system[i][5] = load[i];
    settled.move = solved(system);
    bool changed = false;
    for (Spring& s : all) {
      const bool bears = pressed(s, settled.move) > 0;
      changed = changed || bears != s.bears;
      s.bears = bears;
    }
    if (!changed) break;
  }
  for (const Spring& s : all) settled.peak_pressure = std::max(settled.peak_pressure, k * pressed(s, settled.move));
  return settled;
}

void expect_same(const ClampedCradle& c, const Settled& s, double share) {
  const auto yield = yield_of(c);
  ASSERT_TRUE(yield) << yield.problem().say;
  const CradleYield& y = yield.value();
  const auto near = [&](double ours, double theirs, double size, const char* what) {
    EXPECT_NEAR(ours, theirs, share * size) << what << " at " << c.off_center.v << " mm, " << c.sideways;
  };
  const double depth = std::abs(s.move[1]), angle = depth / c.length.v;
  near(y.sink.value.value, -s.move[1], depth, "sink");
  near(y.shift.value.value, s.move[0], depth, "shift");
  // The end towards the blade (+t) rises when the stick turns about a from t towards b, which is against the turn about
  // a that takes b to t.
  near(y.pitch.value.value, -s.move[2], std::max(angle, std::abs(s.move[2])), "pitch");
  // The blade's normal is (sin, cos)(45 + miter error) in (a, t) of the stick. A turn about b takes t to a: the stick's
  // own axes are t' = t + turn a, a' = a - turn t, and the angle of the normal in them shrinks by the turn.
  near(y.miter.value.value, -s.move[3], std::max(angle, std::abs(s.move[3])), "miter");
  EXPECT_NEAR(s.move[4], 0, share * angle);
  near(y.peak_pressure, s.peak_pressure, s.peak_pressure, "pressure");
}

TEST(CradleYield, ManySpringsGiveTheSame) {
  for (const double off : {0.0, 5.0, -12.0, 20.0})
    for (const double sideways : {0.0, 0.1, -0.3})
      expect_same(cradle(off, sideways), settle(cradle(off, sideways), 200, 400, 4), 0.004);
}

TEST(CradleYield, ManySpringsGiveTheSameWhenAnEndLifts) {
  for (const double off : {21.0, 30.0, -45.0})
    for (const double sideways : {0.0, 0.2, -0.3}) {
      const ClampedCradle c = cradle(off, sideways);
      expect_same(c, settle(c, 200, 1200, 2), 0.01);
      EXPECT_LT(yield_of(c).value().bearing, c.length);
      EXPECT_EQ(yield_of(c).value().cautions.size(), 1u);
    }
}

TEST(CradleYield, ACenteredClampTurnsNothing) {
  const CradleYield y = yield_of(cradle(0, 0.2)).value();
  EXPECT_EQ(y.pitch.value.value, 0);
  EXPECT_EQ(y.miter.value.value, 0);
  EXPECT_GT(y.shift.value.value, 0);
  // By hand: F cos / (k w L) = 150 sqrt(0.96) / (200 * 12 * 120) mm.
  EXPECT_NEAR(y.sink.value.value, 150 * std::sqrt(0.96) / 288'000, 1e-12);
}

TEST(CradleYield, WithoutASidewaysPushTheMiterStays) {
  const CradleYield y = yield_of(cradle(15, 0)).value();
  EXPECT_EQ(y.miter.value.value, 0);
  EXPECT_LT(y.pitch.value.value, 0);
}

TEST(CradleYield, MirrorsWithTheClamp) {
  for (const double off : {10.0, 35.0}) {
    const CradleYield one = yield_of(cradle(off, 0.2)).value(), other = yield_of(cradle(-off, 0.2)).value();
    EXPECT_DOUBLE_EQ(one.pitch.value.value, -other.pitch.value.value);
    EXPECT_DOUBLE_EQ(one.miter.value.value, -other.miter.value.value);
    EXPECT_DOUBLE_EQ(one.sink.value.value, other.sink.value.value);
    EXPECT_DOUBLE_EQ(one.miter.value.value, -yield_of(cradle(off, -0.2)).value().miter.value.value);
  }
}

TEST(CradleYield, IsContinuousWhereTheEndBeginsToLift) {
  const CradleYield before = yield_of(cradle(20 - 1e-9, 0.2)).value(), after = yield_of(cradle(20 + 1e-9, 0.2)).value();
  EXPECT_NEAR(before.pitch.value.value / after.pitch.value.value, 1, 1e-8);
  EXPECT_NEAR(before.sink.value.value / after.sink.value.value, 1, 1e-8);
  EXPECT_NEAR(before.peak_pressure / after.peak_pressure, 1, 1e-8);
}

TEST(CradleYield, IsProportionalToTheForceAndVanishesOnAStiffLayer) {
  ClampedCradle c = cradle(15, 0.2);
  const CradleYield y = yield_of(c).value();
  c.clamp_force = Newton{151};
  const CradleYield more = yield_of(c).value();
  EXPECT_NEAR(more.miter.value.value - y.miter.value.value, y.miter.per_newton, 1e-15);
  EXPECT_NEAR(more.sink.value.value - y.sink.value.value, y.sink.per_newton, 1e-12);
  c.layers = {plain_layer(2e11)};
  EXPECT_LT(std::abs(yield_of(c).value().miter.value.value), 1e-8 * std::abs(y.miter.value.value));
}

TEST(CradleYield, ProblemsAndCautions) {
  EXPECT_EQ(yield_of(cradle(60, 0)).problem().code, "clamp_off_the_cradle");
  EXPECT_EQ(yield_of(cradle(0, 0.71)).problem().code, "stick_lifts");
  EXPECT_TRUE(yield_of(cradle(0, 0)).value().cautions.empty());
  ClampedCradle narrow = cradle(0, 0);
  narrow.flank = Mm{0.2};
  ASSERT_EQ(yield_of(narrow).value().cautions.size(), 1u);
  EXPECT_NE(yield_of(narrow).value().cautions[0].find("MPa"), std::string::npos);
}

TEST(LayerStiffness, LiesBetweenFreeAndConfined) {
  for (const Material& m : all_materials()) {
    const LayerStiffness k = stiffness_of(Layer{m, Mm{10}});
    EXPECT_DOUBLE_EQ(k.free, m.modulus.value / 10);
    EXPECT_LT(k.free, k.value.value) << m.name;
    EXPECT_LT(k.value.value, k.confined) << m.name;
    EXPECT_GT(k.value.u, 0) << m.name;
  }
}

// Textbook identity, from memory: the modulus under strain in one direction is lambda + 2 mu.
TEST(LayerStiffness, ConfinedIsLambdaPlusTwoMu) {
  const double e = 2800, nu = 0.36;
  const double lambda = e * nu / ((1 + nu) * (1 - 2 * nu)), mu = e / (2 * (1 + nu));
  const Layer layer{{"x", exactly(e), exactly(nu), {}, {}}, Mm{8}};
  EXPECT_NEAR(stiffness_of(layer).confined, (lambda + 2 * mu) / 8, 1e-9);
}

// The u of first order against drawing E, nu and the place between the bounds by chance (seed 5).
TEST(LayerStiffness, ItsUncertaintyIsThatOfDrawnValues) {
  std::mt19937_64 random(5);
  const Layer layer{find_material("acetal").value(), Mm{10}};
  const auto draw = [&](const Estimate& e) {
    return std::uniform_real_distribution(e.value - half_width(e), e.value + half_width(e))(random);
  };
  double sum = 0, squares = 0;
  const int n = 200'000;
  for (int i = 0; i < n; ++i) {
    const double e = draw(layer.material.modulus), nu = draw(layer.material.poisson);
    const double confined = (1 - nu) / ((1 + nu) * (1 - 2 * nu));
    const double k = e / 10 * std::pow(confined, std::uniform_real_distribution(0.0, 1.0)(random));
    sum += k;
    squares += k * k;
  }
  const double mean = sum / n, sd = std::sqrt(squares / n - mean * mean);
  const Estimate ours = stiffness_of(layer).value;
  EXPECT_NEAR(ours.value / mean, 1, 0.03);  // the mean of a curved function of the drawn values
  EXPECT_NEAR(ours.u / sd, 1, 0.10);
}

TEST(LayerStiffness, TwoLayersYieldOneAfterTheOther) {
  EXPECT_NEAR(stiffness_of({plain_layer(200), plain_layer(200)}).value, 100, 1e-12);
  EXPECT_NEAR(stiffness_of({plain_layer(200), plain_layer(2e9)}).value, 200, 1e-4);
}

}  // namespace
}  // namespace stickwright
