#include "ledger/reading_csv.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <optional>
#include <set>

#include "text/nearest.h"
#include "text/utf8.h"

namespace stickwright {
namespace {

const std::vector<std::string> kColumns = {"value", "value_2", "block", "stick", "wood", "note", "at"};

struct Field {
  std::string text;
  int column = 1;  // in characters
};

bool starts_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
}

std::string trimmed(std::string text) {
  const auto from = text.find_first_not_of(" \t");
  if (from == std::string::npos) return "";
  return text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

// Splits one line. Nothing when a quote does not end; `column` then says where it began.
std::optional<std::vector<Field>> split(const std::string& line, char mark, int& column) {
  std::vector<Field> fields = {{"", 1}};
  bool quoted = false;
  int at = 0, quote_at = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    at += starts_character(c);
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      fields.back().text += '"';
      ++i, ++at;
    } else if (c == '"' && (quoted || trimmed(fields.back().text).empty())) {
      quoted = !quoted;
      quote_at = at;
    } else if (c == mark && !quoted) {
      fields.push_back({"", at + 1});
    } else {
      fields.back().text += c;
    }
  }
  column = quote_at;
  if (quoted) return std::nullopt;
  for (Field& f : fields) f.text = trimmed(f.text);
  return fields;
}

struct Reader {
  const Source& source;
  Unit unit;
  char mark = ',';
  std::vector<std::string> columns;

  Problem wrong(std::size_t line, int column, std::string code, std::string say) const {
    return problem_at(source, {static_cast<int>(line) + 1, column}, std::move(code), std::move(say));
  }

  Result<std::vector<Field>> fields_of(std::size_t line) const {
    int column = 1;
    auto fields = split(source.lines[line], mark, column);
    if (!fields) return wrong(line, column, "bad_csv", "this quote does not end on its line");
    return *fields;
  }

  std::optional<Problem> read_head(std::size_t line) {
    mark = source.lines[line].find(';') == std::string::npos ? ',' : ';';
    const auto fields = fields_of(line);
    if (!fields) return fields.problem();
    std::set<std::string> seen;
    for (const Field& f : fields.value()) {
      if (std::find(kColumns.begin(), kColumns.end(), f.text) == kColumns.end())
        return wrong(line, f.column, "bad_csv",
                     fmt::format("there is no column \"{}\"{}; the first row names columns out of {}", f.text,
                                 did_you_mean(f.text, kColumns), quoted_list(kColumns, "and")));
      if (!seen.insert(f.text).second) return wrong(line, f.column, "bad_csv", "this column is named twice");
      columns.push_back(f.text);
    }
    if (!seen.contains("value")) return wrong(line, 1, "bad_csv", "the first row names no column \"value\"");
    return std::nullopt;
  }

  std::optional<Problem> take(CsvReading& r, const std::string& column, const Field& f, std::size_t line) const {
    if (column == "value") {
      const auto value = parse_typed(f.text, unit);
      if (!value) return wrong(line, f.column, value.problem().code, value.problem().say);
      r.reading.value = value.value();
      r.at = {static_cast<int>(line) + 1, f.column};
    }
    if (column == "value_2" && !f.text.empty()) {
      const auto value = parse_typed(f.text, unit);
      if (!value) return wrong(line, f.column, value.problem().code, value.problem().say);
      r.value_2 = value.value();
      r.at_2 = {static_cast<int>(line) + 1, f.column};
    }
    if (column == "block" && !f.text.empty()) {
      const auto [end, error] = std::from_chars(f.text.data(), f.text.data() + f.text.size(), r.reading.block);
      if (error != std::errc() || end != f.text.data() + f.text.size() || r.reading.block < 1)
        return wrong(line, f.column, "bad_block", "expected the number that is written on the block, from 1");
    }
    if (column == "at" && !f.text.empty() && !is_time(f.text))
      return wrong(line, f.column, "bad_time", "expected a time such as 2031-02-04T18:30:00Z, in UTC");
    if (column == "stick") r.reading.stick = f.text;
    if (column == "wood") r.reading.wood = f.text;
    if (column == "note") r.reading.note = f.text;
    if (column == "at") r.reading.taken_at = f.text;
    return std::nullopt;
  }

  Result<CsvReading> read_row(std::size_t line) const {
    const auto fields = fields_of(line);
    if (!fields) return fields.problem();
    if (fields.value().size() > columns.size())
      return wrong(
          line, fields.value()[columns.size()].column, "bad_csv",
          fmt::format("this row has {} fields, the first row names {} columns", fields.value().size(), columns.size()));
    CsvReading r;
    r.reading.entered = Entered::csv;
    for (std::size_t k = 0; k < columns.size(); ++k) {
      const Field missing{"", static_cast<int>(source.lines[line].size()) + 1};
      const Field& f = k < fields.value().size() ? fields.value()[k] : missing;
      if (auto problem = take(r, columns[k], f, line)) return *problem;
    }
    return r;
  }
};

// Whole number of so many digits at the start, taken off.
std::optional<int> digits(std::string_view& text, std::size_t count) {
  if (text.size() < count) return std::nullopt;
  int n = 0;
  for (const char c : text.substr(0, count)) {
    if (c < '0' || c > '9') return std::nullopt;
    n = 10 * n + (c - '0');
  }
  text.remove_prefix(count);
  return n;
}

bool mark_off(std::string_view& text, std::string_view marks) {
  if (text.empty() || marks.find(text.front()) == std::string_view::npos) return false;
  text.remove_prefix(1);
  return true;
}

bool is_clock(std::string_view text) {
  const auto hour = digits(text, 2);
  if (!hour || *hour > 23 || !mark_off(text, ":")) return false;
  const auto minute = digits(text, 2);
  if (!minute || *minute > 59) return false;
  if (mark_off(text, ":")) {
    const auto second = digits(text, 2);
    if (!second || *second > 59) return false;
  }
  mark_off(text, "Z");
  return text.empty();
}

}  // namespace

bool is_time(std::string_view text) {
  const auto year = digits(text, 4);
  if (!year || !mark_off(text, "-")) return false;
  const auto month = digits(text, 2);
  if (!month || !mark_off(text, "-")) return false;
  const auto day = digits(text, 2);
  if (!day) return false;
  const std::chrono::year_month_day date{std::chrono::year(*year), std::chrono::month(static_cast<unsigned>(*month)),
                                         std::chrono::day(static_cast<unsigned>(*day))};
  if (!date.ok()) return false;
  return text.empty() || (mark_off(text, "T ") && is_clock(text));
}

Result<CsvReadings> read_csv(std::string file, std::string_view text, Unit unit) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // spreadsheets begin a file so
  CsvReadings out;
  out.source = make_source(std::move(file), text);
  if (const auto at = first_not_utf8(text)) {
    Problem problem =
        problem_at(out.source, *at, "bad_csv", "this is not UTF-8 text; save the file with the encoding UTF-8");
    problem.excerpt.clear();  // the line cannot be shown as it is
    return problem;
  }
  Reader reader{out.source, unit, ',', {}};
  for (std::size_t line = 0; line < out.source.lines.size(); ++line) {
    if (trimmed(out.source.lines[line]).empty()) continue;
    if (reader.columns.empty()) {
      if (auto problem = reader.read_head(line)) return *problem;
      continue;
    }
    auto row = reader.read_row(line);
    if (!row) return row.problem();
    out.readings.push_back(row.take());
  }
  if (out.readings.empty()) return Problem{"no_readings", out.source.file, "There is no reading in this file.", ""};
  return out;
}

}  // namespace stickwright
