// What must hold of the play s of any closed puzzle: the properties of the linear program and of its dual.
#include <gtest/gtest.h>

#include <Eigen/LU>

#include "closing/binding_parts.h"
#include "support/gap_examples.h"
#include "support/small_fits.h"

namespace stickwright {
namespace {

using namespace stickwright::test;

using Vector = Eigen::VectorXd;

Vector of(const std::vector<double>& v) {
  return Eigen::Map<const Vector>(v.data(), static_cast<Eigen::Index>(v.size()));
}

double play(VertexWalk& walk, const Vector& h) {
  return walk.play({h.data(), static_cast<std::size_t>(h.size())});
}

double phi(double x) {
  return 0.5 * std::erfc(-x / std::sqrt(2.0));
}

std::vector<GapExample> examples() {
  return {ring_of_cubes(3), grown_pieces(6, 4, 1), grown_pieces(6, 4, 4), random_areas(4, 24, 2),
          random_areas(6, 24, 1)};
}

// Work of one set of forces, as a row of weights on h; of every set, for programs whose sets are all listed.
std::vector<Vector> all_forces(const FitProgram& program) {
  std::vector<Vector> all;
  for (const BindingPart& part : program.parts().parts) {
    EXPECT_TRUE(part.all_vertices.has_value());
    for (const ForceVertex& v : *part.all_vertices) {
      all.push_back(Vector::Zero(static_cast<Eigen::Index>(program.rows())));
      for (std::size_t i = 0; i < v.rows.size(); ++i) all.back()[part.rows[v.rows[i]]] = v.shares[i];
    }
  }
  return all;
}

TEST(Play, P1IsConcaveAndTheLeastOfFinitelyManyLinearFunctions) {
  std::mt19937_64 random(1);
  for (const GapExample& g : examples()) {
    VertexWalk walk{FitProgram(g.rows)};
    for (int k = 0; k < 100; ++k) {
      const Vector a = of(g.sample(random)), b = of(g.sample(random));
      for (const double part : {0.25, 0.5, 0.9})
        EXPECT_GE(play(walk, part * a + (1 - part) * b) + 1e-9, part * play(walk, a) + (1 - part) * play(walk, b))
            << g.name;
    }
  }
  const GapExample g = grown_pieces(6, 4, 4);
  const FitProgram program(g.rows);
  const auto all = all_forces(program);
  for (int k = 0; k < 50; ++k) {
    const auto h = g.sample(random);
    double least = 1e9;
    for (const Vector& y : all) least = std::min(least, y.dot(of(h)));
    EXPECT_NEAR(program.solve(h).play_mm, least, 1e-9);
  }
}

TEST(Play, P2ChangesByNoMoreThanTheGreatestChangeOfAGap) {
  std::mt19937_64 random(2);
  for (const GapExample& g : examples()) {
    VertexWalk walk{FitProgram(g.rows)};
    for (int k = 0; k < 100; ++k) {
      const Vector a = of(g.sample(random)), b = of(g.sample(random));
      EXPECT_LE(std::abs(play(walk, a) - play(walk, b)), (a - b).cwiseAbs().maxCoeff() + 1e-9) << g.name;
    }
  }
}

TEST(Play, P3GrowsInProportionWithTheErrorsWhenNominalGapsAreZero) {
  std::mt19937_64 random(3);
  for (const GapExample& g : examples()) {
    VertexWalk walk{FitProgram(g.rows)};
    for (int k = 0; k < 50; ++k) {
      const Vector h = of(g.sample(random)) - g.nominal;
      for (const double times : {0.0, 0.3, 2.0})
        EXPECT_NEAR(play(walk, times * h), times * play(walk, h), 2e-9) << g.name;
    }
  }
}

TEST(Play, P4IsBoundedByTheWorkOfAnyBalancedForces) {
  std::mt19937_64 random(4);
  for (const GapExample& g : examples()) {
    const FitProgram program(g.rows);
    VertexWalk walk(program);
    for (int k = 0; k < 50; ++k) {
      const ClosedFit old = walk.fit(g.sample(random));
      const auto h = g.sample(random);
      double work = 0;
      for (const ContactForce& f : old.forces) work += f.share * h[f.row];
      EXPECT_LE(walk.play(h), work + 1e-9) << g.name;
    }
  }
}

// One part with as many forces as unknowns: its rows say where everything stands.
TEST(Play, P5IsCertifiedByAnOldBasisWhoseOtherGapsStayLarger) {
  const GapExample g = random_areas(6, 24, 1);
  const FitProgram program(g.rows);
  ASSERT_EQ(program.parts().parts.size(), 1U);
  const BindingPart& part = program.parts().parts[0];
  VertexWalk walk(program);
  std::mt19937_64 random(5);
  int certified = 0;
  for (int k = 0; k < 40; ++k) {
    const Vector h = of(g.sample(random));
    const ClosedFit fit = walk.fit({h.data(), static_cast<std::size_t>(h.size())});
    if (static_cast<Eigen::Index>(fit.forces.size()) < part.matrix.cols()) continue;
    Eigen::MatrixXd basis(part.matrix.cols(), part.matrix.cols());
    for (Eigen::Index i = 0; i < basis.rows(); ++i)
      basis.row(i) =
          part.matrix.row(std::find(part.rows.begin(), part.rows.end(), fit.forces[i].row) - part.rows.begin());
    for (const double step : {1e-4, 1e-3, 1e-2}) {
      const Vector other = h + step * (of(g.sample(random)) - h);
      Vector tight(basis.rows());
      for (Eigen::Index i = 0; i < tight.size(); ++i) tight[i] = other[fit.forces[i].row];
      const Vector stands = basis.partialPivLu().solve(tight), held = part.matrix * stands;
      double slack = 1e9;
      for (std::size_t r = 0; r < part.rows.size(); ++r) slack = std::min(slack, other[part.rows[r]] - held[r]);
      if (slack < -1e-12) continue;
      ++certified;
      EXPECT_NEAR(program.solve({other.data(), static_cast<std::size_t>(other.size())}).play_mm,
                  stands[stands.size() - 1], 1e-9);
    }
  }
  EXPECT_GT(certified, 20);
}

TEST(Play, P6IsHeldByAtMostOneForceMoreThanThereAreWaysToMove) {
  std::mt19937_64 random(6);
  for (const GapExample& g : examples()) {
    VertexWalk walk{FitProgram(g.rows)};
    for (int k = 0; k < 50; ++k) {
      const ClosedFit fit = walk.fit(g.sample(random));
      EXPECT_GE(fit.forces.size(), 2U);
      EXPECT_LE(static_cast<int>(fit.forces.size()), 6 * (g.rows.bodies - 1) + 1) << g.name;
    }
  }
}

// A block on three points of a table, two of a fence and one stop is held exactly: nothing can bind. A second stop,
// against the first, makes one set of forces too many.
TEST(Play, P7IsEndlessForExactConstraintOrLooser) {
  GapRows g{2, {{}, {5, 5, 5}}, {}};
  const Point up{0, 0, 1}, in{0, 1, 0}, along{1, 0, 0};
  for (const Point p : {Point{0, 0, 0}, {10, 0, 0}, {0, 10, 0}}) g.rows.push_back({0, 1, up, p});
  for (const Point p : {Point{0, 0, 5}, {10, 0, 5}}) g.rows.push_back({0, 1, in, p});
  g.rows.push_back({0, 1, along, {0, 5, 5}});
  const std::vector<double> h(7, -3.0);
  const FitProgram exact(g);
  EXPECT_FALSE(exact.can_bind());
  EXPECT_TRUE(std::isinf(exact.solve(std::span(h).first(6)).play_mm));
  EXPECT_TRUE(std::isinf(VertexWalk(exact).play(std::span(h).first(6))));
  g.rows.push_back({0, 1, -1.0 * along, {10, 5, 5}});
  const FitProgram over(g);
  EXPECT_TRUE(over.can_bind());
  EXPECT_NEAR(over.solve(h).play_mm, -3, 1e-9);
  EXPECT_EQ(over.solve(h).forces.size(), 2U);
  EXPECT_FALSE(FitProgram(GapRows{3, std::vector<Point>(3), {}}).can_bind());
}

// All sets of forces are listed, so the least over them of the work at its worst is the worst case, exactly. A concave
// function is least over a box at a corner of it: those are tried one by one.
TEST(Play, P8WorstCaseOverABoxIsExactWhereAllForcesAreListed) {
  std::mt19937_64 random(8);
  for (const GapRows& rows : {two_pins(40), square_ring(2), square_ring(3)}) {
    const FitProgram program(rows);
    VertexWalk walk(program);
    for (int k = 0; k < 20; ++k) {
      constexpr int kErrors = 6;
      Eigen::MatrixXd effect(static_cast<Eigen::Index>(program.rows()), kErrors);
      for (double& v : effect.reshaped()) v = normal_draw(random);
      Vector nominal(effect.rows()), reach(kErrors);
      for (double& v : nominal) v = 0.5 * std::abs(normal_draw(random));
      for (double& v : reach) v = 0.05 * std::abs(normal_draw(random));
      double listed = 1e9, tried = 1e9;
      for (const Vector& y : all_forces(program))
        listed = std::min(listed, y.dot(nominal) - reach.dot((effect.transpose() * y).cwiseAbs()));
      for (int corner = 0; corner < 1 << kErrors; ++corner) {
        Vector e = reach;
        for (int m = 0; m < kErrors; ++m) e[m] *= corner >> m & 1 ? 1 : -1;
        tried = std::min(tried, play(walk, nominal + effect * e));
      }
      EXPECT_NEAR(listed, tried, 1e-9);
    }
  }
}

TEST(Play, P9FailsAsOftenAsTheReliabilityBoundsAllow) {
  std::mt19937_64 random(9);
  for (GapExample g : {of_areas("", {}, {}, 0, {}), grown_pieces(6, 4, 4)}) {
    if (g.name.empty()) {
      g.rows = square_ring(3);
      g.nominal = Vector::Constant(12, 0.04);
      g.effect = 0.05 * Eigen::MatrixXd::Identity(12, 12);
    } else {
      g.nominal.setConstant(0.09);
    }
    const FitProgram program(g.rows);
    VertexWalk walk(program);
    double most = 0, sum = 0;
    for (const Vector& y : all_forces(program)) {
      const double fails = phi(-y.dot(g.nominal) / (g.effect.transpose() * y).norm());
      most = std::max(most, fails), sum += fails;
    }
    constexpr std::size_t kSamples = 40000;
    const auto h = g.samples(kSamples, 9);
    std::vector<double> plays(kSamples);
    walk.play(h, kSamples, plays);
    const double failed =
        static_cast<double>(std::count_if(plays.begin(), plays.end(), [](double s) { return s < 0; })) / kSamples;
    const double doubt = 4 * std::sqrt(0.25 / kSamples);
    EXPECT_GE(failed, most - doubt);
    EXPECT_LE(failed, sum + doubt);
    EXPECT_GT(failed, 0);
  }
}

// One set of balanced forces and errors around 0: half of them go together (the share that ASME IDETC 2003-37009 gives
// for over-constrained designs); r sets that have nothing to do with each other: 1 in 2^r.
TEST(Play, P10HalfGoTogetherWithoutAllowanceAndOneRedundantContact) {
  std::mt19937_64 random(10);
  for (int r = 1; r <= 3; ++r) {
    std::vector<std::pair<int, int>> contacts;
    for (int body = 1; body <= r; ++body) contacts.insert(contacts.end(), {{0, body}, {body, 0}});
    const FitProgram program(on_a_line(r + 1, contacts));
    EXPECT_EQ(static_cast<int>(program.parts().parts.size()), r);
    VertexWalk walk(program);
    constexpr int kSamples = 40000;
    int together = 0;
    for (int k = 0; k < kSamples; ++k) {
      Vector h(2 * r);
      for (double& v : h) v = 0.1 * normal_draw(random);
      together += play(walk, h) >= 0;
    }
    const double p = std::pow(0.5, r);
    EXPECT_NEAR(static_cast<double>(together) / kSamples, p, 4 * std::sqrt(p * (1 - p) / kSamples));
  }
}

}  // namespace
}  // namespace stickwright
