#include "answers/record_checks.h"
#include "answers/record_desk.h"
#include "ledger/reading_csv.h"

namespace stickwright {
namespace {

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

}  // namespace

Result<std::vector<Reading>> read_table(const RecordDesk& desk, const std::string& file, std::string_view text) {
  const auto csv = read_csv(file, text, desk.unit);
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

}  // namespace stickwright
