// truing_asked.h - what the page sends of a truing, and what it needs to ask for it. Private to this room.
#pragma once
#include <nlohmann/json.hpp>

#include "answers/truing_answer.h"
#include "serve/batch_asked.h"
#include "serve/given.h"

namespace stickwright {

// The gaps and readings of a call, under the keys of a truing file: docs/files.md.
//   errors   those of a truing file; `where` is the path of the key, "readings[2].gap"
Result<std::vector<Observation>> observations_given(const Given& body, const Caliper& caliper);

// Ways to look at the saw, what each asks for, and what is prepared for the readings.
nlohmann::ordered_json looks_json();
nlohmann::ordered_json prepared_json(const Batch& batch);

}  // namespace stickwright
