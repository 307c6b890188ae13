// history_answer.h - what the readings in the ledger say, stop by stop, told as JSON, as a table or in words.
#pragma once
#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "answers/stop_readings.h"

namespace stickwright {

// Readings of a set-up that the batch no longer has.
struct GoneReadings {
  std::string set_up;
  int stop = 1, side = 0;  // as Reading::stop, side
  std::size_t readings = 0;
};

struct LedgerHistory {
  std::filesystem::path ledger;     // empty: nothing has been recorded, there is no such file
  std::vector<StopReadings> stops;  // those with readings, in the order of the plan
  std::vector<GoneReadings> gone;   // only where all set-ups were asked for
};

//   set_up   its id or number; empty: all
//   stop     from 1; 0: all of them, and the widths
//   errors   unknown_set_up, unknown_stop; those of the ledger
Result<LedgerHistory> history_answer(const BatchPlan& plan, const std::filesystem::path& ledger,
                                     const std::string& set_up, int stop);

// Keys: docs/plan-json.md. Of one stop alone its keys stand at the head as well, so that a script that asked for it
// need not look further.
nlohmann::ordered_json history_json(const BatchPlan& plan, const LedgerHistory& history);
// A table of all readings with a row for the names of the columns: docs/ledger.md.
std::string history_csv(const LedgerHistory& history);
std::string history_report(const LedgerHistory& history);

}  // namespace stickwright
