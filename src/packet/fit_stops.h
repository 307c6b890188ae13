// fit_stops.h - what the fit of the puzzles asks of a stop, for the card that it is set from.
#pragma once
#include <string>

#include "batch/full_plan.h"

namespace stickwright {

// How exactly the stop has to stand, along the stick and across flats on its test block.
//   returns  empty where no puzzle asks more than a stop keeps anyway
std::string needed_in_words(const FullPlan& plan, const SetUp& set_up, std::size_t stop);

// What to add to the stop for the play that is asked for, puzzle by puzzle where they differ; the gauge blocks on the
// card do not hold it.
//   returns  empty where it is nothing that can be told
std::string allowance_on_card(const FullPlan& plan, const SetUp& set_up, std::size_t stop);

}  // namespace stickwright
