// sampling.h - how well a result is known when the model bends: the whole distribution, by drawing from the inputs.
#pragma once
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "metrology/budget.h"
#include "quantity/estimate.h"

namespace stickwright {

// The result for one possible value of each input, in their order.
using Model = std::function<double(std::span<const double>)>;

struct Interval {
  double low = 0, high = 0;
};

struct SamplingWish {
  std::uint64_t seed = 1;
  double coverage = 0.95;  // 0 < coverage < 1
  int digits = 2;          // of u, that are to be right: 1 or 2
  std::int64_t most_trials = 4'000'000;
};

struct Sampled {
  double value = 0;    // mean
  double u = 0;        // standard deviation
  Interval symmetric;  // as much below it as above it
  Interval shortest;   // of all that hold the coverage; the lowest of equal ones
  double coverage = 0.95;
  int digits = 2;
  std::int64_t trials = 0;
  bool settled = false;  // the digits are right; otherwise the trials ran out, and the numbers are the best there are
};

// Propagates the distributions of the inputs through the model.
//   returns  the same bytes on every run with the same seed (on one machine: logarithms may differ elsewhere in the
//   last
//            bit); trials in blocks of at least 10 000 until mean, u, and both ends of the symmetric interval
//            are stable to half a unit of the last of the wished digits of u
//   throws   logic_error: coverage outside 0..1, digits other than 1 or 2, a negative u; a model that gives no number
//   assumes  independent inputs; each drawn as Draws::of says
//   source   JCGM 101:2008, 7.2 to 7.7, 7.9.4 (adaptive procedure)
Sampled sample(std::span<const Estimate> inputs, const Model& model, const SamplingWish& wish = {});

// Half a unit of the last of `digits` significant digits of u.
//   source   JCGM 101:2008, 7.9.2
double numerical_tolerance(double u, int digits);

struct Comparison {
  double tolerance = 0;      // for u, as many digits as the sampling had
  double low = 0, high = 0;  // by how much the ends of the two intervals differ, >= 0
  bool agrees = false;       // neither by more than the tolerance
};

// Whether the budget, which takes the model as straight, says the same as the sampling.
//   throws   logic_error: different coverages
//   not for  a sampling that is not settled
//   source   JCGM 101:2008, 8.1
Comparison compare(const Budget& budget, const Sampled& sampled);

}  // namespace stickwright
