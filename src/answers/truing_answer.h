// truing_answer.h - how the saw is off and which leaf trues it, computed once, told as JSON or in words.
#pragma once
#include <array>
#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "ledger/entries.h"
#include "shop/batch.h"
#include "truing/turn.h"

namespace stickwright {

struct TruingAnswer {
  std::vector<Observation> readings;
  std::vector<Leaf> leaves;  // of the shop: what TurnBack::shim counts in
  Alignment found;
  std::array<TurnBack, 4> turns;  // by Error
  const TurnBack& turn(Error e) const { return turns[static_cast<std::size_t>(e)]; }
};

//   readings  at least one (truing_readings)
//   source    docs/derivations/truing.md
TruingAnswer truing_answer(const Batch& batch, std::vector<Observation> readings);

// The readings scatter so much more than their uncertainties say that there must be a mistake among them.
bool readings_contradict(const TruingAnswer& answer);
// Which one to look at first, in words.   assumes  readings_contradict
std::string contradiction_in_words(const TruingAnswer& answer);

// Keys: docs/plan-json.md.
nlohmann::ordered_json truing_json(const TruingAnswer& answer);
std::string truing_report(const TruingAnswer& answer);

// Writes into the ledger how the saw is when the advice is followed.
//   errors   readings_contradict; those of the ledger
Result<Stored> keep_truing(const std::filesystem::path& ledger, const TruingAnswer& answer, const std::string& by,
                           const std::string& note);

}  // namespace stickwright
