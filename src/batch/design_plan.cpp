#include "batch/design_plan.h"

#include <fmt/core.h>
#include <fmt/ranges.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <stdexcept>

namespace stickwright {
namespace {

// Assemblies taken apart side by side between two looks at the limits, so that these do not depend on the threads.
constexpr std::size_t kSideBySide = 64;

std::vector<Cells> cells_of(const Assembly& assembly) {
  std::vector<Cells> cells;
  for (const PlacedPiece& p : assembly) cells.push_back(p.cells);
  return cells;
}

// A wrong answer must never reach the saw: the checkers share no code with the solvers.
void insist(bool holds, const char* what) {
  if (!holds) throw std::logic_error(fmt::format("the independent checker refuses {}", what));
}

// Copies are handed out in order, by shape.
std::vector<StandingPiece> name_pieces(const DesignPlan& plan, const Assembly& assembly) {
  const Family& family = *plan.design.family;
  std::vector<Shape> shapes;
  for (const MadePiece& m : plan.made) shapes.push_back(shape_of(family, m.cells).shape);
  std::vector<int> used(plan.made.size());
  std::vector<StandingPiece> out;
  for (const PlacedPiece& placed : assembly) {
    const Shape shape = shape_of(family, placed.cells).shape;
    std::size_t i = 0;
    while (shapes[i] != shape || used[i] == plan.made[i].copies) ++i;
    const MadePiece& m = plan.made[i];
    const int copy = used[i]++;
    out.push_back(
        {static_cast<int>(i), copy, m.copies > 1 ? fmt::format("{} {}", m.name, copy + 1) : m.name, placed.cells});
  }
  return out;
}

// Goes on with one assembly: the design of the pieces that it uses.
void stand(DesignPlan& plan, const Assembly& assembly) {
  const bool options =
      !plan.supplied.all_used() || !plan.supplied.may_stay_empty.empty() || plan.supplied.pieces_used.has_value();
  plan.design = options ? settled(plan.supplied, assembly) : plan.supplied;
  plan.made = made_pieces(plan.design);
  plan.standing = name_pieces(plan, assembly);
}

TakeApart take_apart_checked(const Design& design, const Assembly& assembly, const TakeApartLimits& limits) {
  insist(check_assembly(design, assembly), "an assembly");
  const std::vector<Cells> cells = cells_of(assembly);
  TakeApart way = take_apart(*design.family, cells, limits);
  if (way.verdict == Verdict::found)
    insist(check_take_apart(*design.family, cells, way.steps), "a way to take the puzzle apart");
  if (way.certificate) {
    std::vector<Cells> stuck;
    for (int i : way.stuck) stuck.push_back(cells[i]);
    insist(check_certificate(*design.family, Standing{stuck}, *way.certificate), "a proof that nothing moves");
  }
  return way;
}

// Takes the kept assemblies apart, in order, some side by side.
class Asunder {
 public:
  Asunder(DesignPlan& plan, const DesignSearch& search)
      : plan_(plan),
        search_(search),
        cancel_(search.apart_cancel ? search.apart_cancel : search.limits.cancel),
        left_(search.states) {}

  void run() {
    const auto& kept = plan_.assemblies.kept;
    const std::size_t at_once = search_.every_assembly ? kSideBySide : 1;
    for (std::size_t from = 0; from < kept.size() && !done_; from += at_once) {
      if (cancelled()) {  // before the pieces are so much as looked at: there may be many
        plan_.reachable.stopped_at = plan_.reachable.stopped_at.value_or(static_cast<std::int64_t>(from));
        break;
      }
      const std::size_t to = std::min(from + at_once, kept.size());
      std::vector<TakeApart> ways(to - from);
      tbb::parallel_for(from, to, [&](std::size_t k) {
        ways[k - from] =
            take_apart_checked(plan_.supplied, kept[k], {.states = left_, .cancel = cancel_});
      });
      for (std::size_t k = from; k < to && !done_; ++k) take(k, std::move(ways[k - from]));
      if (search_.on_take_apart) search_.on_take_apart(plan_.reachable.checked, plan_.assemblies.count);
    }
    if (static_cast<std::int64_t>(kept.size()) < plan_.assemblies.count && !plan_.reachable.stopped_at && !done_)
      plan_.reachable.stopped_at = static_cast<std::int64_t>(kept.size());
    if (shown_) return show(kept[*shown_]);
    if (plan_.reachable.stopped_at || plan_.assemblies.verdict == Verdict::stopped)
      plan_.take_apart.verdict = Verdict::stopped;
  }

 private:
  bool cancelled() const { return cancel_ && cancel_->load(); }

  void take(std::size_t k, TakeApart way) {
    Reachable& r = plan_.reachable;
    left_ = std::max<std::int64_t>(0, left_ - way.states);
    if (way.verdict == Verdict::stopped) {
      if (!r.stopped_at) r.stopped_at = static_cast<std::int64_t>(k);
      done_ |= left_ == 0 || cancelled();
      return;
    }
    ++r.checked;
    if (way.verdict == Verdict::none_exists) {
      if (k == 0) plan_.take_apart = std::move(way);
      return;
    }
    ++r.reachable;
    const int steps = static_cast<int>(way.steps.size());
    const bool better = !shown_ || steps < r.shortest;
    r.shortest = better ? steps : r.shortest;
    r.longest = std::max(r.longest, steps);
    done_ |= !search_.every_assembly;
    if (!better) return;
    shown_ = k;
    plan_.take_apart = std::move(way);
  }

  // The way that is shown takes like parts apart alike, if it can be had so.
  void show(const Assembly& assembly) {
    stand(plan_, assembly);
    TakeApart alike = take_apart_checked(
        plan_.supplied, assembly, {.states = plan_.take_apart.states + 1000, .alike = true, .cancel = cancel_});
    if (alike.verdict == Verdict::found) plan_.take_apart = std::move(alike);
  }

  DesignPlan& plan_;
  const DesignSearch& search_;
  const std::atomic<bool>* const cancel_;
  std::int64_t left_;
  std::optional<std::size_t> shown_;  // the assembly with the fewest steps so far
  bool done_ = false;
};

}  // namespace

DesignPlan plan_design(Design design, const DesignSearch& search) {
  DesignPlan plan{design, design, made_pieces(design), {}, {}, {}, {}, {}, {}};
  plan.take_apart.verdict = Verdict::none_exists;
  if (!unfilled_in_words(plan.supplied).empty()) {  // only a draft gets here: counting is all the proof it needs
    plan.assemblies.verdict = Verdict::none_exists;
    return plan;
  }
  plan.assemblies = find_assemblies(plan.supplied, search.limits, search.tell);
  if (!plan.assemblies.kept.empty()) stand(plan, plan.assemblies.kept.front());
  Asunder(plan, search).run();
  const std::vector<Cells> cells = plan.standing_cells();
  plan.handling = handling_of(*plan.design.family, cells, plan.take_apart.steps);
  if (search.turning && !cells.empty())
    plan.turning = first_motion(*plan.design.family, Standing{cells}, {.turning = true});
  return plan;
}

std::vector<Cells> DesignPlan::standing_cells() const {
  std::vector<Cells> cells;
  for (const StandingPiece& p : standing) cells.push_back(p.cells);
  return cells;
}

std::string turning_in_words(const FirstMotion& turning) {
  if (turning.verdict == Verdict::none_exists)
    return "Closed, nothing can start to move, not even when pieces turn: proven by forces in balance at the corners "
           "of the "
           "faces that touch.";
  if (turning.verdict == Verdict::found)
    return "Closed, some pieces can start to move when they may turn as well as slide. For the turning ones this holds "
           "for "
           "the first instant only: it proves nothing about a motion of any length.";
  return "Whether something can start to move when pieces may turn is not decided: the numbers could not be made "
         "exact.";
}

void count_earlier(DesignPlan& plan, std::int64_t count, std::int64_t total) {
  if (count == 0) return;
  plan.assemblies.count += count, plan.assemblies.total += total;
  if (plan.assemblies.verdict == Verdict::none_exists) plan.assemblies.verdict = Verdict::found;
  plan.reachable.stopped_at = 0;
  if (!plan.comes_apart()) plan.take_apart.verdict = Verdict::stopped;
}

std::string ways_in_words(const Assemblies& a) {
  return fmt::format("{}{} {}", a.verdict == Verdict::stopped ? "at least " : "", a.count,
                     a.count == 1 ? "way" : "ways");
}

std::string why_not(const DesignPlan& p) {
  if (const std::string unfilled = unfilled_in_words(p.supplied); !unfilled.empty())
    return fmt::format("\"{}\" is a draft: {}.", p.design.name, unfilled);
  if (p.assemblies.verdict == Verdict::none_exists)
    return fmt::format("\"{}\" does not go together: every way to place its pieces has been tried.", p.design.name);
  if (!p.goes_together())
    return fmt::format("\"{}\": the search for an assembly was stopped after {} nodes; none was found so far.",
                       p.design.name, p.assemblies.nodes);
  if (p.take_apart.verdict == Verdict::stopped)
    return fmt::format("\"{}\" goes together, but the search for a way apart was stopped before it was complete.",
                       p.design.name);
  if (p.comes_apart()) return "";
  std::vector<std::string> stuck;
  for (int i : p.take_apart.stuck) stuck.push_back(p.standing[i].name);
  const std::string why =
      p.take_apart.proof == Proof::certificate
          ? "nothing among them can start to slide, not even several at once: the forces that hold them are in balance"
          : "every position that they can slide to has been looked at";
  const std::string others =
      p.assemblies.count > 1 ? fmt::format(" Nor does any of the other {}.", p.assemblies.count - 1) : "";
  return fmt::format("\"{}\" goes together on paper only: {} stay together, whatever slides. Proven: {}.{}",
                     p.design.name, fmt::join(stuck, ", "), why, others);
}

}  // namespace stickwright
