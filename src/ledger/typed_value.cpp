#include "ledger/typed_value.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>

namespace stickwright {
namespace {

constexpr double kLongestMm = 10'000;

bool is_blank(char c) {
  return static_cast<unsigned char>(c) <= ' ';
}
bool parts_values(char c) {
  return is_blank(c) || c == ';';
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

// Text that a message can show: no control characters, not too long.
std::string shown(std::string_view text) {
  std::string out(text.substr(0, 40));
  for (char& c : out)
    if (static_cast<unsigned char>(c) < ' ' || c == 127) c = '?';
  if (text.size() > 40) out += "...";
  return out;
}

Problem bad_value(std::string_view text) {
  return {"bad_value", "",
          fmt::format("\"{}\" is not a reading: expected a number such as 16.02, 16,02 or 0.6307 in", shown(text)), ""};
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

bool is_unit(std::string_view text) {
  const std::string unit = lower(text);
  return unit == "mm" || unit == "in" || unit == "inch" || unit == "\"";
}

bool is_number_letter(char c) {
  return (c >= '0' && c <= '9') || c == '.' || c == ',';
}

}  // namespace

Result<Nm> parse_typed(std::string_view text, Unit unit) {
  std::string_view rest = trimmed(text);
  if (!rest.empty() && rest.front() == '+') rest.remove_prefix(1);
  const auto end = std::find_if_not(rest.begin(), rest.end(), is_number_letter);
  std::string number(rest.begin(), end);
  const std::string_view mark = trimmed(rest.substr(number.size()));
  if (!mark.empty() && !is_unit(mark)) return bad_value(text);
  if (std::count_if(number.begin(), number.end(), [](char c) { return c == '.' || c == ','; }) > 1)
    return bad_value(text);
  std::replace(number.begin(), number.end(), ',', '.');
  double value = 0;
  const auto read = std::from_chars(number.data(), number.data() + number.size(), value);
  if (read.ec != std::errc() || read.ptr != number.data() + number.size()) return bad_value(text);
  const bool inches = mark.empty() ? unit == Unit::inch : lower(mark) != "mm";
  const Mm length{inches ? value * kMmPerInch : value};
  if (!(length.v > 0 && length.v <= kLongestMm)) return bad_value(text);
  return to_nm(length);
}

std::vector<std::string> split_typed(std::string_view line) {
  std::vector<std::string> values;
  for (std::size_t i = 0; i < line.size();) {
    if (parts_values(line[i])) {
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < line.size() && !parts_values(line[end])) ++end;
    const std::string_view word = line.substr(i, end - i);
    if (is_unit(word) && !values.empty())
      values.back().append(1, ' ').append(word);
    else
      values.emplace_back(word);
    i = end;
  }
  return values;
}

}  // namespace stickwright
