// batch_asked.h - what all calls about one batch and its ledger have in common. Private to this room.
#pragma once
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "answers/stop_readings.h"
#include "serve/call.h"
#include "serve/workbench.h"

namespace stickwright {

struct BatchAsked {
  std::string name;  // of its file, in the folder
  Shared<BatchPlan> plan;
  std::filesystem::path ledger;  // in the folder; it need not be there
  bool has_ledger() const;
};

// `fresh` plans know of every reading in the ledger; those at hand may not, and are there at once.
enum class PlanAge { fresh, at_hand };

//   errors   those of the folder and of the plan; missing_key when there is no name
Result<BatchAsked> batch_asked(Workbench& bench, const std::string& name, PlanAge age);

// A whole number of the query.   returns  `otherwise` when it was not given   errors  wrong_type, out_of_range
Result<int> number_asked(const Call& call, const std::string& key, int least, int most, int otherwise);
// "true" or "1" of the query, "false", "0" or nothing.   errors  wrong_type
Result<bool> flag_asked(const Call& call, const std::string& key);

// The same without members that are an empty text or an empty list, which say as much as nothing.
nlohmann::json without_empty(const nlohmann::json& value);

// A problem that speaks of options of the command line, in the words of the page.
Problem for_the_page(Problem problem);

// What the ledger says now of these places; nothing of a ledger that is not there, which is not made.
Result<std::vector<StopReadings>> readings_now(const BatchAsked& batch, const std::vector<StopPlace>& places);

// As `history` and `record` tell it, and: "name" of the block, "size" ("stop 1"), "says" whether to go on, "light",
// and of every reading that counts its "place" in the order, from 0.
nlohmann::ordered_json stop_on_the_page(const StopReadings& s);
// "go", "watch" or "stop" as the run report advises; "unknown" without readings.
std::string light_of(const StopReadings& s);
// The gravest of them, "stop" before "watch" before "go"; "unknown" when there is no other.
std::string gravest_light(const std::vector<StopReadings>& all);

nlohmann::ordered_json truings_json(const std::vector<KeptTruing>& truings);

}  // namespace stickwright
