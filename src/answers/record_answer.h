// record_answer.h - readings are written into the ledger, corrected, withdrawn, and what they say now.
#pragma once
#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "answers/record_desk.h"

namespace stickwright {

struct RecordedEntry {
  Stored stored;
  std::optional<Nm> value;  // none: it withdraws another, or see record_readings
  int side = 0;             // of a width
};

struct Recorded {
  std::vector<RecordedEntry> entries;
  // Each place of the desk as it is now; a problem when the ledger could not be read again. What is stored stays so.
  Result<std::vector<StopReadings>> now;
};

// Stores all of them or none.
//   readings  of read_line, read_sent or read_table; at least one
//   returns   one entry for each, in order. Of a client key that was there (Stored::was_there) nothing new is written,
//             and the value is the one that was written first; none when that was at another place
//   errors    those of the ledger
Result<Recorded> record_readings(Ledger& ledger, const RecordDesk& desk, const std::vector<Reading>& readings);

// What the ledger says now of all places of a desk.   errors  those of the ledger
Result<std::vector<StopReadings>> read_back(Ledger& ledger, const BatchPlan& plan,
                                            const std::vector<StopPlace>& places);

struct EntryChange {
  EntryId id = 0;         // of a reading, or of an earlier change of it
  bool withdraw = false;  // it does not count; else `value` is what it should have been
  std::string value;      // as typed
  bool inches = false;    // a number without a unit is inches; else mm
  std::string by, note;
  bool once = false;  // when the newest change of the reading says just this, nothing is written (Stored::was_there)
};

struct ChangedEntry {
  EntryId reading = 0;  // that the change is about
  Recorded recorded;    // one entry
};

//   errors   unknown_entry (also when there is no ledger), bad_value (also when it is missing), impossible_value; those
//            of the ledger; of a set-up that the batch no longer has, unknown_set_up, unknown_stop, no_width
Result<ChangedEntry> change_entry(const BatchPlan& plan, const std::filesystem::path& ledger,
                                  const EntryChange& change);

// Keys: docs/plan-json.md. Of a stop its keys stand at the head; of widths there may be two. An entry whose client key
// was there has "was_there": true besides.
//   assumes  recorded.now is no problem
nlohmann::ordered_json recorded_json(const Recorded& recorded);

}  // namespace stickwright
