// decomposition.h - the rows of a linear system without units, taken apart by singular values. Inside this room only.
#pragma once
#include <Eigen/Dense>

#include "metrology/least_squares.h"

namespace stickwright {

// rows = left diag(singular) right^T, of which only the first `rank` count.
struct Decomposition {
  Eigen::MatrixXd left;      // one row a row
  Eigen::VectorXd singular;  // as many as unknowns, descending
  Eigen::MatrixXd right;     // square, one row an unknown
  Eigen::Index rank = 0;

  auto seen() const { return right.leftCols(rank); }
  auto hidden() const { return right.rightCols(right.cols() - rank); }
};

Decomposition decompose(const Eigen::MatrixXd& rows);

// A row divided by its u, every entry multiplied by the scale of its unknown.
//   throws   logic_error as solve does
Eigen::RowVectorXd unitless(const std::vector<double>& coefficients, double u, const std::vector<Unknown>& unknowns);

// All rows, then all priors.
Eigen::MatrixXd unitless_rows(const LinearSystem& system);

}  // namespace stickwright
