// gluing_reading.h - reads the optional tables about gluing, fit and the customer. Private to this room.
#pragma once
#include <optional>

#include "shop/gluing_means.h"
#include "text/toml_reader.h"

namespace stickwright {

GlueMeans read_glue(const Table& table);
FitMeans read_fit_means(const Table& table);
// Reads [fit] of a batch. Notes bad_play (not least_play <= play <= most_play).
FitAsked read_fit_asked(const Document& document);
// Notes wrong_count (a list that is not of twelve).
std::optional<Customer> read_customer(const Table& table);

}  // namespace stickwright
