#include "batch/batch_cost.h"

#include <algorithm>
#include <map>

namespace stickwright {
namespace {

// Blocks of a shape and wood in one puzzle.
using BlockCount = std::map<std::pair<int, std::string>, int>;

BlockCount blocks_of(const BatchPlan& plan, const PuzzlePlan& p) {
  BlockCount out;
  for (std::size_t made = 0; made < p.wood_of.size(); ++made) {
    const GlueUp& g = plan.split.pieces[p.first + made];
    for (const std::vector<std::string>& copy : p.wood_of[made])
      for (std::size_t b = 0; b < copy.size(); ++b) ++out[{g.blocks[b].shape, copy[b]}];
  }
  return out;
}

class CostOfPuzzles {
 public:
  CostOfPuzzles(const BatchPlan& plan, const StickPlan& sticks) : plan_(plan), sticks_(sticks) {
    for (std::size_t k = 0; k < plan.puzzles.size(); ++k) {
      blocks_.push_back(blocks_of(plan, plan.puzzles[k]));
      out_.push_back({k, {}, {}, 0});
    }
  }

  std::vector<PuzzleCost> run() {
    for (const WoodPlan& w : sticks_.woods) add_wood(w);
    add_work(batch_tasks(plan_, sticks_));
    return std::move(out_);
  }

 private:
  int copies(std::size_t puzzle) const { return plan_.puzzles[puzzle].copies; }
  // In one puzzle.
  int needs(std::size_t puzzle, int shape, const std::string& wood) const {
    const auto found = blocks_[puzzle].find({shape, wood});
    return found == blocks_[puzzle].end() ? 0 : found->second;
  }
  int needs(std::size_t puzzle, int shape) const {
    int n = 0;
    for (const auto& [kind, count] : blocks_[puzzle])
      if (kind.first == shape) n += count;
    return n;
  }
  const SetUp& set_up(const WantedPart& part) const { return plan_.set_ups[static_cast<std::size_t>(part.set_up)]; }

  // What all need together, times one puzzle's part of it.
  Mm share_of(Mm all, std::size_t puzzle, int shape, const std::string& wood) const {
    return static_cast<double>(needs(puzzle, shape, wood)) / set_up_needs(shape, wood) * all;
  }
  double set_up_needs(int shape, const std::string& wood) const {
    return plan_.set_ups[static_cast<std::size_t>(shape)].needed.at(wood);
  }

  void add_parts(const WoodPlan& w, std::size_t puzzle, WoodCost& cost) const {
    const double unit = unit_mm(plan_.batch.stick);
    for (const WantedPart& part : w.parts) {
      const int shape = part.set_up;
      const Mm each = to_mm(part.part.length);
      if (part.is_test) {
        cost.tests = cost.tests + share_of(part.part.count * each, puzzle, shape, w.wood);
        continue;
      }
      const int n = needs(puzzle, shape, w.wood);
      const Mm inside{static_cast<double>(set_up(part).program.length) * unit};
      const Block& block = plan_.split.shapes[static_cast<std::size_t>(set_up(part).shape)];
      cost.blocks += n;
      cost.in_blocks = cost.in_blocks + n * inside;
      cost.kerf = cost.kerf + n * (each - inside);
      cost.spares = cost.spares + share_of(set_up(part).spares.at(w.wood) * each, puzzle, shape, w.wood);
      cost.blocks_cm3 += n * static_cast<double>(volume_times_6(block.body)) / 6 * unit * unit * unit / 1000;
    }
  }

  // The ends of the sticks by what is sawn from them for each puzzle.
  void add_wood(const WoodPlan& w) {
    std::vector<WoodCost> costs(out_.size());
    double sawn = 0, left = 0;
    for (std::size_t k = 0; k < costs.size(); ++k) {
      costs[k].wood = w.wood;
      add_parts(w, k, costs[k]);
      sawn += copies(k) * costs[k].whole().v;
    }
    for (const CutStick& s : w.plan.sticks) left += to_mm(s.left).v;
    const double heads = w.plan.used() * to_mm(sticks_.rules.head).v, side = plan_.batch.stick.v;
    for (std::size_t k = 0; k < costs.size(); ++k) {
      WoodCost& c = costs[k];
      const double part = c.whole().v / sawn;
      if (c.blocks == 0) continue;
      c.heads = Mm{part * heads}, c.left = Mm{part * left};
      c.whole_cm3 = c.whole().v * side * side / 1000;
      of_wood_[w.wood].resize(out_.size());
      of_wood_[w.wood][k] = part * copies(k);
      out_[k].woods.push_back(std::move(c));
    }
  }

  // How a task is shared, by puzzle; adds up to 1.
  std::vector<double> shares(const TaskFor& of, const std::vector<double>& at_saw) const {
    std::vector<double> out(out_.size());
    if (of.puzzle >= 0) {
      out[static_cast<std::size_t>(of.puzzle)] = 1;
      return out;
    }
    if (!of.wood.empty()) return of_wood_.at(of.wood);
    if (of.set_up < 0) return at_saw;
    double all = 0;
    for (std::size_t k = 0; k < out.size(); ++k) all += out[k] = copies(k) * needs(k, of.set_up);
    for (double& x : out) x /= all;
    return out;
  }

  // Seconds at the saw that each puzzle is the cause of, as shares.
  std::vector<double> shares_at_saw(const BatchTasks& all) const {
    std::vector<double> out(out_.size());
    double sum = 0;
    for (std::size_t t = 0; t < all.tasks.size(); ++t) {
      if (all.of[t].set_up < 0) continue;
      const std::vector<double> part = shares(all.of[t], {});
      for (std::size_t k = 0; k < out.size(); ++k) out[k] += part[k] * static_cast<double>(all.tasks[t].hands_on);
      sum += static_cast<double>(all.tasks[t].hands_on);
    }
    for (double& x : out) x /= sum;
    return out;
  }

  void add_work(const BatchTasks& all) {
    std::vector<std::map<Work, double>> seconds(out_.size());
    const std::vector<double> at_saw = shares_at_saw(all);
    for (std::size_t t = 0; t < all.tasks.size(); ++t) {
      const std::vector<double> part = shares(all.of[t], at_saw);
      for (std::size_t k = 0; k < out_.size(); ++k)
        if (part[k] > 0)
          seconds[k][all.tasks[t].work] += part[k] * static_cast<double>(all.tasks[t].hands_on) / copies(k);
    }
    for (std::size_t k = 0; k < out_.size(); ++k) {
      for (const auto& [kind, s] : seconds[k]) out_[k].work.push_back({kind, s});
      out_[k].waits = longest_wait(all, static_cast<int>(k));
    }
  }

  // Tasks come after those that they wait for.
  static Clock longest_wait(const BatchTasks& all, int puzzle) {
    std::vector<Clock> waited(all.tasks.size());
    Clock longest = 0;
    for (std::size_t t = 0; t < all.tasks.size(); ++t) {
      for (const After& a : all.tasks[t].after)
        waited[t] = std::max(waited[t], waited[static_cast<std::size_t>(a.task)] + a.wait);
      if (all.of[t].puzzle == puzzle) longest = std::max(longest, waited[t]);
    }
    return longest;
  }

  const BatchPlan& plan_;
  const StickPlan& sticks_;
  std::vector<BlockCount> blocks_;                      // by puzzle
  std::map<std::string, std::vector<double>> of_wood_;  // by puzzle: its share of what is sawn of the wood
  std::vector<PuzzleCost> out_;
};

}  // namespace

double PuzzleCost::hands_on_s() const {
  double sum = 0;
  for (const WorkCost& w : work) sum += w.hands_on_s;
  return sum;
}

std::vector<PuzzleCost> puzzle_costs(const BatchPlan& plan, const StickPlan& sticks) {
  return CostOfPuzzles(plan, sticks).run();
}

}  // namespace stickwright
