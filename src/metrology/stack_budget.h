// stack_budget.h - how long a stack of gauge blocks is on the bench, and how well that is known.
#pragma once
#include <string>
#include <vector>

#include "metrology/budget.h"
#include "metrology/stack.h"

namespace stickwright {

// Steel gauge blocks.
//   source   ISO 3650:1998, coefficient (11.5 +- 1.0) 1e-6 /K, from memory; 11.5e-6 is also the value of JCGM 100:2008,
//   H.1
inline constexpr double kBlockExpansion = 11.5e-6, kBlockExpansionHalfWidth = 1.0e-6;  // /K
inline constexpr double kReferenceCelsius = 20;                                        // ISO 1

// How much a wrung joint may be off to either side. The nominal length of a block takes in one film, so it is no
// correction. Common practice (about 0.025 um a joint, from memory), no source.
inline constexpr double kWringingUm = 0.025;

struct StackLength {
  double value_mm = 0;             // at the temperature: the total, lengthened or shortened
  std::vector<BudgetInput> lines;  // sensitivities for a result in mm
};

// The lines that a stack adds to the budget of a stop: one a block, the joints, the temperature of the blocks, their
// expansion, and the product of the two.
//   stack    of this set
//   celsius  temperature of the blocks in degrees Celsius, with its uncertainty
//   assumes  blocks of steel, all of one temperature; no wear but that of blocks known to be worn
//   not for  dirt, and stops whose other parts expand by themselves
StackLength stack_budget(const Stack& stack, const GaugeSet& set, const Estimate& celsius);

}  // namespace stickwright
