// least_squares.h - what several readings together say about several unknowns, and what they cannot say.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace stickwright {

// An unknown. Its scale is a change of it that would matter: it makes unknowns of different units comparable.
struct Unknown {
  std::string name;
  std::string unit;
  double scale = 1;  // > 0, in the unit
};

// observed = sum of coefficients times unknowns, known with the standard uncertainty u.
struct LinearRow {
  std::string name;
  std::vector<double> coefficients;  // one an unknown
  double observed = 0;
  double u = 1;  // > 0
};

// What is already known of an unknown before the readings.
struct Prior {
  std::size_t unknown = 0;
  double value = 0;
  double u = 1;  // > 0
};

struct LinearSystem {
  std::vector<Unknown> unknowns;
  std::vector<LinearRow> rows;
  std::vector<Prior> priors;
};

// Unknowns that may change together, by so much each, without any reading noticing.
struct HiddenDirection {
  std::vector<double> change;  // one an unknown, in its unit; the largest is one scale
};

struct LinearFit {
  std::vector<double> value;                    // of hidden directions the share that lies nearest to zero
  std::vector<std::vector<double>> covariance;  // of what the rows determine
  std::vector<bool> determined;                 // whether no hidden direction moves the unknown
  std::vector<double> u;                        // standard uncertainty; infinite where not determined
  std::size_t rank = 0;
  std::vector<HiddenDirection> hidden;  // as many as unknowns less rank
  std::vector<double> residual;         // observed less fitted; the rows, then the priors
  std::vector<double> standardized;     // residual over its own standard deviation; 0 where nothing checks the row
  double chi_square = 0;
  std::size_t freedom = 0;      // rows and priors less rank
  std::optional<double> birge;  // root of chi-square over freedom; about 1 when the given u are right
  double chance = 1;            // of a chi-square at least as large, if they are
};

// A singular value below this share of the largest counts as zero: far above the rounding of a coefficient, and below
// anything that a reading in a shop could tell.
inline constexpr double kRankShare = 1e-9;

// Weighted linear least squares.
//   returns  value, covariance with the given u (not inflated by the Birge ratio), and the rank of the rows, each
//   divided
//            by its u, with every column multiplied by the scale of its unknown
//   throws   logic_error: a row whose size is not that of the unknowns, u or scale not > 0, a number that is none
//   assumes  independent rows
//   source   the normal equations solved by singular values; Birge ratio and standardized residuals as in textbooks of
//            regression, from memory
LinearFit solve(const LinearSystem& system);

// The uncertainty of the sum of weights times unknowns; infinite when a hidden direction moves it.
double u_of(const LinearFit& fit, const std::vector<double>& weights);

// "stop +1 mm together with shim -1 mm"
std::string show_direction(const HiddenDirection& direction, const std::vector<Unknown>& unknowns);

// "The readings scatter 2.4 times as much as their uncertainties say; by chance that happens in 0.3 % of cases."
// Empty when chi-square is as expected: chance between 2.5 % and 97.5 %.
std::string birge_note(const LinearFit& fit);

}  // namespace stickwright
