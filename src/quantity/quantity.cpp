#include "quantity/quantity.h"

#include <fmt/core.h>

#include <array>
#include <cmath>
#include <optional>
#include <span>

#include "quantity/amount.h"

namespace stickwright {
namespace {

__extension__ using Wide = __int128;  // products of a part and a unit

struct Unit {
  std::string_view name;
  std::int64_t in_small_units;
};

struct Amount {
  Ratio number;
  std::int64_t unit = 1;
};

std::optional<Amount> amount(std::string_view text, std::span<const Unit> units) {
  const auto read = number_with_unit(text);
  if (!read) return {};
  for (const Unit& u : units)
    if (u.name == read->unit) return Amount{read->number, u.in_small_units};
  return {};
}

constexpr std::array kLengthUnits = {Unit{"mm", 1'000'000},   Unit{"in", 25'400'000}, Unit{"\"", 25'400'000},
                                     Unit{"um", 1'000},       Unit{"cm", 10'000'000}, Unit{"m", 1'000'000'000},
                                     Unit{"ft", 304'800'000}, Unit{"nm", 1},          Unit{"\u00b5m", 1'000},
                                     Unit{"\u03bcm", 1'000}};  // micro sign, Greek mu
constexpr std::array kTimeUnits = {Unit{"s", 1}, Unit{"min", 60}, Unit{"h", 3600}, Unit{"d", 86400}};
constexpr std::array kShareUnits = {Unit{"%", 1}};

}  // namespace

Nm to_nm(Mm length) {
  return Nm{std::llround(length.v * 1e6)};
}

Result<Mm> parse_length(std::string_view text) {
  const auto a = amount(text, kLengthUnits);
  if (!a)
    return bad_amount("bad_length", "a length with its unit (mm, cm, m, um, in, ft)", "\"16 mm\" or \"5/8 in\"", text);
  return Mm{a->number.value() * (static_cast<double>(a->unit) / 1e6)};
}

Result<Nm> parse_nominal(std::string_view text) {
  const auto a = amount(text, kLengthUnits);
  if (!a) return bad_amount("bad_length", "a length with its unit (mm, um, in)", "\"1.005 mm\" or \"0.1001 in\"", text);
  const Wide nm = static_cast<Wide>(a->number.top) * a->unit;
  const Wide whole_nm = nm / a->number.bottom;
  if (whole_nm * a->number.bottom != nm || whole_nm > INT64_MAX / 4 || whole_nm < -(INT64_MAX / 4))
    return bad_amount("not_whole_nm", "a size of a whole number of nanometers", "\"1.005 mm\"", text);
  return Nm{static_cast<std::int64_t>(whole_nm)};
}

Result<Seconds> parse_duration(std::string_view text) {
  const auto a = amount(text, kTimeUnits);
  if (!a) return bad_amount("bad_duration", "a time with its unit (s, min, h, d)", "\"20 min\" or \"1.5 h\"", text);
  return Seconds{std::llround(a->number.value() * static_cast<double>(a->unit))};
}

Result<double> parse_share(std::string_view text) {
  const auto a = amount(text, kShareUnits);
  if (!a) return bad_amount("bad_share", "a share in percent", "\"8 %\"", text);
  return a->number.value() / 100;
}

std::string show_mm_inch(Mm length, int mm_places, int inch_places) {
  return fmt::format("{:.{}f} mm ({:.{}f} in)", length.v, mm_places, length.inches(), inch_places);
}

}  // namespace stickwright
