// capability.h - does what the saw does fit between the tolerance limits?
#pragma once
#include <cstddef>

namespace stickwright {

inline constexpr std::size_t kEnoughForCapability = 20;  // readings; common practice, no source

// What is known of a run of readings.
struct Run {
  std::size_t readings = 0;
  double mean = 0;
  double sigma_short = 0;  // within a short run: mean range / d2; > 0
  double sigma_all = 0;    // standard deviation of all readings; > 0
};

struct ToleranceLimits {
  double lower = 0, upper = 0;
};

struct Capability {
  double cp = 0, cpk = 0;    // with sigma_short: what the saw can do while nothing shifts
  double pp = 0, ppk = 0;    // with sigma_all: what it did
  double u_cpk = 0;          // standard uncertainty of cpk
  double share_outside = 0;  // of all blocks, with sigma_all, were the sizes spread normally
  bool enough = false;       // with fewer than kEnoughForCapability readings the numbers only hint
};

//   assumes  two readings or more, lower < upper
//   source   D. C. Montgomery, "Introduction to Statistical Quality Control": Cp = (U - L) / 6 sigma,
//            Cpk = min(U - mean, mean - L) / 3 sigma. u_cpk: A. F. Bissell, "How reliable is your capability index?",
//            Applied Statistics 39 (1990), from memory: sqrt(1 / 9n + Cpk^2 / 2(n - 1)), an approximation
Capability capability(const Run& run, ToleranceLimits tolerance);

}  // namespace stickwright
