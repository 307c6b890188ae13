#include "packet/known_table.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>

#include "saw/state.h"

namespace stickwright {
namespace {

struct KnownNumber {
  std::string name, unit;
  std::optional<std::size_t> stick;  // which wood's
  Estimate value;
};

bool same(const KnownNumber& a, const KnownNumber& b) {
  return a.unit == b.unit && a.value.value == b.value.value && a.value.u == b.value.u &&
         a.value.source == b.value.source;
}

// "stick 2 width 1" is the width 1 of the second wood.
KnownNumber known_of(const Parameter& p, const Estimate& e) {
  KnownNumber k{p.name, p.unit, {}, e};
  constexpr std::string_view kStick = "stick ";
  if (!p.name.starts_with(kStick)) return k;
  std::size_t number = 0;
  const char* end = p.name.data() + p.name.size();
  const auto [after, error] = std::from_chars(p.name.data() + kStick.size(), end, number);
  if (error != std::errc() || after == end) return k;
  k.stick = number - 1;
  k.name = std::string(after + 1, end);
  return k;
}

std::vector<KnownNumber> all_known(const KnownSaw& saw) {
  ShopState state = saw.state;
  const auto parameters = parameters_of(state);
  const auto numbers = numbers_of(state);
  std::vector<KnownNumber> out;
  for (std::size_t i = 0; i < numbers.size(); ++i)
    if (numbers[i]->u != 0 || numbers[i]->value != 0) out.push_back(known_of(parameters[i], *numbers[i]));
  return out;
}

// The second width says nothing new where it is like the first.
std::vector<KnownNumber> without_twins(const std::vector<KnownNumber>& all) {
  std::vector<KnownNumber> out;
  for (const KnownNumber& k : all) {
    if (k.name.ends_with("width 2"))
      if (auto twin = std::find_if(out.begin(), out.end(),
                                   [&](const KnownNumber& o) {
                                     return o.stick == k.stick && o.name.ends_with("width 1") && same(o, k) &&
                                            o.name.substr(0, o.name.size() - 1) == k.name.substr(0, k.name.size() - 1);
                                   });
          twin != out.end()) {
        twin->name.resize(twin->name.size() - 2);
        continue;
      }
    out.push_back(k);
  }
  return out;
}

// Units as they are read at the bench: degrees, and no strings of zeros.
struct Shown {
  double scale = 1;
  std::string value_unit, u_unit;
};

Shown shown_in(const KnownNumber& k) {
  constexpr double kDegrees = 180 / std::numbers::pi;
  if (k.unit == "rad") return {kDegrees, "°", "°"};
  if (k.unit == "rad/N") return {1000 * kDegrees, "° per kN", "° per kN"};
  if (k.unit == "1/K") return {1e6, " µm/m per K", " µm/m per K"};
  if (k.unit == "1/%") return {100, " % per %", " % per %"};
  if (k.unit == "K") return {1, " °C", " K"};
  const std::string unit = fmt::format(" {}", k.unit);
  return {1, unit, unit};
}

// Some numbers of the state are changes or stand for all cuts; their short names do not say so.
std::string name_of(const KnownNumber& k) {
  if (k.name == "clamp force") return "clamp force, change since truing";
  return k.name.starts_with("seating at cut") ? "seating at the stop" : k.name;
}

// The value to as many places as its uncertainty has.
Row row_of(const KnownNumber& k, const std::string& whose) {
  const Shown shown = shown_in(k);
  const double v = k.value.value * shown.scale;
  if (k.value.u == 0)
    return {whose + name_of(k), fmt::format("{:.6g}{}", v, shown.value_unit), "taken as exact", k.value.source};
  const std::string u = two_digits(k.value.u * shown.scale);
  const auto point = u.find('.');
  const auto places = point == std::string::npos ? std::size_t{0} : u.size() - point - 1;
  return {whose + name_of(k), fmt::format("{:.{}f}{}", v, places, shown.value_unit), u + shown.u_unit, k.value.source};
}

}  // namespace

const std::vector<Column> kKnownColumns = {
    {"", 1.7}, {"best value", 1.1, Align::right}, {"± u", 1.1, Align::right}, {"from", 2.8}};

std::vector<Row> known_rows(const KnownSaw& saw) {
  const std::vector<KnownNumber> all = without_twins(all_known(saw));
  std::vector<Row> rows;
  for (const KnownNumber& k : all) {
    if (!k.stick) {
      rows.push_back(row_of(k, ""));
      continue;
    }
    const bool everywhere = std::all_of(
        all.begin(), all.end(), [&](const KnownNumber& o) { return !o.stick || o.name != k.name || same(o, k); });
    if (!everywhere)
      rows.push_back(row_of(k, saw.woods[*k.stick] + ": "));
    else if (*k.stick == 0)
      rows.push_back(row_of(k, "stick: "));
  }
  return rows;
}

}  // namespace stickwright
