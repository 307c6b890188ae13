// record_desk.h - what was measured, as it is typed, sent or stands in a table, made into readings for the ledger.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "answers/stop_readings.h"
#include "ledger/typed_value.h"

namespace stickwright {

// What is said of all readings of one call. Texts may be empty: not said.
struct ReadingNotes {
  std::string stick, wood, by;
  std::string instrument;  // empty: the shop's caliper
  std::string note;
  int block = 0;        // number written on the first block, the next ones count on; 0: not said
  bool inches = false;  // numbers without a unit are inches; else mm
};

// Everything that a reading is entered with, checked.
//   assumes  the plan outlives it
struct RecordDesk {
  const BatchPlan& plan;
  std::vector<StopPlace> places;  // the stop, or the widths that one entry may hold values of
  Reading blank;                  // all but the value
  Unit unit = Unit::mm;
  const StopPlace& place() const { return places.front(); }
  bool of_widths() const { return place().side > 0; }
  Wanted wanted() const { return wanted_at(plan, place()); }
};

// The stop, or the widths.
//   set_up   its id or number
//   stop     from 1; 0: the first
//   errors   unknown_set_up (also when it is empty), unknown_stop, no_width
Result<std::vector<StopPlace>> places_to_record(const BatchPlan& plan, const std::string& set_up, int stop,
                                                bool of_widths);

//   places   of places_to_record
//   errors   bad_text (no single line of UTF-8), unknown_wood
Result<RecordDesk> record_desk(const BatchPlan& plan, const std::vector<StopPlace>& places, const ReadingNotes& notes);

//   errors   those of parse_typed; impossible_value (more than 20 % off)
Result<Nm> read_value(const RecordDesk& desk, const std::string& text);

// The readings of a line. Of widths an entry "15.98/16.01" holds both of one block, "15.98" the first, "/16.01" the
// second.
//   errors   those of read_value; no_width (the block has no second one)
Result<std::vector<Reading>> read_line(const RecordDesk& desk, const std::string& line);

// One entry as a page or another program sends it. What it leaves out is as the desk has it.
struct SentReading {
  std::string text;        // as for read_line
  std::string client_key;  // the same key sent twice is stored once; empty: it is stored each time
  int block = 0;           // number written on the block; 0: not said
  std::string stick, wood, note;
  std::string taken_at;  // ISO 8601, UTC; empty: now
};

// Where one entry holds several readings, the second has its key with "/2" behind it, and so on.
//   errors   in entry k, from 0, `where` is "entries[k]": those of read_line and record_desk; bad_time, bad_block;
//            no_readings (of an entry, or no entries)
Result<std::vector<Reading>> read_sent(const RecordDesk& desk, std::span<const SentReading> entries);

// A table of text, each row with what the desk has where the row says nothing.
//   file     as mistakes name it
//   errors   those of read_csv and read_line, at their place in the table
Result<std::vector<Reading>> read_table(const RecordDesk& desk, const std::string& file, std::string_view text);

}  // namespace stickwright
