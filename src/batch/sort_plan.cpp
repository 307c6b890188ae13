#include "batch/sort_plan.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

#include "batch/fit_inputs.h"
#include "fit/best_puzzle.h"
#include "ledger/ledger.h"
#include "wood/species.h"

namespace stickwright {
namespace {

using Kind = std::pair<int, std::string>;  // shape, wood

// Measured blocks by kind, in the order of their readings.
struct Measures {
  std::map<Kind, std::vector<SortedBlock>> blocks;
  int without_wood = 0;
};

std::string wood_of_reading(const SetUp& s, const Reading& r) {
  if (!r.wood.empty()) {
    const auto species = find_species(r.wood);
    return species ? std::string(species.value()->name) : r.wood;
  }
  return s.needed.size() == 1 ? s.needed.begin()->first : "";
}

// The first stop that blocks of the set-up tell by their own faces.
std::optional<std::size_t> measured_stop(const SetUp& s) {
  for (std::size_t k = 0; k < s.tests.size(); ++k)
    if (s.tests[k].test.extra.empty()) return k;
  return {};
}

Result<Measures> measures_of(const BatchPlan& plan, const std::filesystem::path& file) {
  Measures out;
  if (!std::filesystem::exists(file)) return out;
  auto ledger = Ledger::open(file);
  if (!ledger) return ledger.problem();
  Ledger open = ledger.take();
  for (const SetUp& s : plan.set_ups) {
    const auto stop = measured_stop(s);
    if (!stop) continue;
    const auto kept = open.readings_of(set_up_id(plan, s), static_cast<int>(*stop) + 1);
    if (!kept) return kept.problem();
    for (const KeptReading& r : kept.value()) {
      if (!r.value()) continue;
      const std::string wood = wood_of_reading(s, r.reading);
      if (!s.needed.contains(wood)) {
        ++out.without_wood;
        continue;
      }
      out.blocks[{s.shape, wood}].push_back(
          {s.shape, wood, r.id, to_mm(*r.value()).v - to_mm(to_nm(s.tests[*stop].test.across_flats)).v});
    }
  }
  return out;
}

// One design of the batch: where blocks of the measured kinds stand, and what their size does to the play.
struct SortedDesign {
  std::size_t puzzle = 0;
  ClosedPuzzle closed;
  std::vector<int> places;       // blocks of the closed puzzle
  std::vector<Dimension> sizes;  // by place: how far along the axis its stop was off
  std::unique_ptr<BestPuzzle> best;
};

// Nothing is off but the blocks: what a reading says holds all that was off when the block was sawn.
PuzzleErrors nothing_off(PuzzleErrors errors) {
  for (FitNumber& n : errors.numbers)
    if (n.size_of != SizeOf::glue_line) n.off.value = 0;
  return errors;
}

Dimension own_size(const BatchPlan& plan, const PuzzleErrors& errors, const StandingBlock& block, int index) {
  const SetUp& s = plan.set_ups[static_cast<std::size_t>(block.shape)];
  Dimension d{"", SizeOf::none, block.shape, -1, {}};
  for (const SeatingNumber& n : errors.seatings)
    if (n.block == index && s.program.cuts[static_cast<std::size_t>(n.cut)].stop == static_cast<int>(*measured_stop(s)))
      d.numbers.push_back(n.number);
  return d;
}

std::optional<SortedDesign> design_of(const BatchPlan& plan, const ShopKnown& shop, const Measures& measures,
                                      std::size_t k) {
  SortedDesign d;
  d.puzzle = k;
  d.closed = closed_puzzle(plan, plan.puzzles[k]);
  const PuzzleErrors errors = nothing_off(puzzle_errors(d.closed, shop));
  const GapForms gaps = gap_forms(d.closed, errors.faces, block_contacts(d.closed));
  if (!FitProgram(gaps.rows).can_bind()) return {};
  for (int b = 0; b < static_cast<int>(d.closed.blocks.size()); ++b) {
    const StandingBlock& block = d.closed.blocks[static_cast<std::size_t>(b)];
    if (!measures.blocks.contains({block.shape, block.wood})) continue;
    d.places.push_back(b);
    d.sizes.push_back(own_size(plan, errors, block, b));
  }
  d.best = std::make_unique<BestPuzzle>(errors, gaps, d.sizes);
  return d;
}

// A block that is off across flats is off along the axis by that over per_stop; a seating off the stop makes it
// shorter.
double along_axis(const BatchPlan& plan, int shape, double off_mm) {
  const SetUp& s = plan.set_ups[static_cast<std::size_t>(shape)];
  return -off_mm / s.tests[*measured_stop(s)].test.per_stop;
}

class Sorter {
 public:
  Sorter(const BatchPlan& plan, Measures measures) : plan_(plan), measures_(std::move(measures)) {}

  Result<SortPlan> run() {
    const ShopKnown shop = shop_known(plan_);
    for (std::size_t k = 0; k < plan_.puzzles.size(); ++k)
      if (auto d = design_of(plan_, shop, measures_, k)) designs_.push_back(std::move(*d));
    fill_up();
    SortProblem problem;
    for (const auto& [kind, blocks] : measures_.blocks)
      for (const SortedBlock& b : blocks) {
        problem.items.push_back({kind_number(kind), {along_axis(plan_, b.shape, b.off_mm)}});
        items_.push_back(b);
      }
    for (const SortedDesign& d : designs_) problem.designs.push_back(sort_design(d));
    auto sorted = sort_items(problem);
    if (!sorted) return sorted.problem();
    return answer(sorted.value());
  }

 private:
  int kind_number(const Kind& kind) const {
    return static_cast<int>(std::distance(measures_.blocks.begin(), measures_.blocks.find(kind)));
  }
  Kind kind_at(const SortedDesign& d, std::size_t place) const {
    const StandingBlock& b = d.closed.blocks[static_cast<std::size_t>(d.places[place])];
    return {b.shape, b.wood};
  }
  int copies(const SortedDesign& d) const { return plan_.puzzles[d.puzzle].copies; }

  // Places for which too few blocks were measured.
  void fill_up() {
    std::map<Kind, int> wanted;
    for (const SortedDesign& d : designs_)
      for (std::size_t p = 0; p < d.places.size(); ++p) wanted[kind_at(d, p)] += copies(d);
    for (auto& [kind, blocks] : measures_.blocks) {
      double mean = 0;
      for (const SortedBlock& b : blocks) mean += b.off_mm / static_cast<double>(blocks.size());
      while (static_cast<int>(blocks.size()) < wanted[kind]) blocks.push_back({kind.first, kind.second, {}, mean});
    }
  }

  SortDesign sort_design(const SortedDesign& d) const {
    SortDesign out{plan_.puzzles[d.puzzle].design.design.name, {}, copies(d), {}};
    for (std::size_t p = 0; p < d.places.size(); ++p) {
      const StandingBlock& b = d.closed.blocks[static_cast<std::size_t>(d.places[p])];
      out.places.push_back({kind_number(kind_at(d, p)), d.closed.pieces[static_cast<std::size_t>(b.piece)].name});
    }
    out.play = [&d](const std::vector<std::vector<double>>& off) { return cut_at(d, off); };
    return out;
  }

  static PlayCut cut_at(const SortedDesign& d, const std::vector<std::vector<double>>& off) {
    std::vector<double> mm;
    for (const auto& o : off) mm.push_back(o[0]);
    const PlayBound bound = d.best->bound_at(mm);
    PlayCut cut{bound.constant, {}};
    for (double slope : bound.slope) cut.slope.push_back({slope});
    return cut;
  }

  SortPlan answer(const Sorted& sorted) const {
    SortPlan out;
    out.verdict = sorted.verdict;
    out.worst_mm = sorted.worst, out.bound_mm = sorted.bound;
    out.as_they_come_mm = as_they_come();
    out.without_wood = measures_.without_wood;
    std::vector<bool> used(items_.size());
    std::size_t k = 0;
    for (const SortedDesign& d : designs_)
      for (int copy = 0; copy < copies(d); ++copy, ++k) {
        SortedPuzzle puzzle{plan_.puzzles[d.puzzle].design.design.name, copy, sorted.play[k], {}};
        for (std::size_t p = 0; p < d.places.size(); ++p) {
          const auto item = static_cast<std::size_t>(sorted.item_in[k][p]);
          used[item] = true;
          const StandingBlock& b = d.closed.blocks[static_cast<std::size_t>(d.places[p])];
          puzzle.places.push_back({d.closed.pieces[static_cast<std::size_t>(b.piece)].name, b.block, items_[item]});
        }
        out.puzzles.push_back(std::move(puzzle));
      }
    for (std::size_t i = 0; i < items_.size(); ++i)
      if (!used[i] && items_[i].reading) out.left.push_back(items_[i]);
    return out;
  }

  // The worst play when every place takes the next block of its kind.
  double as_they_come() const {
    std::map<Kind, std::size_t> next;
    double worst = INFINITY;
    for (const SortedDesign& d : designs_)
      for (int copy = 0; copy < copies(d); ++copy) {
        std::vector<double> mm;
        for (std::size_t p = 0; p < d.places.size(); ++p) {
          const Kind kind = kind_at(d, p);
          mm.push_back(along_axis(plan_, kind.first, measures_.blocks.at(kind)[next[kind]++].off_mm));
        }
        worst = std::min(worst, d.best->bound_at(mm).at(mm));
      }
    return worst;
  }

  const BatchPlan& plan_;
  Measures measures_;
  std::vector<SortedDesign> designs_;
  std::vector<SortedBlock> items_;  // as SortProblem::items
};

}  // namespace

Result<SortPlan> plan_sorting(const BatchPlan& plan, const std::filesystem::path& ledger) {
  auto measures = measures_of(plan, ledger);
  if (!measures) return measures.problem();
  if (measures.value().blocks.empty())
    return Problem{
        "nothing_to_sort", ledger.string(),
        "No block that can be sorted has been measured yet. Record a reading, with its wood, for every block "
        "of a set-up whose blocks have two parallel sawn faces: stickwright record BATCH.toml --set-up ID "
        "--wood WOOD READING ...",
        ""};
  return Sorter(plan, measures.take()).run();
}

}  // namespace stickwright
