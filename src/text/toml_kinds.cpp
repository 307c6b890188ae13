#include "text/toml_kinds.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "text/nearest.h"
#include "text/toml_amount.h"

namespace stickwright {
namespace {

using Kind = TomlNode::Kind;

constexpr std::size_t kLongestText = 200;  // bytes

std::string show(Seconds time) {
  if (time.v % 86400 == 0 && time.v > 0) return fmt::format("{} d", time.v / 86400);
  if (time.v % 3600 == 0 && time.v > 0) return fmt::format("{} h", time.v / 3600);
  if (time.v % 60 == 0 && time.v > 0) return fmt::format("{} min", time.v / 60);
  return fmt::format("{} s", time.v);
}

// Exactly `size` digits, or -1.
int digits(std::string_view text, std::size_t size) {
  if (text.size() != size) return -1;
  int number = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return -1;
    number = number * 10 + (c - '0');
  }
  return number;
}

std::chrono::year_month_day date_in(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return {};
  const int year = digits(text.substr(0, 4), 4), month = digits(text.substr(5, 2), 2), day = digits(text.substr(8), 2);
  if (year < 0 || month < 0 || day < 0) return {};
  return std::chrono::year(year) / month / day;
}

std::int64_t clock_in(std::string_view text) {
  if (text.size() != 5 || text[2] != ':') return -1;
  const int hours = digits(text.substr(0, 2), 2), minutes = digits(text.substr(3), 2);
  if (hours < 0 || minutes < 0 || minutes > 59) return -1;
  return hours * 3600 + minutes * 60;
}

}  // namespace

Problem wrong(std::string code, const std::string& expected, const TomlNode& node, const std::string& hint) {
  return {std::move(code), "", fmt::format("expected {}, found {}{}", expected, found(node), hint), ""};
}

// What to write instead of a bare number.
std::string with_unit(const TomlNode& node, std::string_view unit) {
  const bool real = node.kind == Kind::real;
  if (unit == "%")  // 0.08 was meant as 8 %
    return fmt::format(": write it in percent, \"{:.6g} %\"", real ? 100 * node.real : static_cast<double>(node.whole));
  const std::string number = real ? fmt::format("{}", node.real) : fmt::format("{}", node.whole);
  return fmt::format(": write the unit, \"{} {}\"", number, unit);
}

std::string found(const TomlNode& node) {
  switch (node.kind) {
    case Kind::text:
      return fmt::format("\"{}\"", node.text.size() > 60 ? node.text.substr(0, 60) + "..." : node.text);
    case Kind::whole:
      return fmt::format("the number {}", node.whole);
    case Kind::real:
      return fmt::format("the number {}", node.real);
    case Kind::flag:
      return node.flag ? "true" : "false";
    case Kind::date:
      return "a date";
    case Kind::clock:
      return "a time of day";
    case Kind::other:
      return "a date with a time";
    case Kind::list:
      return node.items.empty() ? "an empty list" : "a list";
    case Kind::table:
      return "a table";
  }
  return "something else";
}

std::string TextKind::expected() const {
  return "a text in quotes";
}

Result<std::string> TextKind::read(const TomlNode& node) const {
  if (node.kind != Kind::text) return wrong("wrong_type", expected(), node);
  const auto is_control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; };
  if (node.text.empty() || std::all_of(node.text.begin(), node.text.end(), [](char c) { return c == ' '; }))
    return wrong("bad_text", "a text in quotes that is not empty", node);
  if (node.text.size() > kLongestText) return wrong("bad_text", "a text of at most 200 bytes", node);
  if (std::any_of(node.text.begin(), node.text.end(), is_control))
    return Problem{"bad_text", "", "expected a text on one line, without tabs; found one with control characters", ""};
  return node.text;
}

std::string WholeKind::expected() const {
  return fmt::format("a whole number from {} to {}", range.least, range.most);
}

Result<std::int64_t> WholeKind::read(const TomlNode& node) const {
  if (node.kind == Kind::text) return wrong("wrong_type", expected() + " without quotes", node);
  if (node.kind != Kind::whole) return wrong("wrong_type", expected(), node);
  return in_range<std::int64_t>(node.whole, range, expected(), node);
}

std::string FlagKind::expected() const {
  return "true or false, without quotes";
}

Result<bool> FlagKind::read(const TomlNode& node) const {
  if (node.kind != Kind::flag) return wrong("wrong_type", expected(), node);
  return node.flag;
}

std::string LengthKind::expected() const {
  return fmt::format("a length in quotes with its unit (mm, cm, m, um, in, ft), from \"{} mm\" to \"{} mm\"",
                     range.least.v, range.most.v);
}

Result<Mm> LengthKind::read(const TomlNode& node) const {
  return in_range(read_amount<Mm>(node, expected(), "mm", parse_length), range, expected(), node);
}

std::string NominalKind::expected() const {
  return fmt::format("a size in quotes with its unit (mm, um, in), in whole nanometers, from \"{} mm\" to \"{} mm\"",
                     to_mm(range.least).v, to_mm(range.most).v);
}

Result<Nm> NominalKind::read(const TomlNode& node) const {
  return in_range(read_amount<Nm>(node, expected(), "mm", parse_nominal), range, expected(), node);
}

std::string TimeKind::expected() const {
  return fmt::format("a time in quotes with its unit (s, min, h, d), from \"{}\" to \"{}\"", show(range.least),
                     show(range.most));
}

Result<Seconds> TimeKind::read(const TomlNode& node) const {
  return in_range(read_amount<Seconds>(node, expected(), "min", parse_duration), range, expected(), node);
}

std::string ShareKind::expected() const {
  return fmt::format("a share in quotes in percent, from \"{:.6g} %\" to \"{:.6g} %\"", range.least * 100,
                     range.most * 100);
}

Result<double> ShareKind::read(const TomlNode& node) const {
  return in_range(read_amount<double>(node, expected(), "%", parse_share), range, expected(), node);
}

std::string NumberKind::expected() const {
  return fmt::format("a number from {} to {}, without quotes", range.least, range.most);
}

Result<double> NumberKind::read(const TomlNode& node) const {
  if (node.kind == Kind::whole) return in_range<double>(static_cast<double>(node.whole), range, expected(), node);
  if (node.kind != Kind::real || !std::isfinite(node.real)) return wrong("wrong_type", expected(), node);
  return in_range<double>(node.real, range, expected(), node);
}

std::string ChoiceKind::expected() const {
  return quoted_list(words);
}

Result<std::size_t> ChoiceKind::read(const TomlNode& node) const {
  if (node.kind != Kind::text) return wrong("wrong_type", expected(), node);
  const auto at = std::find(words.begin(), words.end(), node.text);
  if (at == words.end()) return wrong("bad_choice", expected(), node, did_you_mean(node.text, words));
  return static_cast<std::size_t>(at - words.begin());
}

std::string DateKind::expected() const {
  return "a date of the calendar, year-month-day, such as 2031-03-08";
}

Result<std::chrono::year_month_day> DateKind::read(const TomlNode& node) const {
  if (node.kind != Kind::date && node.kind != Kind::text) return wrong("wrong_type", expected(), node);
  const auto date = node.kind == Kind::date ? node.date : date_in(node.text);
  if (!date.ok()) return wrong("bad_date", expected(), node);
  return date;
}

std::string ClockKind::expected() const {
  return "a time of day from \"00:00\" to \"24:00\", such as \"18:30\"";
}

Result<Seconds> ClockKind::read(const TomlNode& node) const {
  if (node.kind != Kind::clock && node.kind != Kind::text) return wrong("wrong_type", expected(), node);
  const std::int64_t seconds = node.kind == Kind::clock ? node.clock_seconds : clock_in(node.text);
  if (seconds < 0 || seconds > 24 * 3600 || seconds % 60 != 0) return wrong("bad_clock", expected(), node);
  return Seconds{seconds};
}

std::string TripleKind::expected() const {
  return fmt::format("three whole numbers in brackets such as [4, 2, 0], none beyond {}", kMaxCoord);
}

Result<Vec> TripleKind::read(const TomlNode& node) const {
  if (node.kind != Kind::list) return wrong("wrong_type", expected(), node);
  if (node.items.size() != 3) return wrong("bad_count", expected(), node, fmt::format(" of {}", node.items.size()));
  for (const TomlNode& item : node.items) {
    if (item.kind != Kind::whole) return wrong("wrong_type", expected(), item);
    if (item.whole > kMaxCoord || item.whole < -kMaxCoord) return wrong("out_of_range", expected(), item);
  }
  return Vec{node.items[0].whole, node.items[1].whole, node.items[2].whole};
}

}  // namespace stickwright
