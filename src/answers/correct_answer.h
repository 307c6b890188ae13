// correct_answer.h - a test block was measured: what to do about the stop, computed once, told as JSON or in words.
#pragma once
#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "answers/stop_readings.h"
#include "truing/correct.h"

namespace stickwright {

struct StopCorrection {
  StopPlace place;
  Correction correction;
  // When the stop is to be made anew: with which stack, or why there is none.
  std::optional<Result<StopPlan>> anew;
  int readings = 0;
  double mean_mm = 0;
  // What is left at the stop with the leaves put in; a stop that is made anew is not counted here.
  Mm remaining() const { return correction.error - to_mm(correction.shim.total); }
};

// What was measured across flats at a stop, as it was typed; a number without a unit is in mm.
//   returns  as many, in order
//   errors   bad_reading (says what stands there, also of a size that this test block cannot have)
Result<std::vector<Mm>> measured_as_typed(const BatchPlan& plan, const StopPlace& place,
                                          const std::vector<std::string>& texts);

//   place     a stop, no width
//   ledger    its readings of all other stops count, too; a file that does not exist says nothing
//   measured  at the stop; when nothing was, the readings of it in the ledger
//   errors    those of the ledger; no_readings (none given, none written)
//   source    docs/derivations/correcting.md
Result<StopCorrection> correct_answer(const BatchPlan& plan, const std::filesystem::path& ledger,
                                      const StopPlace& place, const std::vector<Mm>& measured);

// Keys: docs/plan-json.md.
nlohmann::ordered_json correction_json(const BatchPlan& plan, const StopCorrection& answer);
std::string correction_report(const BatchPlan& plan, const StopCorrection& answer);

// Writes into the ledger that the leaf was put in: the stop's readings count from there.
//   returns  nothing when no leaf is to go in, and nothing was written
//   errors   those of the ledger
Result<std::optional<Stored>> keep_correction(const std::filesystem::path& ledger, const StopCorrection& answer,
                                              const std::string& by, const std::string& note);

}  // namespace stickwright
