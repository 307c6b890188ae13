#include "packet/owner_year.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "batch/fit_wording.h"
#include "wood/moisture.h"

namespace stickwright {
namespace {

constexpr double kRounded = 0.05, kLeastSpan = 0.1;  // of relative humidity

// Months by the moisture of their wood, those between which all close: the longest such row.
struct MonthRow {
  double dry = 0, damp = 0;  // percent moisture content
  bool jams_drier = false, jams_damper = false;
};

std::optional<MonthRow> months_that_close(const YearFit& year, double closes_from) {
  std::array<std::size_t, 12> order{};
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return year.months[a].moisture.wood < year.months[b].moisture.wood; });
  const auto month = [&](std::size_t i) -> const MonthFit& { return year.months[order[i]]; };
  const auto closes = [&](std::size_t i) { return month(i).p05 >= closes_from; };
  std::optional<MonthRow> best;
  for (std::size_t from = 0; from < 12; ++from) {
    if (!closes(from) || (from > 0 && closes(from - 1))) continue;
    std::size_t to = from;
    while (to + 1 < 12 && closes(to + 1)) ++to;
    const MonthRow row = {month(from).moisture.wood, month(to).moisture.wood, from > 0, to < 11};
    if (!best || row.damp - row.dry > best->damp - best->dry) best = row;
  }
  return best;
}

// The humidity that gives the wood so much moisture in the end.
std::optional<double> humidity_for(double moisture, Celsius temperature) {
  double low = 0.05, high = 0.95;
  for (int k = 0; k < 50; ++k) {
    const double middle = (low + high) / 2;
    const auto at = equilibrium_moisture(temperature, middle);
    if (!at) return {};
    (at.value().value < moisture ? low : high) = middle;
  }
  return low;
}

Celsius mean_temperature(const Customer& customer) {
  double sum = 0;
  for (const MonthAir& m : customer.air) sum += m.temperature.v;
  return {sum / 12};
}

}  // namespace

std::optional<DryAndDamp> air_that_will_do(const YearFit& year, const Customer& customer, double closes_from) {
  const auto row = months_that_close(year, closes_from);
  if (!row) return {};
  const Celsius room = mean_temperature(customer);
  const auto dry = humidity_for(row->dry, room), damp = humidity_for(row->damp, room);
  if (!dry || !damp) return {};
  const double from = *dry / kRounded, to = *damp / kRounded;
  const DryAndDamp air = {kRounded * (row->jams_drier ? std::ceil(from) : std::round(from)),
                          kRounded * (row->jams_damper ? std::floor(to) : std::round(to))};
  if (air.to - air.from < kLeastSpan - 1e-9) return {};
  return air;
}

std::string year_for_the_owner(const YearFit& year, const Customer& customer, double closes_from) {
  const auto air = air_that_will_do(year, customer, closes_from);
  const std::string month = fmt::format(
      "Wood swells in damp air and shrinks in dry air: this puzzle is tightest about "
      "the end of {}",
      month_name(year.tightest));
  if (!air) return month + ".";
  return fmt::format(
      "{}. Where the air keeps within {:.0f} and {:.0f}\u00a0% humidity, 19 in 20 of its kind go together by hand.",
      month, 100 * air->from, 100 * air->to);
}

}  // namespace stickwright
