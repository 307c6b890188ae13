// season.h - how damp the wood of a finished puzzle gets over the year in its owner's home.
#pragma once
#include <array>

#include "quantity/physical.h"
#include "quantity/result.h"

namespace stickwright {

// The air that the puzzle stands in, the mean of a month.
struct MonthAir {
  Celsius temperature;
  double humidity = 0;  // relative, a share
};

// Percent of the ovendry mass.
struct MonthMoisture {
  double air = 0;   // what the air of the month would give the wood in the end
  double wood = 0;  // what the wood has at the end of the month
};

// How many days the wood lags behind the air: rules of thumb, good to a factor of two. From published effectiveness of
// finishes on panels about as thick as our sticks; the derivation is in docs/seasons.md. A finish slows the wood, it
// does not keep it drier.
inline constexpr double kBareLagDays = 1;      // small pieces without a finish, or oiled
inline constexpr double kFinishedLagDays = 9;  // two coats of varnish or shellac

// The moisture content over a year that repeats itself for ever, January to December.
//   lag_days  of the wood behind the air, >= 0; 0: it follows at once
//   returns  at the end of each month. Within a month the wood goes one way, towards the air, so the dampest and the
//            driest hour of the year are among these twelve. With the months' lengths as weights the mean over the year
//            of wood that lags long is that of the air. Values carry the model's uncertainty kMoistureModelU, the same
//            way in all months, so differences between months are known better
//   errors   bad_lag (negative or not finite); out_of_range (air outside the table of equilibrium_moisture; says the
//            month)
//   exact    as far as doubles go: the steady state in closed form, no time steps
//   assumes  air that keeps still within a month and jumps to the next; one moisture content for the whole piece, which
//            closes the same share of its gap to the air every day (first-order lag); February of 28.2425 days
//   not for  days: a damp week shows in bare wood and not here; wood taken out of the room
Result<std::array<MonthMoisture, 12>> moisture_over_year(const std::array<MonthAir, 12>& air, double lag_days);

}  // namespace stickwright
