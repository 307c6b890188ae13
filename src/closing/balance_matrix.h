// balance_matrix.h - the balance of forces and moments, reduced to independent conditions. For FitProgram and
// VertexWalk.
#pragma once
#include <Eigen/Dense>
#include <optional>
#include <span>
#include <vector>

#include "closing/closed_fit.h"

namespace stickwright {

// Forces y >= 0 on the rows balance when column . y = 0 for every column but the last; the last says that they add up
// to 1. Columns are displacements of bodies, turns scaled to a length; those that other columns make up are left out.
struct BalanceMatrix {
  GapRows geometry;
  double length = 1;        // mm: a turn w counts as length * w
  std::vector<int> column;  // which of the 6 (bodies - 1) displacements are kept, ascending
  Eigen::MatrixXd rows;     // [rows][columns + 1], the last column all 1
  int size() const { return static_cast<int>(rows.cols()); }
};

BalanceMatrix reduce(GapRows geometry);

// Slides and turns from the values of the kept columns; the others are 0.
std::vector<Twist> twists(const BalanceMatrix& m, std::span<const double> values);

// The solver's answer: forces on all rows, and values of the columns with the play last.
struct Balanced {
  std::vector<double> force, position;
};
// matrix: [rows][columns + 1], the last column all 1
std::optional<Balanced> least_work(const Eigen::MatrixXd& matrix, std::span<const double> h);  // empty: none balance

// As many independent rows as there are columns, those with a force first.
std::vector<int> complete_basis(const Eigen::MatrixXd& matrix, std::span<const double> force);

}  // namespace stickwright
