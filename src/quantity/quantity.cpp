#include "quantity/quantity.h"

#include <fmt/core.h>

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <span>

namespace stickwright {
namespace {

__extension__ using Wide = __int128;  // products of a part and a unit

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t')) s.remove_suffix(1);
  return s;
}

// A number as an exact fraction of two whole numbers: "0.05" is 5/100, "1 1/2" is 3/2.
struct Ratio {
  std::int64_t top = 0, bottom = 1;
  double value() const { return static_cast<double>(top) / static_cast<double>(bottom); }
};

constexpr std::int64_t kMaxPart = 1'000'000'000'000;

std::optional<std::int64_t> whole(std::string_view digits) {
  // from_chars would take a sign, and "1.-0" is no number.
  if (digits.empty() || digits.find_first_not_of("0123456789") != std::string_view::npos) return {};
  std::int64_t n = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), n);
  if (error != std::errc{} || end != digits.data() + digits.size() || n > kMaxPart) return {};
  return n;
}

std::optional<Ratio> decimal(std::string_view text) {
  const std::size_t dot = text.find('.');
  if (dot == std::string_view::npos) {
    const auto n = whole(text);
    return n ? std::optional(Ratio{*n, 1}) : std::nullopt;
  }
  const std::string_view places = text.substr(dot + 1);
  const auto left = dot == 0 ? std::optional<std::int64_t>(0) : whole(text.substr(0, dot));
  const auto right = whole(places);
  if (!left || !right || places.size() > 6) return {};
  std::int64_t scale = 1;
  for (std::size_t i = 0; i < places.size(); ++i) scale *= 10;
  return Ratio{*left * scale + *right, scale};
}

std::optional<Ratio> fraction(std::string_view text) {
  const std::size_t slash = text.find('/');
  const auto top = whole(text.substr(0, slash));
  const auto bottom = whole(text.substr(slash + 1));
  if (!top || !bottom || *bottom == 0 || *bottom > 100'000) return {};
  return Ratio{*top, *bottom};
}

std::optional<Ratio> positive_number(std::string_view text) {
  if (text.find('/') == std::string_view::npos) return decimal(text);
  const std::size_t gap = text.find(' ');
  if (gap == std::string_view::npos) return fraction(text);
  const auto units = whole(text.substr(0, gap));
  const auto part = fraction(trimmed(text.substr(gap + 1)));
  if (!units || !part || *units > 1'000'000) return {};
  return Ratio{*units * part->bottom + part->top, part->bottom};
}

std::optional<Ratio> number(std::string_view text) {
  const bool minus = !text.empty() && text.front() == '-';
  if (minus) text.remove_prefix(1);
  auto n = positive_number(text);
  if (n && minus) n->top = -n->top;
  return n;
}

struct Unit {
  std::string_view name;
  std::int64_t in_small_units;
};

struct Amount {
  Ratio number;
  std::int64_t unit = 1;
};

std::optional<Amount> amount(std::string_view text, std::span<const Unit> units) {
  text = trimmed(text);
  const std::size_t end = text.find_last_of("0123456789.");
  if (end == std::string_view::npos) return {};
  const std::string_view unit = trimmed(text.substr(end + 1));
  const auto n = number(trimmed(text.substr(0, end + 1)));
  if (!n) return {};
  for (const Unit& u : units)
    if (u.name == unit) return Amount{*n, u.in_small_units};
  return {};
}

constexpr std::array kLengthUnits = {Unit{"mm", 1'000'000},   Unit{"in", 25'400'000}, Unit{"\"", 25'400'000},
                                     Unit{"um", 1'000},       Unit{"cm", 10'000'000}, Unit{"m", 1'000'000'000},
                                     Unit{"ft", 304'800'000}, Unit{"nm", 1},          Unit{"\u00b5m", 1'000},
                                     Unit{"\u03bcm", 1'000}};  // micro sign, Greek mu
constexpr std::array kTimeUnits = {Unit{"s", 1}, Unit{"min", 60}, Unit{"h", 3600}, Unit{"d", 86400}};
constexpr std::array kShareUnits = {Unit{"%", 1}};

Problem bad(std::string code, std::string_view what, std::string_view example, std::string_view text) {
  return {std::move(code), "", fmt::format("expected {} such as {}, found \"{}\"", what, example, text), ""};
}

}  // namespace

Nm to_nm(Mm length) {
  return Nm{std::llround(length.v * 1e6)};
}

Result<Mm> parse_length(std::string_view text) {
  const auto a = amount(text, kLengthUnits);
  if (!a) return bad("bad_length", "a length with its unit (mm, cm, m, um, in, ft)", "\"16 mm\" or \"5/8 in\"", text);
  return Mm{a->number.value() * (static_cast<double>(a->unit) / 1e6)};
}

Result<Nm> parse_nominal(std::string_view text) {
  const auto a = amount(text, kLengthUnits);
  if (!a) return bad("bad_length", "a length with its unit (mm, um, in)", "\"1.005 mm\" or \"0.1001 in\"", text);
  const Wide nm = static_cast<Wide>(a->number.top) * a->unit;
  const Wide whole_nm = nm / a->number.bottom;
  if (whole_nm * a->number.bottom != nm || whole_nm > INT64_MAX / 4 || whole_nm < -(INT64_MAX / 4))
    return bad("not_whole_nm", "a size of a whole number of nanometers", "\"1.005 mm\"", text);
  return Nm{static_cast<std::int64_t>(whole_nm)};
}

Result<Seconds> parse_duration(std::string_view text) {
  const auto a = amount(text, kTimeUnits);
  if (!a) return bad("bad_duration", "a time with its unit (s, min, h, d)", "\"20 min\" or \"1.5 h\"", text);
  return Seconds{std::llround(a->number.value() * static_cast<double>(a->unit))};
}

Result<double> parse_share(std::string_view text) {
  const auto a = amount(text, kShareUnits);
  if (!a) return bad("bad_share", "a share in percent", "\"8 %\"", text);
  return a->number.value() / 100;
}

std::string show_mm_inch(Mm length, int mm_places, int inch_places) {
  return fmt::format("{:.{}f} mm ({:.{}f} in)", length.v, mm_places, length.inches(), inch_places);
}

}  // namespace stickwright
