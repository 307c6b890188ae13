#include "batch/design_plan.h"

#include <fmt/core.h>

#include <algorithm>
#include <stdexcept>

namespace stickwright {
namespace {

// Positions looked at over all assemblies of a design: about half a minute of work.
constexpr std::int64_t kMostStates = 50'000;

std::vector<Cells> cells_of(const Assembly& assembly) {
  std::vector<Cells> cells;
  for (const PlacedPiece& p : assembly) cells.push_back(p.cells);
  return cells;
}

// A wrong answer must never reach the saw: the checkers share no code with the solvers.
void insist(bool holds, const char* what) {
  if (!holds) throw std::logic_error(fmt::format("the independent checker refuses {}", what));
}

std::vector<StandingPiece> name_pieces(const DesignPlan& plan, const Assembly& assembly) {
  const std::vector<int> made = made_pieces_in(assembly, supplies_of(plan.design));
  std::vector<int> used(plan.made.size());
  std::vector<StandingPiece> out;
  for (std::size_t i = 0; i < assembly.size(); ++i) {
    const MadePiece& m = plan.made[made[i]];
    const int copy = used[made[i]]++;
    out.push_back({made[i], copy, m.copies > 1 ? fmt::format("{} {}", m.name, copy + 1) : m.name, assembly[i].cells});
  }
  return out;
}

}  // namespace

DesignPlan plan_design(Design design) {
  DesignPlan plan{std::move(design), {}, {}, {}, {}};
  plan.made = made_pieces(plan.design);
  plan.assemblies = find_assemblies(plan.design);
  bool some_stopped = plan.assemblies.count > static_cast<std::int64_t>(plan.assemblies.kept.size());
  std::int64_t states_left = kMostStates;
  for (const Assembly& a : plan.assemblies.kept) {
    insist(check_assembly(plan.design, a), "an assembly");
    if (plan.standing.empty()) plan.standing = name_pieces(plan, a);
    TakeApart way = take_apart(*plan.design.family, cells_of(a), {.states = states_left});
    states_left = std::max<std::int64_t>(0, states_left - way.states);
    some_stopped |= way.verdict == Verdict::stopped;
    if (way.verdict != Verdict::found) continue;
    insist(check_take_apart(*plan.design.family, cells_of(a), way.steps), "a way to take the puzzle apart");
    plan.standing = name_pieces(plan, a);
    plan.take_apart = std::move(way);
    return plan;
  }
  if (some_stopped || plan.assemblies.verdict == Verdict::stopped) plan.take_apart.verdict = Verdict::stopped;
  return plan;
}

std::string ways_in_words(const Assemblies& a) {
  return fmt::format("{}{} {}", a.verdict == Verdict::stopped ? "at least " : "", a.count,
                     a.count == 1 ? "way" : "ways");
}

std::string why_not(const DesignPlan& p) {
  if (p.assemblies.verdict == Verdict::none_exists)
    return fmt::format("\"{}\" does not go together: every way to place its pieces has been tried.", p.design.name);
  if (!p.goes_together())
    return fmt::format("\"{}\": the search for an assembly was stopped after {} nodes; none was found so far.",
                       p.design.name, p.assemblies.nodes);
  if (p.take_apart.verdict == Verdict::stopped)
    return fmt::format("\"{}\" goes together, but the search for a way apart was stopped before it was complete.",
                       p.design.name);
  if (!p.comes_apart())
    return fmt::format(
        "\"{}\" goes together on paper only: no group of pieces can be slid out, in any of {} directions, "
        "with stops at whole lattice units.",
        p.design.name, p.design.family->slide_directions().size());
  return "";
}

}  // namespace stickwright
