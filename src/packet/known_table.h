// known_table.h - what is known of the saw, number by number, as rows of a table.
#pragma once
#include <vector>

#include "batch/known_saw.h"
#include "packet/page.h"

namespace stickwright {

// What, best value, standard uncertainty, source. Angles in degrees. What is the same for all woods, or for both widths
// of a stick, has one row; what is certain and zero has none.
std::vector<Row> known_rows(const KnownSaw& saw);

extern const std::vector<Column> kKnownColumns;

}  // namespace stickwright
