// cutting.h - the fewest sticks that the blocks of a batch can be sawn from.
#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "quantity/quantity.h"
#include "quantity/result.h"

namespace stickwright {

// Blocks that use up one length of stick each, kerf included.
struct Part {
  Nm length;
  int count = 0;
};

// Sticks of one length on the rack.
struct StickStock {
  Nm length;
  std::optional<int> count = 0;  // nullopt: as many as wanted
};

struct CuttingRules {
  Nm head;  // lost at the start of every stick
  Nm tail;  // the shortest end that is left: it cannot be held for a further cut
};

struct CutStick {
  Nm length;
  std::vector<int> parts;  // indices into the parts, equal ones together, in the order of cutting
  Nm left;                 // at the end of the stick, the tail included
};

struct CutPlan {
  Verdict verdict = Verdict::stopped;  // found: no plan uses fewer sticks; stopped: see bound
  std::vector<CutStick> sticks;
  int used() const { return static_cast<int>(sticks.size()); }
  int bound = 0;             // no plan can use fewer sticks than this
  bool is_shortest = false;  // proven: no plan with that many sticks uses up less length of stick
};

struct CuttingLimits {
  std::size_t patterns = 20'000;  // ways to fill one stick that are listed in full
  int nodes = 2'000;              // of each integer program
  double seconds = 0;             // of each integer program; 0: none, so that runs repeat
};

// Fewest sticks, then the least length of stick. A part uses up its length rounded up to whole micrometers.
//   errors   bad_part (length or count not > 0), bad_stock; stick_too_short (no stick takes this part: says how long
//   one
//            has to be); not_enough_sticks (the rack does not hold the batch: proven, or none found within the limits,
//            as it says)
//   exact    sums in nanometers. The number of sticks is proven where the plan meets the bound (by material, or by
//   prices
//            weighed in integers), or where the integer program over all ways to fill a stick is solved to the end
//   source   P. C. Gilmore, R. E. Gomory, "A linear programming approach to the cutting-stock problem", Operations
//   Research 9
//            (1961): one variable for each way to fill a stick, and new ways found by pricing
Result<CutPlan> plan_sticks(std::span<const Part> parts, std::span<const StickStock> stock, const CuttingRules& rules,
                            const CuttingLimits& limits = {});

// True when the plan saws all parts from sticks of the rack, equal parts of a stick together, and leaves every tail.
// Knows only the rules.
bool check_cut_plan(const CutPlan& plan, std::span<const Part> parts, std::span<const StickStock> stock,
                    const CuttingRules& rules);

}  // namespace stickwright
