// linear_program.h - linear programs, solved in floating point.
#pragma once
#include <vector>

namespace stickwright {

// The least cost . x with M x = right and 0 <= x <= upper. M is kept by columns.
struct EqualityProgram {
  std::vector<double> right;          // [rows]
  std::vector<int> start = {0}, row;  // of the entries: start [columns + 1], row [entries]
  std::vector<double> value;          // [entries]
  std::vector<double> cost, upper;    // [columns]
  void entry(int r, double v) { row.push_back(r), value.push_back(v); }
  void end_column(double column_cost, double column_upper) {
    start.push_back(static_cast<int>(row.size()));
    cost.push_back(column_cost), upper.push_back(column_upper);
  }
};

inline constexpr double kNoUpper = 1e30;

struct ProgramAnswer {
  bool solved = false;
  std::vector<double> x;  // [columns]
  std::vector<double>
      price;  // [rows]: cost - price . M is not negative for columns at 0, not positive for those at upper
};

// Solves it by the simplex method.
//   returns  not solved when the solver gives up or there is no solution
//   not for  deciding anything: round the answer to whole numbers and check it again exactly
ProgramAnswer solve(const EqualityProgram& program);

}  // namespace stickwright
