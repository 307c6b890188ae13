// owner_year.h - what the owner of a puzzle should know of the year, in one sentence.
#pragma once
#include <optional>
#include <string>

#include "batch/fit_plan.h"
#include "shop/gluing_means.h"

namespace stickwright {

// Relative humidity, shares.
struct DryAndDamp {
  double from = 0, to = 0;
};

// The air in which 19 of 20 puzzles keep closing by hand: that which gives the wood, in the end, what it has in those
// months, all of them next to each other by moisture, in which they do. Never wider than the months that were looked
// at.
//   returns  in steps of 5 %; a bound beyond which they do not close is rounded inwards. Nothing where no month will
//   do,
//            or where less than 10 % are left between the bounds
std::optional<DryAndDamp> air_that_will_do(const YearFit& year, const Customer& customer, double closes_from_mm);

// The tightest month, and the air to keep it in where that can be said.
std::string year_for_the_owner(const YearFit& year, const Customer& customer, double closes_from_mm);

}  // namespace stickwright
