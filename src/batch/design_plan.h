// design_plan.h - what is known of one design: how it goes together, and how it comes apart.
#pragma once
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "design/design.h"
#include "takeapart/takeapart.h"

namespace stickwright {

// A piece where it stands in the closed puzzle.
struct StandingPiece {
  int made = 0;      // index into DesignPlan::made
  int copy = 0;      // which of its copies, from 0
  std::string name;  // "arm 3", or "key" when there is one copy only
  Cells cells;
};

struct DesignPlan {
  Design design;
  std::vector<MadePiece> made;
  Assemblies assemblies;
  TakeApart take_apart;                 // of the assembly below
  std::vector<StandingPiece> standing;  // the first assembly that comes apart; if none does, the first; else empty

  bool goes_together() const { return assemblies.verdict == Verdict::found || assemblies.count > 0; }
  bool comes_apart() const { return take_apart.verdict == Verdict::found; }
  // Yes only when both are proven; every assembly and every way out has passed the independent checkers.
  bool works() const { return goes_together() && comes_apart(); }
};

DesignPlan plan_design(Design design);

// "1 way", "at least 34 ways" when the count was stopped.
std::string ways_in_words(const Assemblies& assemblies);

// One sentence a person can act on: why the design does not work, or "" when it does.
std::string why_not(const DesignPlan& plan);

}  // namespace stickwright
