// stop_readings.h - the readings of one stop, or of one width of a block, out of the ledger, and what they say. What
// `record`, `history` and `correct` have in common.
#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "batch/plan.h"
#include "ledger/ledger.h"
#include "metrology/run_advice.h"

namespace stickwright {

// A size that is read: what a stop of a set-up proves, or the width of its blocks across two sides of the stick.
struct StopPlace {
  std::size_t set_up = 0;                                                   // index into BatchPlan::set_ups
  std::size_t stop = 0;                                                     // index into SetUp::stops
  std::string id;                                                           // of the set-up
  std::string name;                                                         // "squat octahedron"
  int side = 0;                                                             // 1 or 2: a width, and no stop
  int number() const { return side > 0 ? 0 : static_cast<int>(stop) + 1; }  // as Reading::stop
  std::string size() const;                                                 // "stop 1", "width 2"
};

//   text     names the set-up, as for find_set_up
//   stop     from 1; 0: the first
//   errors   unknown_set_up, unknown_stop
Result<StopPlace> find_stop(const BatchPlan& plan, const std::string& text, int stop);
// The widths that its blocks can be measured across.
//   errors   unknown_set_up; no_width: the cuts leave no two sides of the stick that lie opposite
Result<std::vector<StopPlace>> find_widths(const BatchPlan& plan, const std::string& text);
std::vector<StopPlace> all_stops(const BatchPlan& plan);
// Stops, then widths of each set-up.
std::vector<StopPlace> all_places(const BatchPlan& plan);

Wanted wanted_at(const BatchPlan& plan, const StopPlace& place);

struct StopReadings {
  StopPlace place;
  Wanted wanted;
  std::vector<KeptReading> kept;      // all, in order
  std::vector<KeptLeaf> leaves;       // put under this stop, not withdrawn
  std::vector<std::size_t> standing;  // of `kept`: not withdrawn, written after the last leaf. The report is of these
  RunReport report;
  double mm(std::size_t k) const { return to_mm(*kept[standing[k]].value()).v; }
  std::vector<double> all_mm() const;
};

// Errors as of the ledger.
Result<StopReadings> readings_at(Ledger& ledger, const BatchPlan& plan, const StopPlace& place);

nlohmann::ordered_json stop_readings_json(const StopReadings& s);

// Whether to go on, in plain words; then the numbers, the signals and what to look at.
std::string advice_line(const StopReadings& s);  // "Go on. All is ..."
std::string stop_readings_report(const StopReadings& s);
// One line a reading: a chart of plain characters, and what was corrected.
std::string text_chart(const StopReadings& s);

}  // namespace stickwright
