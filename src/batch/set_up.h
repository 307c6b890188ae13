// set_up.h - one block shape at the saw: its cuts, where the stop stands, what builds it up, and what proves it.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "block/catalogue.h"
#include "metrology/stack.h"
#include "quantity/quantity.h"
#include "saw/program.h"
#include "saw/test_block.h"
#include "shop/batch.h"
#include "truing/prediction.h"
#include "truing/shim_table.h"

namespace stickwright {

// A stop as it is set with gauge blocks.
struct StopPlan {
  Stop stop;
  Mm distance;                    // wanted, contact to blade plane along the axis
  std::optional<Mm> square_stop;  // length of the square-ended stop that is used; nothing: a mitered one is made
  Nm stack_target;
  Stack stack;
  std::vector<Nm> sizes;  // of the stack's blocks
  Mm error;               // distance that the stack gives minus distance wanted
  Mm u;                   // standard uncertainty of the stack
};

// What to measure to prove the stop.
struct TestPlan {
  TestBlock test;
  Mm length;              // stick that a stand-in uses up, kerf included; 0 when the block itself is measured
  Mm u_reading;           // standard uncertainty of one reading: caliper resolution (rectangular) and repeat
  Prediction prediction;  // what it should measure on this saw, and how well that is known
  std::vector<ShimRow> shim_table;
  Mm expected() const { return prediction.expected(); }
  // A reading that deviates from the target by no more than this to either side is left as it is.
  Mm leave_it() const;
};

struct SetUp {
  int shape = 0;  // index into Split::shapes
  Program program;
  std::vector<StopPlan> stops;                // as program.stops
  std::vector<TestPlan> tests;                // one a stop
  Mm stick_per_block;                         // length used up, kerf included
  std::map<std::string, int> needed, spares;  // blocks by wood
  bool stop_stands = false;                   // the first stop stands already, from the set-up before
  bool leave_standing = false;                // the set-up after begins with one of these stops
  // The block has two parallel sawn faces of its own to measure across.
  bool measurable() const { return tests.front().test.extra.empty(); }
  // Readings while cutting: one block in so many, or a test piece from the first stick of each wood.
  int readings(int one_in) const;
  int blocks() const;  // spares included
  int cuts() const { return static_cast<int>(program.cuts.size()) * blocks(); }
};

// What the shop's sled allows of a cut program for the batch's stick.
PlanLimits plan_limits(const Batch& batch);

// The set of gauge blocks that the shop file names, less the missing ones, with the lengths of the worn ones.
Result<GaugeSet> gauge_set_of(const Shop& shop);

// How far a stack may miss: as the shop says, else half the finest step of the set, at least a micrometer.
Nm stack_allowance(const Shop& shop, const GaugeSet& set);

// Everything about one shape but the number of blocks.
//   errors   no_program (every way brings the blade nearer to the stop than the shop allows), no_test, and those of
//            build_stacks; for a square stop also no_square_stop
Result<SetUp> plan_set_up(const Batch& batch, const GaugeSet& set, const Block& block, int shape);

}  // namespace stickwright
