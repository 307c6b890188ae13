// say.h - what all verbs print alike.
#pragma once
#include <nlohmann/json_fwd.hpp>

#include "quantity/result.h"

namespace stickwright {

// Prints a problem to stderr, with the line of the file and a caret.   returns  kBadInput, or kNotFinished for a search
// that stopped, a file that could not be written, or a file or port that is held by another program
int tell(const Problem& problem);

// Prints one JSON document to stdout.
void print_json(const nlohmann::ordered_json& document);

}  // namespace stickwright
