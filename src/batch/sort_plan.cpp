#include "batch/sort_plan.h"

#include <algorithm>
#include <cmath>
#include <functional>
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
  std::map<int, std::size_t> stop_of;  // by shape: whose readings count
  std::map<Kind, std::vector<SortedBlock>> blocks;
  std::vector<int> no_matter;
  int without_wood = 0;
};

std::string wood_of_reading(const SetUp& s, const Reading& r) {
  if (!r.wood.empty()) {
    const auto species = find_species(r.wood);
    return species ? std::string(species.value()->name) : r.wood;
  }
  return s.needed.size() == 1 ? s.needed.begin()->first : "";
}

// The stops that blocks of the set-up tell by their own faces.
std::vector<std::size_t> told_by_blocks(const SetUp& s) {
  std::vector<std::size_t> out;
  for (std::size_t k = 0; k < s.tests.size(); ++k)
    if (s.tests[k].test.extra.empty()) out.push_back(k);
  return out;
}

// All readings of one stop, if it has any that count.
Result<std::vector<KeptReading>> counting_readings(Ledger& ledger, const BatchPlan& plan, const SetUp& s,
                                                   std::size_t stop) {
  auto kept = ledger.readings_of(set_up_id(plan, s), static_cast<int>(stop) + 1);
  if (!kept) return kept.problem();
  std::vector<KeptReading> out = kept.take();
  std::erase_if(out, [](const KeptReading& r) { return !r.value(); });
  return out;
}

void take_readings(Measures& out, const SetUp& s, std::size_t stop, const std::vector<KeptReading>& readings) {
  out.stop_of[s.shape] = stop;
  for (const KeptReading& r : readings) {
    const std::string wood = wood_of_reading(s, r.reading);
    if (!s.needed.contains(wood)) {
      ++out.without_wood;
      continue;
    }
    out.blocks[{s.shape, wood}].push_back(
        {s.shape, wood, r.id, to_mm(*r.value()).v - to_mm(to_nm(s.tests[stop].test.across_flats)).v});
  }
}

// By how much a stop of a shape moves the gaps of any design, as it seats a block.
using Effect = std::function<double(int shape, std::size_t stop)>;

Result<Measures> measures_of(const BatchPlan& plan, const std::filesystem::path& file, const Effect& effect) {
  constexpr double kNone = 1e-9;
  Measures out;
  if (!std::filesystem::exists(file)) return out;
  auto ledger = Ledger::open(file);
  if (!ledger) return ledger.problem();
  Ledger open = ledger.take();
  for (const SetUp& s : plan.set_ups) {
    double most = kNone;
    std::size_t stop = 0;
    std::vector<KeptReading> readings;
    bool measured = false;
    for (const std::size_t k : told_by_blocks(s)) {
      auto here = counting_readings(open, plan, s, k);
      if (!here) return here.problem();
      measured = measured || !here.value().empty();
      if (here.value().empty() || effect(s.shape, k) <= most) continue;
      most = effect(s.shape, k), stop = k, readings = here.take();
    }
    if (!readings.empty())
      take_readings(out, s, stop, readings);
    else if (measured)
      out.no_matter.push_back(s.shape);
  }
  return out;
}

// One design of the batch: where blocks of the measured kinds stand, and what their size does to the play.
struct SortedDesign {
  std::size_t puzzle = 0;
  ClosedPuzzle closed;
  PuzzleErrors errors;
  GapForms gaps;
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

// The seatings of some blocks at one stop of their shape.
template <class Which>
Dimension seatings_at(const BatchPlan& plan, const PuzzleErrors& errors, int shape, std::size_t stop, Which which) {
  const Program& program = plan.set_ups[static_cast<std::size_t>(shape)].program;
  Dimension d{"", SizeOf::none, shape, static_cast<int>(stop), {}};
  for (const SeatingNumber& n : errors.seatings)
    if (which(n.block) && program.cuts[static_cast<std::size_t>(n.cut)].stop == static_cast<int>(stop))
      d.numbers.push_back(n.number);
  return d;
}

SortedDesign design_of(const BatchPlan& plan, const ShopKnown& shop, std::size_t k) {
  SortedDesign d;
  d.puzzle = k;
  d.closed = closed_puzzle(plan, plan.puzzles[k]);
  d.errors = nothing_off(puzzle_errors(d.closed, shop));
  d.gaps = gap_forms(d.closed, d.errors.faces, block_contacts(d.closed));
  return d;
}

// What the stop of a shape does to the gaps where all blocks of the shape are off.
double effect_of(const BatchPlan& plan, const std::vector<SortedDesign>& designs, int shape, std::size_t stop) {
  double most = 0;
  for (const SortedDesign& d : designs) {
    const Dimension all = seatings_at(plan, d.errors, shape, stop, [&](int b) {
      return d.closed.blocks[static_cast<std::size_t>(b)].shape == shape;
    });
    most = std::max(most, BestPuzzle(d.errors, d.gaps, {all}).most_effect(0));
  }
  return most;
}

void choose_places(const BatchPlan& plan, const Measures& measures, SortedDesign& d) {
  for (int b = 0; b < static_cast<int>(d.closed.blocks.size()); ++b) {
    const StandingBlock& block = d.closed.blocks[static_cast<std::size_t>(b)];
    if (!measures.blocks.contains({block.shape, block.wood})) continue;
    d.places.push_back(b);
    d.sizes.push_back(
        seatings_at(plan, d.errors, block.shape, measures.stop_of.at(block.shape), [&](int of) { return of == b; }));
  }
  d.best = std::make_unique<BestPuzzle>(d.errors, d.gaps, d.sizes);
}

// A block that is off across flats is off along the axis by that over per_stop; a seating off the stop makes it
// shorter.
double along_axis(const BatchPlan& plan, const Measures& measures, int shape, double off_mm) {
  return -off_mm / plan.set_ups[static_cast<std::size_t>(shape)].tests[measures.stop_of.at(shape)].test.per_stop;
}

class Sorter {
 public:
  Sorter(const BatchPlan& plan, Measures measures, std::vector<SortedDesign> designs)
      : plan_(plan), measures_(std::move(measures)), designs_(std::move(designs)) {
    for (SortedDesign& d : designs_) choose_places(plan_, measures_, d);
  }

  Result<SortPlan> run() {
    fill_up();
    SortProblem problem;
    for (const auto& [kind, blocks] : measures_.blocks)
      for (const SortedBlock& b : blocks) {
        problem.items.push_back({kind_number(kind), {along_axis(plan_, measures_, b.shape, b.off_mm)}});
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
    out.without_wood = measures_.without_wood, out.no_matter = measures_.no_matter;
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
          mm.push_back(along_axis(plan_, measures_, kind.first, measures_.blocks.at(kind)[next[kind]++].off_mm));
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
  const ShopKnown shop = shop_known(plan);
  std::vector<SortedDesign> designs;
  for (std::size_t k = 0; k < plan.puzzles.size(); ++k) {
    SortedDesign d = design_of(plan, shop, k);
    if (FitProgram(d.gaps.rows).can_bind()) designs.push_back(std::move(d));
  }
  auto measures =
      measures_of(plan, ledger, [&](int shape, std::size_t stop) { return effect_of(plan, designs, shape, stop); });
  if (!measures) return measures.problem();
  if (measures.value().blocks.empty())
    return Problem{
        "nothing_to_sort", ledger.string(),
        "No block whose size matters to the play has been measured yet. Record a reading, with its wood, for "
        "every block of a set-up whose blocks have two parallel sawn faces: stickwright record BATCH.toml "
        "--setup ID --stop N --wood WOOD READING ...",
        ""};
  return Sorter(plan, measures.take(), std::move(designs)).run();
}

}  // namespace stickwright
