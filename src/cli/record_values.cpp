#include "cli/record_values.h"

#include <fmt/core.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "ledger/reading_csv.h"
#include "text/utf8.h"
#include "wood/species.h"

namespace stickwright {
namespace {

constexpr double kImpossible = 0.2;  // share of the size by which no block is off: a slip, or the wrong set-up

std::optional<Problem> impossible(const RecordDesk& desk, Nm value) {
  const double wanted = desk.wanted().size, mm = to_mm(value).v;
  const auto is_near = [&](double x) { return std::abs(x - wanted) <= kImpossible * wanted; };
  if (is_near(mm)) return std::nullopt;
  return Problem{"impossible_value", "",
                 fmt::format("{:.3f} mm is more than {:.0f} % off the {:.3f} mm that {}, {}, is to measure{}", mm,
                             100 * kImpossible, wanted, desk.place().id,
                             desk.of_widths() ? "across two sides of the stick" : desk.place().size(),
                             is_near(mm * kMmPerInch) ? "; if it was inches, say --inches" : ""),
                 ""};
}

Result<std::string> wood_named(const std::string& name) {
  if (name.empty()) return name;
  const auto species = find_species(name);
  if (!species) return species.problem();
  return std::string(species.value()->name);
}

// The reading of one of the widths of a block, the second of two if another stands before it.
Reading width_reading(const RecordDesk& desk, std::size_t which, Nm value, bool second) {
  Reading r = desk.blank;
  r.side = desk.places[which].side;
  r.value = value;
  if (second && r.block == kNextBlock) r.block = kSameBlock;
  return r;
}

Problem no_second_width(const RecordDesk& desk) {
  if (!desk.of_widths()) return {"no_width", "", "a second value is for widths: say --width", ""};
  return {"no_width", "",
          fmt::format("the cuts leave {} one pair of the stick's sides only: one value a block", desk.place().id), ""};
}

// "15.98/16.01", "15.98", "/16.01": adds the readings of one block.
std::optional<Problem> read_widths(const RecordDesk& desk, const std::string& text, std::vector<Reading>& out) {
  const std::size_t slash = text.find('/');
  const bool has_second = slash != std::string::npos, has_first = slash != 0;
  if (has_second && desk.places.size() < 2) return no_second_width(desk);
  if (has_first) {
    const auto value = read_value(desk, text.substr(0, slash));
    if (!value) return value.problem();
    out.push_back(width_reading(desk, 0, value.value(), false));
  }
  if (has_second) {
    const auto value = read_value(desk, text.substr(slash + 1));
    if (!value) return value.problem();
    out.push_back(width_reading(desk, 1, value.value(), has_first));
  }
  return {};
}

Result<CsvReadings> open_csv(const RecordDesk& desk) {
  const std::string& file = desk.options.csv;
  std::error_code error;
  std::ifstream in(file, std::ios::binary);
  if (!in.is_open() || std::filesystem::is_directory(file, error))
    return Problem{"no_file", file, "is no file that can be read; is the name right?", ""};
  std::stringstream all;
  all << in.rdbuf();
  return read_csv(file, all.str(), desk.unit());
}

// A row of the table, with what the command line says where the row says nothing.
Result<Reading> completed(const RecordDesk& desk, const CsvReading& row) {
  Reading r = desk.blank;
  r.value = row.reading.value;
  r.entered = Entered::csv;
  r.taken_at = row.reading.taken_at;
  const auto wood = wood_named(row.reading.wood);
  if (!wood) return wood.problem();
  if (auto problem = impossible(desk, r.value)) return *problem;
  if (!wood.value().empty()) r.wood = wood.value();
  if (!row.reading.stick.empty()) r.stick = row.reading.stick;
  if (!row.reading.note.empty()) r.note = row.reading.note;
  if (row.reading.block > 0) r.block = row.reading.block;
  return r;
}

Result<std::vector<Reading>> read_csv_file(const RecordDesk& desk) {
  const auto csv = open_csv(desk);
  if (!csv) return csv.problem();
  const Source& source = csv.value().source;
  std::vector<Reading> readings;
  for (const CsvReading& row : csv.value().readings) {
    auto r = completed(desk, row);
    if (!r) return problem_at(source, row.at, r.problem().code, r.problem().say);
    readings.push_back(r.value());
    if (!row.value_2) continue;
    auto problem = desk.places.size() < 2 ? std::optional(no_second_width(desk)) : impossible(desk, *row.value_2);
    if (problem) return problem_at(source, row.at_2, problem->code, problem->say);
    readings.push_back(r.value());
    readings.back().side = desk.places[1].side;
    readings.back().value = *row.value_2;
    if (readings.back().block == kNextBlock) readings.back().block = kSameBlock;
  }
  return readings;
}

}  // namespace

Result<Nm> read_value(const RecordDesk& desk, const std::string& text) {
  const auto value = parse_typed(text, desk.unit());
  if (!value) return value.problem();
  if (auto problem = impossible(desk, value.value())) return *problem;
  return value.value();
}

Result<std::vector<Reading>> read_line(const RecordDesk& desk, const std::string& line) {
  std::vector<Reading> readings;
  for (const std::string& text : split_typed(line)) {
    const std::size_t before = readings.size();
    if (desk.of_widths()) {
      if (auto problem = read_widths(desk, text, readings)) return *problem;
    } else {
      const auto value = read_value(desk, text);
      if (!value) return value.problem();
      readings.push_back(desk.blank);
      readings.back().value = value.value();
    }
    if (desk.blank.block > 0 && before > 0)
      for (std::size_t i = before; i < readings.size(); ++i) readings[i].block = readings[before - 1].block + 1;
  }
  return readings;
}

Result<std::vector<Reading>> read_all(const RecordDesk& desk, KeyedLines* keys) {
  if (!desk.options.csv.empty()) return read_csv_file(desk);
  std::string text;
  if (keys)
    for (std::string line; keys->next(line);) text += line + "\n";
  for (const std::string& value : desk.options.values) text += value + "\n";
  auto readings = read_line(desk, text);
  if (readings && readings.value().empty())
    return Problem{"no_readings", "", "There is nothing to record: give readings after the set-up, or one a line.", ""};
  return readings;
}

Result<Reading> blank_reading(const Options& o, const BatchPlan& plan, const StopPlace& place) {
  for (const std::string& text : {o.stick, o.by, o.instrument, o.note})
    if (!is_one_line(text)) return Problem{"bad_text", "", "A name or a note has to be one line of UTF-8 text.", ""};
  const auto wood = wood_named(o.wood);
  if (!wood) return wood.problem();
  Reading r;
  r.set_up = place.id;
  r.stop = place.number();
  r.side = place.side;
  r.stick = o.stick;
  r.wood = wood.value();
  const SetUp& s = plan.set_ups[place.set_up];
  const bool numbered = place.side > 0 || o.block > 0;
  // Numbers count by wood, so it is written down even where there is only one.
  if (numbered && r.wood.empty() && s.needed.size() == 1) r.wood = s.needed.begin()->first;
  r.block = o.block > 0 ? o.block : place.side > 0 ? kNextBlock : 0;
  r.instrument = o.instrument.empty() ? plan.batch.shop.caliper.name : o.instrument;
  r.by = o.by;
  r.note = o.note;
  return r;
}

}  // namespace stickwright
