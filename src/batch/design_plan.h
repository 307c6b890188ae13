// design_plan.h - what is known of one design: how it goes together, and how it comes apart.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "design/design.h"
#include "takeapart/handling.h"
#include "takeapart/takeapart.h"

namespace stickwright {

// A piece where it stands in the closed puzzle.
struct StandingPiece {
  int made = 0;      // index into DesignPlan::made
  int copy = 0;      // which of its copies, from 0
  std::string name;  // "arm 3", or "key" when there is one copy only
  Cells cells;
};

// Which of the assemblies come apart.
struct Reachable {
  std::int64_t checked = 0;                // assemblies of which it is known
  std::int64_t reachable = 0;              // of which so many come apart
  std::optional<std::int64_t> stopped_at;  // the first assembly, from 0, of which it is not; nothing: all are known
  int shortest = 0, longest = 0;           // steps, among those that come apart
};

struct DesignPlan {
  Design supplied;  // as the maker wrote it
  Design design;    // of the pieces that the assembly below uses; the same when no piece is optional
  std::vector<MadePiece> made;
  Assemblies assemblies;
  Reachable reachable;
  TakeApart take_apart;                // of the assembly below
  std::vector<Handling> handling;      // one for each step
  std::optional<FirstMotion> turning;  // of the assembly below, when asked for: its first instant, turning included
  // The assembly with the fewest steps; if none comes apart, the first; else empty.
  std::vector<StandingPiece> standing;

  bool goes_together() const { return assemblies.verdict == Verdict::found || assemblies.count > 0; }
  // Something was left open: neither yes nor no.
  bool stopped() const { return assemblies.verdict == Verdict::stopped || take_apart.verdict == Verdict::stopped; }
  std::vector<Cells> standing_cells() const;
  bool comes_apart() const { return take_apart.verdict == Verdict::found; }
  // Yes only when both are proven; every assembly and every way out has passed the independent checkers.
  bool works() const { return goes_together() && comes_apart(); }
};

// How thorough to be, and whom to tell.
struct DesignSearch {
  bool turning = false;         // look at the first instant of motions that turn, too
  bool every_assembly = false;  // take apart all that are kept; else until one comes apart
  AssemblyLimits limits;
  std::int64_t states = 2'000'000;  // positions looked at over all assemblies
  const std::atomic<bool>* apart_cancel = nullptr;  // ends taking apart; null: what ends the search of assemblies does
  AssemblyListener tell;
  std::function<void(std::int64_t done, std::int64_t of)> on_take_apart;  // assemblies
};

DesignPlan plan_design(Design design, const DesignSearch& search = {});

// Adds assemblies that an earlier run found, in branches that this one did not search again. Whether they come apart is
// not known here.
void count_earlier(DesignPlan& plan, std::int64_t count, std::int64_t total);

// "1 way", "at least 34 ways" when the count was stopped.
std::string ways_in_words(const Assemblies& assemblies);

// What the first instant with turning proves, in a sentence.
std::string turning_in_words(const FirstMotion& turning);

// One sentence a person can act on: why the design does not work, or "" when it does.
std::string why_not(const DesignPlan& plan);

}  // namespace stickwright
