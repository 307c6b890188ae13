#include "metrology/draws.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <boost/math/distributions/arcsine.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/distributions/triangular.hpp>
#include <cmath>
#include <functional>
#include <vector>

namespace stickwright {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr int kDraws = 200'000;

// The largest distance between the drawn and the wanted distribution function, times the root of the number of draws.
double distance(const std::function<double()>& draw, const std::function<double(double)>& cdf) {
  std::vector<double> x(kDraws);
  std::generate(x.begin(), x.end(), draw);
  std::sort(x.begin(), x.end());
  double most = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double f = cdf(x[i]);
    most = std::max({most, std::abs(f - static_cast<double>(i) / kDraws), std::abs(f - (i + 1.0) / kDraws)});
  }
  return most * std::sqrt(kDraws);
}

// Kolmogorov's limit: 2 exp(-2 x^2) is the chance of more, here one in a thousand. The seeds are fixed.
const double kLimit = std::sqrt(std::log(2 / 0.001) / 2);

Estimate with_freedom(Estimate e, double freedom) {
  e.freedom = freedom;
  return e;
}

template <class Distribution>
auto cdf_of(const Distribution& d) {
  return [d](double x) { return boost::math::cdf(d, x); };
}

TEST(Draws, NormalAndStudent) {
  using namespace boost::math;
  Draws draws(1, 0);
  EXPECT_LT(distance([&] { return draws.normal(); }, cdf_of(normal())), kLimit);
  for (const double freedom : {0.5, 1.0, 2.0, 3.7, 16.0, 1e6})
    EXPECT_LT(distance([&] { return draws.student(freedom); }, cdf_of(students_t(freedom))), kLimit) << freedom;
}

TEST(Draws, EachSpread) {
  using namespace boost::math;
  Draws draws(2, 0);
  const auto drawn = [&](const Estimate& e) { return [&draws, e] { return draws.of(e); }; };
  EXPECT_LT(distance(drawn({3, 0.5, Spread::normal, kInfinity, ""}), cdf_of(normal(3, 0.5))), kLimit);
  EXPECT_LT(distance(drawn(within(3, 2, Spread::rectangular, "")), [](double x) { return (x - 1) / 4; }), kLimit);
  EXPECT_LT(distance(drawn(within(3, 2, Spread::triangular, "")), cdf_of(triangular(1, 3, 5))), kLimit);
  EXPECT_LT(distance(drawn(within(3, 2, Spread::u_shaped, "")), cdf_of(arcsine(1, 5))), kLimit);
  EXPECT_LT(
      distance(drawn({3, 0.5, Spread::normal, 4, ""}), [](double x) { return cdf(students_t(4), (x - 3) / 0.5); }),
      kLimit);
}

// JCGM 101:2008, 6.4.3.2: expectation (a + b) / 2, variance (b - a)^2 / 12 + d^2 / 9. Freedom 2 means d = a / 2.
TEST(Draws, BoundsKnownInexactly) {
  Draws draws(3, 0);
  const Estimate e = with_freedom(within(10, 1, Spread::rectangular, ""), 2);
  double sum = 0, squares = 0, most = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double x = draws.of(e) - 10;
    sum += x, squares += x * x, most = std::max(most, std::abs(x));
  }
  const double variance = 4.0 / 12 + 0.25 / 9;
  EXPECT_NEAR(sum / kDraws, 0, 4 * std::sqrt(variance / kDraws));
  // The square of a value below 1.5 scatters by less than its largest, 2.25.
  EXPECT_NEAR(squares / kDraws, variance, 4 * 2.25 / std::sqrt(kDraws));
  EXPECT_LE(most, 1.5);
  EXPECT_GT(most, 1.4);
}

TEST(Draws, SameSeedSameNumbersOtherBlockOtherNumbers) {
  Draws a(7, 3), b(7, 3), c(7, 4), d(8, 3);
  const double x = a.normal();
  EXPECT_EQ(x, b.normal());
  EXPECT_NE(x, c.normal());
  EXPECT_NE(x, d.normal());
}

TEST(Draws, WithoutUncertaintyTheValueItself) {
  Draws draws(1, 0);
  for (const Spread s : {Spread::normal, Spread::rectangular, Spread::triangular, Spread::u_shaped})
    EXPECT_EQ(draws.of(within(2.5, 0, s, "")), 2.5);
}

}  // namespace
}  // namespace stickwright
