#include "batch/sort_plan.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <numeric>
#include <optional>
#include <stdexcept>

#include "batch/fit_inputs.h"
#include "fit/best_puzzle.h"
#include "saw/measure.h"

namespace stickwright {
namespace {

// One design of the batch: where blocks of the measured kinds stand, and what their sizes do to the play.
struct SortedDesign {
  std::size_t puzzle = 0;
  ClosedPuzzle closed;
  PuzzleErrors errors;
  GapForms gaps;
  std::optional<FitProgram> program;  // of the gaps
  std::vector<int> places;            // blocks of the closed puzzle
  std::unique_ptr<BestPuzzle> best;   // dimensions: the sizes of the first place, then those of the next ...
};

// Nothing is off but the blocks: what a reading says holds all that was off when the block was sawn.
PuzzleErrors nothing_off(PuzzleErrors errors) {
  for (FitNumber& n : errors.numbers)
    if (n.size_of != SizeOf::glue_line) n.off.value = 0;
  return errors;
}

// A size of one block. Across flats it is how far the block seats off the stop, at all cuts of that stop.
Dimension dimension_of(const BatchPlan& plan, const PuzzleErrors& errors, int block, const BlockSize& size) {
  Dimension d{"", size.side > 0 ? SizeOf::stick : SizeOf::none, size.shape, static_cast<int>(size.stop), {}};
  if (size.side > 0) {
    for (const WidthNumber& w : errors.widths)
      if (w.block == block && w.side == size.side) d.numbers.push_back(w.number);
    return d;
  }
  const Program& program = plan.set_ups[static_cast<std::size_t>(size.shape)].program;
  for (const SeatingNumber& n : errors.seatings)
    if (n.block == block && program.cuts[static_cast<std::size_t>(n.cut)].stop == static_cast<int>(size.stop))
      d.numbers.push_back(n.number);
  return d;
}

// The sizes that count, in the order of an item's deviations.
std::vector<BlockSize> sizes_of(int shape, const SizesRead& read) {
  std::vector<BlockSize> out;
  if (read.stop) out.push_back({shape, *read.stop, 0});
  for (const int side : {1, 2})
    if (read.width[static_cast<std::size_t>(side - 1)]) out.push_back({shape, 0, side});
  return out;
}

SortedDesign design_of(const BatchPlan& plan, const ShopKnown& shop, std::size_t k) {
  SortedDesign d;
  d.puzzle = k;
  d.closed = closed_puzzle(plan, plan.puzzles[k]);
  d.errors = nothing_off(puzzle_errors(d.closed, shop));
  d.gaps = gap_forms(d.closed, d.errors.faces, block_contacts(d.closed));
  d.program.emplace(d.gaps.rows);
  return d;
}

double effect_of(const BatchPlan& plan, const std::vector<SortedDesign>& designs, const BlockSize& size) {
  double most = 0;
  for (const SortedDesign& d : designs) {
    std::vector<Dimension> single;
    for (int b = 0; b < static_cast<int>(d.closed.blocks.size()); ++b)
      if (d.closed.blocks[static_cast<std::size_t>(b)].shape == size.shape)
        single.push_back(dimension_of(plan, d.errors, b, size));
    BestPuzzle best(*d.program, d.errors, d.gaps, single);
    for (std::size_t k = 0; k < single.size(); ++k) most = std::max(most, best.most_effect(k));
  }
  return most;
}

void choose_places(const BatchPlan& plan, const BlockSizes& measured, SortedDesign& d) {
  std::vector<Dimension> sizes;
  for (int b = 0; b < static_cast<int>(d.closed.blocks.size()); ++b) {
    const StandingBlock& block = d.closed.blocks[static_cast<std::size_t>(b)];
    if (!measured.blocks.contains({block.shape, block.wood})) continue;
    d.places.push_back(b);
    for (const BlockSize& size : sizes_of(block.shape, measured.read.at(block.shape)))
      sizes.push_back(dimension_of(plan, d.errors, b, size));
  }
  d.best = std::make_unique<BestPuzzle>(*d.program, d.errors, d.gaps, sizes);
}

// What widths that are off do to the size across flats, as the block seats with them.
double flats_by_widths(const BatchPlan& plan, const TestBlock& test, const Program& program, double off_1,
                       double off_2) {
  const Program tested = test_program(program, test);
  SawState saw = nominal_saw(plan.batch.stick);
  const auto flats = [&] { return across_flats(saw::cut(tested, saw), test.face_a, test.face_b).value_or(NAN); };
  const double planned = flats();
  saw.sticks[0].side_1_mm += off_1, saw.sticks[0].side_2_mm += off_2;
  return flats() - planned;
}

// A block that is off across flats is off along the axis by that over per_stop; a seating off the stop makes it
// shorter.
double along_axis(const BatchPlan& plan, int shape, std::size_t stop, double off_mm, double off_1, double off_2) {
  const SetUp& s = plan.set_ups[static_cast<std::size_t>(shape)];
  const TestBlock& test = s.tests[stop].test;
  return -(off_mm - flats_by_widths(plan, test, s.program, off_1, off_2)) / test.per_stop;
}

// The mean of those that are there; 0 when none is.
double mean_of(const std::vector<std::optional<double>>& some) {
  double sum = 0;
  int n = 0;
  for (const auto& x : some)
    if (x) sum += *x, ++n;
  return n > 0 ? sum / n : 0;
}

std::vector<double> filled_in(const std::vector<std::optional<double>>& some) {
  std::vector<double> out;
  for (const auto& x : some) out.push_back(x.value_or(mean_of(some)));
  return out;
}

// The deviations of blocks of one kind, [block][size]: what was not measured is as the mean of what was.
std::vector<std::vector<double>> deviations_of(const BatchPlan& plan, const SizesRead& read,
                                               const std::vector<SortedBlock>& blocks) {
  std::array<std::vector<std::optional<double>>, 2> widths;
  for (const SortedBlock& b : blocks)
    for (std::size_t side = 0; side < 2; ++side) widths[side].push_back(b.width_off_mm[side]);
  const std::vector<double> width_1 = filled_in(widths[0]), width_2 = filled_in(widths[1]);
  std::vector<std::optional<double>> along;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const SortedBlock& b = blocks[i];
    along.emplace_back();
    if (read.stop && b.off_mm) along[i] = along_axis(plan, b.shape, *read.stop, *b.off_mm, width_1[i], width_2[i]);
  }
  const std::vector<double> slid = filled_in(along);
  std::vector<std::vector<double>> out(blocks.size());
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    if (read.stop) out[i].push_back(slid[i]);
    if (read.width[0]) out[i].push_back(width_1[i]);
    if (read.width[1]) out[i].push_back(width_2[i]);
  }
  return out;
}

class Sorter {
 public:
  Sorter(const BatchPlan& plan, BlockSizes measured, std::vector<SortedDesign> designs)
      : plan_(plan), measured_(std::move(measured)), designs_(std::move(designs)) {
    for (SortedDesign& d : designs_) choose_places(plan_, measured_, d);
  }

  Result<SortPlan> run() {
    fill_up();
    for (const auto& [kind, blocks] : measured_.blocks) {
      first_[kind] = blocks_.size();
      const auto off = deviations_of(plan_, measured_.read.at(kind.first), blocks);
      for (std::size_t i = 0; i < blocks.size(); ++i) {
        problem_.items.push_back({kind_number(kind), off[i]});
        blocks_.push_back(blocks[i]);
      }
    }
    for (const SortedDesign& d : designs_) problem_.designs.push_back(sort_design(d));
    auto sorted = sort_items(problem_);
    if (!sorted) return sorted.problem();
    if (!check_sorting(problem_, sorted.value())) throw std::logic_error("the independent checker refuses a sorting");
    return answer(sorted.value());
  }

 private:
  using Items = std::vector<int>;  // by place

  int kind_number(const BlockKind& kind) const {
    return static_cast<int>(std::distance(measured_.blocks.begin(), measured_.blocks.find(kind)));
  }
  BlockKind kind_at(const SortedDesign& d, std::size_t place) const {
    const StandingBlock& b = d.closed.blocks[static_cast<std::size_t>(d.places[place])];
    return {b.shape, b.wood};
  }
  int copies(const SortedDesign& d) const { return plan_.puzzles[d.puzzle].copies; }

  // Places for which too few blocks were measured.
  void fill_up() {
    std::map<BlockKind, std::size_t> wanted;
    for (const SortedDesign& d : designs_)
      for (std::size_t p = 0; p < d.places.size(); ++p) wanted[kind_at(d, p)] += static_cast<std::size_t>(copies(d));
    for (auto& [kind, blocks] : measured_.blocks)
      while (blocks.size() < wanted[kind]) blocks.push_back({kind.first, kind.second, 0, {}, {}, {}});
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
    for (const auto& o : off) mm.insert(mm.end(), o.begin(), o.end());
    const PlayBound bound = d.best->bound_at(mm);
    PlayCut cut{bound.constant, {}};
    auto slope = bound.slope.begin();
    for (const auto& o : off) {
      cut.slope.emplace_back(slope, slope + static_cast<std::ptrdiff_t>(o.size()));
      slope += static_cast<std::ptrdiff_t>(o.size());
    }
    return cut;
  }

  SortPlan answer(const Sorted& sorted) const {
    SortPlan out;
    out.verdict = sorted.verdict;
    out.worst_mm = sorted.worst, out.bound_mm = sorted.bound;
    out.as_they_come_mm = as_they_come();
    out.no_matter = measured_.no_matter;
    out.without_wood = measured_.without_wood, out.without_number = measured_.without_number;
    std::vector<bool> used(blocks_.size());
    std::size_t k = 0;
    for (const SortedDesign& d : designs_)
      for (int copy = 0; copy < copies(d); ++copy, ++k) {
        for (const int item : sorted.item_in[k]) used[static_cast<std::size_t>(item)] = true;
        out.puzzles.push_back(
            {plan_.puzzles[d.puzzle].design.design.name, copy, sorted.play[k], places_filled(d, sorted.item_in[k])});
      }
    for (std::size_t i = 0; i < blocks_.size(); ++i)
      if (!used[i] && blocks_[i].measured()) out.left.push_back(blocks_[i]);
    return out;
  }

  std::vector<SortedPlace> places_filled(const SortedDesign& d, const Items& items) const {
    std::vector<SortedPlace> out;
    for (std::size_t p = 0; p < d.places.size(); ++p) {
      const StandingBlock& b = d.closed.blocks[static_cast<std::size_t>(d.places[p])];
      out.push_back({d.closed.pieces[static_cast<std::size_t>(b.piece)].name, b.block,
                     blocks_[static_cast<std::size_t>(items[p])], against(d, d.places[p])});
    }
    return out;
  }

  // What is glued to the sides that the stick has left on a block.
  static std::array<std::vector<int>, 2> against(const SortedDesign& d, int block) {
    std::array<std::vector<int>, 2> out;
    const auto note = [&](int face, int other) {
      const int made_by =
          d.closed.blocks[static_cast<std::size_t>(block)].faces[static_cast<std::size_t>(face)].made_by;
      if (made_by < 0)
        out[made_by >= stick_side(1) ? 0 : 1].push_back(d.closed.blocks[static_cast<std::size_t>(other)].block);
    };
    const int piece = d.closed.blocks[static_cast<std::size_t>(block)].piece;
    for (const StandingJoint& j : d.closed.pieces[static_cast<std::size_t>(piece)].joints) {
      if (j.a == block) note(j.face_a, j.b);
      if (j.b == block) note(j.face_b, j.a);
    }
    return out;
  }

  // The worst play when every place takes the next block of its kind.
  double as_they_come() const {
    std::map<BlockKind, std::size_t> next = first_;
    double worst = INFINITY;
    for (const SortedDesign& d : designs_)
      for (int copy = 0; copy < copies(d); ++copy) {
        std::vector<double> mm;
        for (std::size_t p = 0; p < d.places.size(); ++p) {
          const std::vector<double>& off = problem_.items[next[kind_at(d, p)]++].off;
          mm.insert(mm.end(), off.begin(), off.end());
        }
        worst = std::min(worst, d.best->bound_at(mm).at(mm));
      }
    return worst;
  }

  const BatchPlan& plan_;
  BlockSizes measured_;
  std::vector<SortedDesign> designs_;
  SortProblem problem_;
  std::vector<SortedBlock> blocks_;         // as SortProblem::items
  std::map<BlockKind, std::size_t> first_;  // item of each kind
};

}  // namespace

Result<SortPlan> plan_sorting(const BatchPlan& plan, const std::filesystem::path& ledger) {
  ShopKnown shop = shop_known(plan);
  shop.own_sticks = true;
  std::vector<SortedDesign> designs;
  for (std::size_t k = 0; k < plan.puzzles.size(); ++k) {
    SortedDesign d = design_of(plan, shop, k);
    if (d.program->can_bind()) designs.push_back(std::move(d));
  }
  auto measured = read_block_sizes(plan, ledger, [&](const BlockSize& size) { return effect_of(plan, designs, size); });
  if (!measured) return measured.problem();
  if (measured.value().blocks.empty())
    return Problem{"nothing_to_sort", ledger.string(),
                   "No block whose size matters to the play has been measured yet. Record the widths of the blocks of "
                   "a set-up, with their wood: stickwright record BATCH.toml --setup ID --width --wood WOOD "
                   "15.98/16.01 ...; or, of blocks that have two parallel sawn faces, readings across them.",
                   ""};
  return Sorter(plan, measured.take(), std::move(designs)).run();
}

}  // namespace stickwright
