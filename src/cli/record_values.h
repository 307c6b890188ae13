// record_values.h - what `record` is given: values on the command line, in a table, a pipe or at the keyboard.
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "answers/stop_readings.h"
#include "cli/keyed_lines.h"
#include "cli/verbs.h"
#include "ledger/typed_value.h"

namespace stickwright {

// Everything that a reading is entered with, checked.
struct RecordDesk {
  const Options& options;
  const BatchPlan& plan;
  std::vector<StopPlace> places;  // the stop, or the widths that one entry may hold values of
  Reading blank;                  // all but the value
  const StopPlace& place() const { return places.front(); }
  bool of_widths() const { return place().side > 0; }
  Unit unit() const { return options.inches ? Unit::inch : Unit::mm; }
  Wanted wanted() const { return wanted_at(plan, place()); }
  std::filesystem::path file() const { return ledger_path(options.file); }
};

//   errors   those of parse_typed; impossible_value (more than 20 % off)
Result<Nm> read_value(const RecordDesk& desk, const std::string& text);

// The readings of a line. Of widths an entry "15.98/16.01" holds both of one block, "15.98" the first, "/16.01" the
// second.
//   errors   those of read_value; no_width (the block has no second one)
Result<std::vector<Reading>> read_line(const RecordDesk& desk, const std::string& line);

// All that stands on the command line, in the file or in the pipe: it is stored whole or not at all.
//   errors   also those of read_csv; no_file; no_readings
Result<std::vector<Reading>> read_all(const RecordDesk& desk, KeyedLines* keys);

// What every reading of this call has in common.
//   errors   bad_text; unknown_wood
Result<Reading> blank_reading(const Options& options, const BatchPlan& plan, const StopPlace& place);

}  // namespace stickwright
