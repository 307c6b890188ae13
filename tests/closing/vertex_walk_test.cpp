// The walk against fresh solutions, and against a checker that knows only the rules.
#include <gtest/gtest.h>

#include <numeric>
#include <thread>

#include "closing/binding_parts.h"
#include "support/gap_examples.h"
#include "support/small_fits.h"

namespace stickwright {
namespace {

using namespace stickwright::test;

constexpr double kAgree = 1e-9;  // mm, as the header promises

std::vector<GapExample> many() {
  std::vector<GapExample> all = {ring_of_cubes(3), ring_of_cubes(4), cubes_in_box(1)};
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    all.push_back(grown_pieces(2 + static_cast<int>(seed % 5), 3 + static_cast<int>(seed % 2), seed));
    all.push_back(random_areas(2 + static_cast<int>(seed % 5), 8 + static_cast<int>(seed), seed, {},
                               0.2 * static_cast<double>(seed % 3)));
  }
  return all;
}

std::span<const double> sample(const std::vector<double>& h, std::size_t rows, std::size_t i) {
  return std::span<const double>(h).subspan(i * rows, rows);
}

void expect_the_same(const GapExample& g, std::size_t count, std::size_t fresh) {
  const FitProgram program(g.rows);
  VertexWalk walk(program), other(program);
  const auto h = g.samples(count, 11);
  std::vector<double> plays(count);
  walk.play(h, count, plays);
  for (std::size_t i = 0; i < count; ++i) {
    const auto one = sample(h, program.rows(), i);
    if (!program.can_bind()) {
      EXPECT_TRUE(std::isinf(plays[i]));
      continue;
    }
    if (i < fresh) {
      const ClosedFit anew = program.solve(one);
      ASSERT_NEAR(plays[i], anew.play_mm, kAgree) << g.name << " sample " << i;
      EXPECT_LE(unproved(g.rows, one, anew), 1e-8) << g.name << " sample " << i;
    }
    const ClosedFit fit = other.fit(one);
    ASSERT_NEAR(plays[i], fit.play_mm, kAgree) << g.name << " sample " << i;
    EXPECT_LE(unproved(g.rows, one, fit), 1e-8) << g.name << " sample " << i;
  }
  if (program.can_bind()) {
    EXPECT_LE(walk.counts().fresh_solves, count / 100) << g.name;
  }
}

TEST(VertexWalk, AgreesWithFreshSolutionsOnManyPuzzles) {
  for (const GapExample& g : many()) expect_the_same(g, 150, 60);
}

TEST(VertexWalk, AgreesOnALargePuzzleOfManyBodies) {
  expect_the_same(random_areas(9, 60, 3, {}, 0.5), 60, 30);
  expect_the_same(cubes_in_box(2), 30, 10);
}

// Each set of forces on a line is two equal ones of many: nothing but ties, and most ways to move are seen by no row.
// A list longer than what is looked at in parts that are not listed was once cut short like theirs.
TEST(VertexWalk, KeepsLongListsWhole) {
  const GapExample g = random_areas(4, 26, 20);
  const FitProgram program(g.rows);
  ASSERT_TRUE(program.parts().parts.at(0).all_vertices.has_value());
  ASSERT_GT(program.parts().parts[0].all_vertices->size(), 1000U);
  expect_the_same(g, 100, 50);
}

TEST(VertexWalk, AgreesWhereEverythingIsDegenerateAndMostMotionsAreFree) {
  GapRows rows = on_a_line(4, {{0, 1}, {0, 1}, {1, 2}, {1, 2}, {2, 3}, {2, 3}, {3, 0}, {3, 0}, {1, 0}, {2, 1}, {0, 2}});
  GapExample g{"on a line", rows, Eigen::VectorXd::Zero(11), 0.1 * Eigen::MatrixXd::Identity(11, 11)};
  expect_the_same(g, 500, 100);
  g.effect.setZero();  // all gaps equal
  expect_the_same(g, 3, 3);
}

TEST(VertexWalk, TellsPiecesApartThatTouchNothing) {
  GapExample g = grown_pieces(6, 4, 2);
  g.rows.bodies += 2;
  g.rows.center.resize(g.rows.center.size() + 2);
  const auto last = static_cast<int>(g.rows.bodies) - 1;
  g.rows.rows.push_back({last - 1, last, {1, 0, 0}, {1, 2, 3}});  // two bodies on their own, one contact
  const Eigen::Index rows = g.nominal.size() + 1;
  g.nominal.conservativeResize(rows);
  g.nominal[rows - 1] = -5;  // far too tight, but it can always be opened
  g.effect.conservativeResize(rows, Eigen::NoChange);
  g.effect.row(rows - 1).setZero();
  expect_the_same(g, 100, 30);
}

// Rhombic pieces of which some areas touch in nearly the same corners, and no forces balance: the linear solver once
// took "no force" for its answer with prices that opened nothing.
TEST(VertexWalk, FindsThatNothingBindsAmongSlantedFaces) {
  const double s = std::sqrt(0.5), u = 16 * s;
  GapRows g{8,
            {{-9.428090415820634, 1.8856180831641265, -5.6568542494923788},
             {35.826743580118404, 43.369215912774912, 50.911688245431414},
             {-3.7712361663282534, -15.084944665313014, 11.313708498984759},
             {-1.8856180831641265, -9.428090415820634, -5.6568542494923788},
             {32.055507413790153, 43.369215912774912, 39.597979746446654},
             {24.513035081133644, 32.055507413790153, 16.970562748477139},
             {32.055507413790153, 20.741798914805393, 16.970562748477139},
             {-1.8856180831641254, -9.4280904158206322, 62.225396744416173}},
            {}};
  const auto area = [&g](int from, int to, Point n, const std::vector<Point>& corners) {
    for (Point p : corners) g.rows.push_back({from, to, n, p});
  };
  area(3, 0, {0, s, s}, {{-2 * u, 0, -2 * u}, {-u, -u, -u}, {0, 0, -2 * u}});
  area(0, 3, {s, -s, 0}, {{-u, -u, -u}, {0, 0, -2 * u}, {0, 0, 0}});
  area(0, 2, {s, -s, 0}, {{-2 * u, -2 * u, 0}, {-1.5 * u, -1.5 * u, -u / 2}, {-1.5 * u, -1.5 * u, u / 2}});
  area(2, 3, {s, -s, 0}, {{0, -2 * u, 0}, {u / 2, -1.5 * u, -u / 2}, {u / 2, -1.5 * u, 1.5 * u}, {0, -2 * u, u}});
  area(2, 3, {s, -s, 0}, {{0, -2 * u, u}, {u / 2, -1.5 * u, 1.5 * u}, {0, -2 * u, 2 * u}});
  area(3, 2, {s, 0, s}, {{0, -2 * u, 0}, {u / 2, -1.5 * u, -u / 2}, {-u / 2, -u / 2, u / 2}, {-u, -u, u}});
  const FitProgram program(g);
  EXPECT_FALSE(program.can_bind());
  EXPECT_TRUE(std::isinf(program.solve(std::vector<double>(g.rows.size(), -1.0)).play_mm));
}

TEST(VertexWalk, GivesTheSameWhateverCameBefore) {
  for (const GapExample& g : {grown_pieces(6, 4, 1), random_areas(6, 24, 1), ring_of_cubes(3)}) {
    const FitProgram program(g.rows);
    constexpr std::size_t kSamples = 3000;
    const auto h = g.samples(kSamples, 12);
    std::vector<double> forth(kSamples);
    VertexWalk one(program), two(program);
    one.play(h, kSamples, forth);
    for (std::size_t i = kSamples; i-- > 0;)
      ASSERT_NEAR(two.play(sample(h, program.rows(), i)), forth[i], kAgree) << g.name;
  }
}

TEST(VertexWalk, GivesTheSameOnAnyNumberOfThreads) {
  const GapExample g = grown_pieces(6, 4, 2);
  const FitProgram program(g.rows);
  constexpr std::size_t kSamples = 4000;
  const auto h = g.samples(kSamples, 13);
  const auto by_threads = [&](std::size_t threads) {
    std::vector<double> plays(kSamples);
    std::vector<std::jthread> workers;
    for (std::size_t k = 0; k < threads; ++k)
      workers.emplace_back([&, k] {
        VertexWalk walk(program);
        const std::size_t first = kSamples * k / threads, count = kSamples * (k + 1) / threads - first;
        walk.play(std::span<const double>(h).subspan(first * program.rows()), count, std::span(plays).subspan(first));
      });
    workers.clear();
    return plays;
  };
  const auto alone = by_threads(1);
  for (const std::size_t threads : {2, 3}) {
    const auto plays = by_threads(threads);
    for (std::size_t i = 0; i < kSamples; ++i) ASSERT_NEAR(plays[i], alone[i], kAgree);
  }
}

TEST(VertexWalk, KeepsToItsMemoryAndStaysRight) {
  for (const GapExample& g : {random_areas(6, 24, 1), ring_of_cubes(3), grown_pieces(6, 4, 2)}) {
    const FitProgram program(g.rows);
    constexpr std::size_t kSamples = 2000;
    const auto h = g.samples(kSamples, 14);
    std::vector<double> free(kSamples), narrow(kSamples);
    VertexWalk roomy(program);
    roomy.play(h, kSamples, free);
    for (const std::size_t bytes : {std::size_t{1}, std::size_t{60'000}}) {
      VertexWalk walk(program, bytes);
      const std::size_t first = walk.counts().vertices;
      walk.play(h, kSamples, narrow);
      for (std::size_t i = 0; i < kSamples; ++i) ASSERT_NEAR(narrow[i], free[i], kAgree) << g.name;
      EXPECT_LE(walk.counts().vertices - first, bytes / 4000) << g.name;  // one takes more than 4000 bytes here
      EXPECT_LT(first, roomy.counts().vertices) << g.name;
    }
  }
}

TEST(VertexWalk, TakesAnyNumberOfSamplesAtOnce) {
  const GapExample g = random_areas(4, 24, 2);
  const FitProgram program(g.rows);
  const auto h = g.samples(40, 15);
  VertexWalk one(program);
  for (const std::size_t count : {0, 1, 7, 8, 9, 40}) {
    VertexWalk walk(program);
    std::vector<double> plays(count);
    walk.play(h, count, plays);
    for (std::size_t i = 0; i < count; ++i) EXPECT_NEAR(plays[i], one.play(sample(h, program.rows(), i)), kAgree);
    EXPECT_EQ(walk.counts().samples, count);
  }
}

}  // namespace
}  // namespace stickwright
