// Lists of all sets of balanced forces against their definition, and the least of them found from neighbor to neighbor.
#include "closing/neighbor_walk.h"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <map>

#include "support/gap_examples.h"
#include "support/small_fits.h"

namespace stickwright {
namespace {

using namespace stickwright::test;
using Lists = std::map<std::vector<int>, std::vector<double>>;

// [rows][columns + 1], the last column all 1; small whole numbers make many vertices with less forces than columns.
Eigen::MatrixXd random_matrix(int rows, int columns, std::mt19937_64& random, bool whole) {
  Eigen::MatrixXd m(rows, columns + 1);
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) m(r, c) = whole ? static_cast<int>(random() % 3) - 1 : normal_draw(random);
  m.rightCols(1).setOnes();
  return m;
}

Eigen::MatrixXd rows_of(const Eigen::MatrixXd& m, const std::vector<int>& rows) {
  return m(rows, Eigen::all);
}

// Every set of rows that balances in one way only, with forces above 0.
Lists by_definition(const Eigen::MatrixXd& m) {
  Lists all;
  const Eigen::VectorXd wanted = Eigen::VectorXd::Unit(m.cols(), m.cols() - 1);
  for (unsigned set = 1; set < 1U << m.rows(); ++set) {
    std::vector<int> rows;
    for (int r = 0; r < static_cast<int>(m.rows()); ++r)
      if (set >> r & 1U) rows.push_back(r);
    const Eigen::FullPivLU<Eigen::MatrixXd> lu(rows_of(m, rows).transpose());
    if (lu.rank() < static_cast<Eigen::Index>(rows.size())) continue;
    const Eigen::VectorXd y = lu.solve(wanted);
    if ((rows_of(m, rows).transpose() * y - wanted).norm() < 1e-9 && y.minCoeff() > 1e-9)
      all[rows].assign(y.begin(), y.end());
  }
  return all;
}

BindingPart listed(const Eigen::MatrixXd& m) {
  BindingPart part;
  for (int r = 0; r < static_cast<int>(m.rows()); ++r) part.rows.push_back(r);
  part.matrix = m;
  part.all_vertices = enumerate_vertices(m);
  return part;
}

// Its columns are independent, as the list asks for.
bool can_be_listed(const Eigen::MatrixXd& m) {
  return Eigen::FullPivLU<Eigen::MatrixXd>(m.leftCols(m.cols() - 1)).rank() == m.cols() - 1;
}

double least_of_all(const BindingPart& part, const std::vector<double>& h) {
  double least = std::numeric_limits<double>::infinity();
  for (const ForceVertex& v : *part.all_vertices) {
    double work = 0;
    for (std::size_t i = 0; i < v.rows.size(); ++i) work += v.shares[i] * h[v.rows[i]];
    least = std::min(least, work);
  }
  return least;
}

std::vector<RowSet> carrying(const BindingPart& part) {
  std::vector<RowSet> sets;
  for (const ForceVertex& v : *part.all_vertices) {
    sets.emplace_back();
    for (const int r : v.rows) sets.back()[r] = true;
  }
  return sets;
}

TEST(AllVertices, AreThoseOfTheDefinitionAndNoOthers) {
  std::mt19937_64 random(3);
  int many = 0;
  for (int k = 0; k < 200; ++k) {
    const Eigen::MatrixXd m = random_matrix(7 + k % 5, 2 + k % 4, random, k % 2 == 0);
    if (!can_be_listed(m)) continue;
    const auto found = enumerate_vertices(m);
    const Lists expected = by_definition(m);
    if (!found) {  // only where a share is small
      double least = 1;
      for (const auto& [rows, shares] : expected)
        least = std::min(least, *std::min_element(shares.begin(), shares.end()));
      EXPECT_LT(least, kLeastShare) << k;
      continue;
    }
    ASSERT_EQ(found->size(), expected.size()) << k;
    for (const ForceVertex& v : *found) {
      const auto at = expected.find(v.rows);
      ASSERT_NE(at, expected.end()) << k;
      for (std::size_t i = 0; i < v.shares.size(); ++i) EXPECT_NEAR(v.shares[i], at->second[i], 1e-12);
    }
    many += found->size() > 10;
  }
  EXPECT_GT(many, 50);
}

// Equal forces in all joints, at one point of the square. At a corner, one row of each; at the middle, either diagonal
// of each joint, but for all on the same one, which is a mixture of two corners: 4 + 2^n - 2.
TEST(AllVertices, OfARingOfSquareFacesAreTwoToTheNPlusTwo) {
  for (const int n : {3, 5, 8}) {
    const FitProgram program(square_ring(n));
    ASSERT_EQ(program.parts().parts.size(), 1U);
    ASSERT_TRUE(program.parts().parts[0].all_vertices.has_value());
    EXPECT_EQ(program.parts().parts[0].all_vertices->size(), (std::size_t{1} << n) + 2);
  }
}

// Two pairs of rows against each other, one of them out of line by so much that a third would have to help with about
// as much force.
TEST(AllVertices, AreNotListedWhereRoundingWouldDecide) {
  for (const double off : {0.0, 1e-14, 1e-10, 1e-8, 1e-5, 1e-2}) {
    Eigen::MatrixXd m(4, 3);
    m << 1, 0, 1, -1, off, 1, 0, 1, 1, 0, -1, 1;
    EXPECT_EQ(enumerate_vertices(m).has_value(), off < 1e-12 || off > 1e-3) << off;
  }
}

// Two vertices are neighbors when the rows with a force in either balance, up to a factor, in a plane of ways.
TEST(Neighbors, AreThoseWhoseRowsLeaveOneWayMore) {
  std::mt19937_64 random(5);
  std::vector<BindingPart> parts;
  for (const auto& example : {grown_pieces(6, 4, 1), grown_pieces(6, 4, 4), ring_of_cubes(3)}) {
    const FitProgram program(example.rows);
    for (const BindingPart& p : program.parts().parts)
      if (p.all_vertices) parts.push_back(p);
  }
  parts.push_back(FitProgram(square_ring(5)).parts().parts[0]);
  for (int k = 0; k < 20; ++k)
    if (const Eigen::MatrixXd m = random_matrix(12, 4, random, k % 2 == 0); can_be_listed(m))
      parts.push_back(listed(m));
  int pairs = 0;
  for (const BindingPart& part : parts) {
    if (!part.all_vertices) continue;
    const auto sets = carrying(part);
    for (int a = 0; a < static_cast<int>(sets.size()); ++a) {
      std::vector<int> expected;
      for (int b = 0; b < static_cast<int>(sets.size()); ++b) {
        std::vector<int> rows;
        for (std::size_t r = 0; r < part.rows.size(); ++r)
          if ((sets[a] | sets[b])[r]) rows.push_back(static_cast<int>(r));
        const Eigen::MatrixXd balance = rows_of(part.matrix, rows).leftCols(part.matrix.cols() - 1);
        if (a != b && Eigen::FullPivLU<Eigen::MatrixXd>(balance).rank() + 2 == balance.rows()) expected.push_back(b);
      }
      std::vector<int> found = neighbors(sets, a);
      std::sort(found.begin(), found.end());
      EXPECT_EQ(found, expected);
      pairs += static_cast<int>(expected.size());
    }
  }
  EXPECT_GT(pairs, 1000);
}

// Gaps of one kind, gaps of any kind, equal gaps; with room for everything and for nothing.
TEST(NeighborWalk, FindsTheLeastOfAllWhateverCameBefore) {
  std::mt19937_64 random(7);
  std::vector<BindingPart> parts = {FitProgram(square_ring(8)).parts().parts[0],
                                    FitProgram(random_areas(4, 26, 20).rows).parts().parts[0]};
  for (int k = 0; k < 4; ++k)
    if (const Eigen::MatrixXd m = random_matrix(16, 5, random, true); can_be_listed(m)) parts.push_back(listed(m));
  for (const BindingPart& given : parts) {
    ASSERT_TRUE(given.all_vertices.has_value());
    BindingPart part = given;
    for (std::size_t r = 0; r < part.rows.size(); ++r) part.rows[r] = static_cast<int>(r);
    NeighborWalk roomy(part, 1 << 26), narrow(part, 1);
    std::vector<double> h(part.rows.size(), 0.25);
    EXPECT_NEAR(roomy.play(h.data()), 0.25, 1e-14);
    for (int k = 0; k < 600; ++k) {
      for (double& g : h) g = (k < 300 ? 0.2 : 0) + 0.1 * normal_draw(random);
      if (k % 10 == 0)  // ties
        for (double& g : h) g = 0.125 * std::round(8 * g);
      const double least = least_of_all(part, h);
      EXPECT_NEAR(roomy.play(h.data()), least, 1e-13);
      EXPECT_NEAR(narrow.play(h.data()), least, 1e-13);
    }
    EXPECT_GT(roomy.known(), 10U);
    EXPECT_GT(roomy.steps(), 10U);
    EXPECT_LT(narrow.known(), roomy.known());
  }
}

// The walk's own way for a long list: proved by a solver that knows no list, and by forces and positions.
TEST(NeighborWalk, IsWhatThePlayOfARingOfSquareFacesIsFoundBy) {
  const FitProgram program(square_ring(8));
  ASSERT_EQ(play_by(program.parts().parts[0]), PlayBy::neighbors);
  VertexWalk walk(program), other(program);
  std::mt19937_64 random(9);
  const std::size_t rows = program.rows(), samples = 203;
  std::vector<double> h(samples * rows), plays(samples);
  for (double& g : h) g = 0.1 + 0.05 * normal_draw(random);
  walk.play(h, samples, plays);
  for (std::size_t i = 0; i < samples; ++i) {
    const auto one = std::span<const double>(h).subspan(i * rows, rows);
    EXPECT_NEAR(plays[i], program.solve(one).play_mm, 1e-9);
    const ClosedFit fit = other.fit(one);
    EXPECT_NEAR(plays[i], fit.play_mm, 5e-10);
    EXPECT_LE(unproved(program.geometry(), one, fit), 1e-8);
  }
  EXPECT_EQ(walk.counts().fresh_solves, 0U);
  EXPECT_EQ(walk.counts().samples, samples);
}

}  // namespace
}  // namespace stickwright
