// batch_cost.h - what one puzzle of a batch costs: in wood, in hours, in waiting. No money: the files name no prices.
#pragma once
#include <vector>

#include "batch/stick_plan.h"
#include "batch/week_plan.h"

namespace stickwright {

// Of one wood, in one puzzle: length of stick, told apart by what becomes of it. Spares, test pieces and ends serve
// several puzzles; each bears as much of them as it needs of their kind.
struct WoodCost {
  std::string wood;
  int blocks = 0;
  Mm in_blocks;  // between the planes that part its blocks from the stick
  Mm kerf;       // what the blade takes beside them
  Mm spares;     // blocks cut besides, kerf included
  Mm tests;      // pieces that prove a stop, kerf included
  Mm heads;      // lost at the start of the sticks
  Mm left;       // what stays of the sticks: too short to be held, or no longer needed
  Mm whole() const { return in_blocks + kerf + spares + tests + heads + left; }
  double whole_cm3 = 0;   // of that length of stick, square
  double blocks_cm3 = 0;  // of the finished blocks
};

struct WorkCost {
  Work kind = Work::preparing;
  double hands_on_s = 0;
};

struct PuzzleCost {
  std::size_t puzzle = 0;       // index into BatchPlan::puzzles
  std::vector<WoodCost> woods;  // by name
  std::vector<WorkCost> work;   // in the order of the work; kinds that it needs
  // For its glue and finish, one after the other, whatever hands do meanwhile.
  Clock waits = 0;
  double hands_on_s() const;
};

// Of one copy of each puzzle. Work on a set-up is borne by the puzzles as they need its blocks, milling as they need
// sticks of the wood, truing as they need time at the saw. Opening up and clearing up are not counted: they are of
// evenings, not of puzzles.
//   exact    times its copies, summed over the puzzles: every stick that is used, every hour of every task
std::vector<PuzzleCost> puzzle_costs(const BatchPlan& plan, const StickPlan& sticks);

}  // namespace stickwright
