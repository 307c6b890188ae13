#include "quantity/amount.h"

#include <fmt/core.h>

#include <charconv>
#include <utility>

namespace stickwright {
namespace {

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t')) s.remove_suffix(1);
  return s;
}

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

}  // namespace

std::optional<NumberWithUnit> number_with_unit(std::string_view text) {
  text = trimmed(text);
  const std::size_t end = text.find_last_of("0123456789.");
  if (end == std::string_view::npos) return {};
  const auto n = number(trimmed(text.substr(0, end + 1)));
  if (!n) return {};
  return NumberWithUnit{*n, trimmed(text.substr(end + 1))};
}

Problem bad_amount(std::string code, std::string_view what, std::string_view example, std::string_view text) {
  return {std::move(code), "", fmt::format("expected {} such as {}, found \"{}\"", what, example, text), ""};
}

}  // namespace stickwright
