#include "wood/season.h"

#include <fmt/core.h>

#include <cmath>

#include "wood/moisture.h"

namespace stickwright {
namespace {

constexpr std::size_t kMonths = 12;
constexpr double kDays[kMonths] = {31, 28.2425, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
constexpr const char* kNames[kMonths] = {"January", "February", "March",     "April",   "May",      "June",
                                         "July",    "August",   "September", "October", "November", "December"};

// The share of its gap to the air that the wood closes in so many days.
double closed_in(double days, double lag_days) {
  return lag_days > 0 ? -std::expm1(-days / lag_days) : 1;
}

// A year maps the moisture w on New Year's Day to (1 - closed) w + gained; the steady state maps it to itself.
double on_new_years_day(const std::array<MonthMoisture, kMonths>& year, double lag_days) {
  double gained = 0, days = 0;
  for (std::size_t m = 0; m < kMonths; ++m) {
    const double share = closed_in(kDays[m], lag_days);
    gained += share * (year[m].air - gained);
    days += kDays[m];
  }
  return gained / closed_in(days, lag_days);
}

}  // namespace

Result<std::array<MonthMoisture, 12>> moisture_over_year(const std::array<MonthAir, 12>& air, double lag_days) {
  if (!(lag_days >= 0) || !std::isfinite(lag_days))
    return Problem{"bad_lag", "", fmt::format("expected a lag of 0 days or more, found {:.6g} days", lag_days), ""};
  std::array<MonthMoisture, kMonths> year;
  for (std::size_t m = 0; m < kMonths; ++m) {
    const auto moisture = equilibrium_moisture(air[m].temperature, air[m].humidity);
    if (!moisture)
      return Problem{moisture.problem().code, "", fmt::format("{}: {}", kNames[m], moisture.problem().say), ""};
    year[m].air = moisture.value().value;
  }
  double wood = on_new_years_day(year, lag_days);
  for (std::size_t m = 0; m < kMonths; ++m) {
    wood += closed_in(kDays[m], lag_days) * (year[m].air - wood);
    year[m].wood = wood;
  }
  return year;
}

}  // namespace stickwright
