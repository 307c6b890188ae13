// known_saw.h - what is known of the saw before the first cut: the shop file, the air, earlier records, and for the
// rest what is assumed. Every number with its uncertainty and where it comes from.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "batch/set_up.h"
#include "saw/state.h"
#include "truing/prediction.h"

namespace stickwright {

// What records of earlier cuts taught; what they say nothing about is left to the shop file.
struct Taught {
  std::array<std::optional<Estimate>, 4> errors;  // miter, tilt, roll, pitch, in radians
  std::optional<Estimate> seating;                // mm along the axis: how much one block differs from the next
};

// The state has one stick for each wood, and the shop's cradle, or a nominal one.
struct KnownSaw {
  ShopState state;
  std::vector<std::string> woods;
  std::vector<std::string> cautions;  // of the cradle, in words
};

//   woods    of the batch; at least one
//   source   docs/derivations/true-cuts.md; every number's own stands in it
KnownSaw known_saw(const Batch& batch, const std::vector<std::string>& woods, const Taught& taught = {});

// A stick as it was milled: widths and squareness.
StickOf<Estimate> known_stick(const Shop& shop, Mm stick);

// One reading by the shop's caliper: half a step of its scale to either side, and its repeat.
Estimate one_reading(const Caliper& caliper);

// The uncertainty of a stop: its stack, how it is pushed home, for a square one also its length and the way to the
// blade.
std::vector<BudgetInput> stop_parts(const Batch& batch, const GaugeSet& set, const StopPlan& stop);

// What is known of the saw while it cuts the blocks of a set-up: with its stops, and one seating for each cut.
ShopState state_at(const KnownSaw& saw, const Batch& batch, const GaugeSet& set, const SetUp& set_up);

// What the test of one stop should measure. Of the set-up's woods the one that moves most is taken.
Prediction predict_test(const KnownSaw& saw, const Batch& batch, const GaugeSet& set, const SetUp& set_up,
                        std::size_t stop, Draw draw = Draw::where_it_bends);

// The leaves of the shop file, known by what is printed on them.
std::vector<Leaf> leaves_of(const Shop& shop);

// Predictions and shim tables of all tests of all set-ups; their blocks must be counted.
void predict_tests(const KnownSaw& saw, const Batch& batch, const GaugeSet& set, std::vector<SetUp>& set_ups);

}  // namespace stickwright
