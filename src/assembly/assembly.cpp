#include "assembly/assembly.h"

#include <algorithm>
#include <bitset>
#include <map>
#include <optional>
#include <set>

namespace stickwright {
namespace {

using Mask = std::bitset<kMaxGoalCells>;

struct Placement {
  int supply;
  Mask mask;
  std::vector<int> cells;  // indices into the goal
};

int goal_index(const Cells& goal, Cell c) {
  const auto at = std::lower_bound(goal.begin(), goal.end(), c);
  return at != goal.end() && *at == c ? static_cast<int>(at - goal.begin()) : -1;
}

// The placement of these cells in the goal, or one without cells when some lie outside.
Placement place(const Cells& goal, const Cells& cells, int supply) {
  Placement p{supply, {}, {}};
  for (Cell c : cells) {
    const int i = goal_index(goal, c);
    if (i < 0) return {};
    p.mask.set(i);
    p.cells.push_back(i);
  }
  return p;
}

// Every turn of the shape, shifted so that its least cell falls on a goal cell of the same class.
void add_placements(const Design& design, const Shape& shape, int supply, std::vector<Placement>& out) {
  const Family& family = *design.family;
  for (const PosedShape& turned : distinct_turns(family, shape))
    for (Cell target : design.goal) {
      const Vec shift = family.shift_home(turned.shape.cells.front()) - family.shift_home(target);
      const Cells cells = moved(family, {Turn{}, shift}, turned.shape.cells);
      if (cells.front() != target) continue;
      Placement p = place(design.goal, cells, supply);
      if (!p.cells.empty()) out.push_back(std::move(p));
    }
}

// Where each goal cell goes under each rotation of the goal.
std::vector<std::vector<int>> goal_permutations(const Design& design) {
  std::vector<std::vector<int>> all;
  for (const Isometry& by : rotations_onto_itself(*design.family, design.goal)) {
    std::vector<int> to;
    for (Cell c : design.goal) to.push_back(goal_index(design.goal, design.family->moved(by, c)));
    all.push_back(std::move(to));
  }
  return all;
}

class Search {
 public:
  Search(const Design& design, const AssemblyLimits& limits)
      : design_(design), limits_(limits), permutations_(goal_permutations(design)), supplies_(supplies_of(design)) {
    for (std::size_t s = 0; s < supplies_.size(); ++s) {
      add_placements(design, supplies_[s].shape, static_cast<int>(s), placements_);
      left_.push_back(supplies_[s].count);
    }
  }

  Assemblies run() {
    std::vector<int> alive(placements_.size());
    for (std::size_t i = 0; i < alive.size(); ++i) alive[i] = static_cast<int>(i);
    fill(alive);
    if (stopped_ && answer_.count == 0 && turned_copy_) {  // one is known all the same
      answer_.count = 1;
      answer_.kept.push_back(*std::move(turned_copy_));
    }
    answer_.verdict = stopped_ ? Verdict::stopped : answer_.count > 0 ? Verdict::found : Verdict::none_exists;
    return std::move(answer_);
  }

 private:
  void fill(const std::vector<int>& alive) {
    if (filled_.count() == design_.goal.size()) return take();
    if (++answer_.nodes > limits_.nodes) stopped_ = true;
    const int cell = hardest_cell(alive);
    for (int p : alive) {
      if (stopped_) return;
      if (placements_[p].mask[cell]) use(p, alive);
    }
  }

  void use(int p, const std::vector<int>& alive) {
    const Placement& chosen = placements_[p];
    filled_ |= chosen.mask;
    --left_[chosen.supply];
    path_.push_back(p);
    std::vector<int> still;
    for (int q : alive)
      if (left_[placements_[q].supply] > 0 && (placements_[q].mask & filled_).none()) still.push_back(q);
    fill(still);
    path_.pop_back();
    ++left_[chosen.supply];
    filled_ &= ~chosen.mask;
  }

  // The empty cell that the fewest placements can fill; ties by index.
  int hardest_cell(const std::vector<int>& alive) {
    std::vector<int> ways(design_.goal.size());
    for (int p : alive)
      for (int c : placements_[p].cells) ++ways[c];
    int best = -1;
    for (std::size_t c = 0; c < ways.size(); ++c)
      if (!filled_[c] && (best < 0 || ways[c] < ways[best])) best = static_cast<int>(c);
    return best;
  }

  // Goal cells labelled by (piece in order of first appearance, its supply), after a permutation of the cells.
  std::vector<int> labels(const std::vector<int>& permutation) const {
    std::vector<int> piece_at(design_.goal.size());
    for (std::size_t k = 0; k < path_.size(); ++k)
      for (int c : placements_[path_[k]].cells) piece_at[permutation[c]] = static_cast<int>(k);
    std::vector<int> name(path_.size(), -1), out;
    int next = 0;
    for (int k : piece_at) {
      if (name[k] < 0) name[k] = next++;
      out.push_back(name[k] * static_cast<int>(supplies_.size()) + placements_[path_[k]].supply);
    }
    return out;
  }

  void take() {
    const std::vector<int> as_found = labels(permutations_.front());
    for (const auto& permutation : permutations_)
      if (labels(permutation) < as_found) {  // a turned copy that is counted where it is least
        if (!turned_copy_) turned_copy_ = assembly();
        return;
      }
    ++answer_.count;
    if (answer_.kept.size() < limits_.keep) answer_.kept.push_back(assembly());
  }

  Assembly assembly() const {
    Assembly a;
    for (int p : path_) {
      PlacedPiece piece{placements_[p].supply, {}};
      for (int c : placements_[p].cells) piece.cells.push_back(design_.goal[c]);
      std::sort(piece.cells.begin(), piece.cells.end());
      a.push_back(std::move(piece));
    }
    std::sort(a.begin(), a.end(), [](const PlacedPiece& x, const PlacedPiece& y) { return x.cells < y.cells; });
    return a;
  }

  const Design& design_;
  AssemblyLimits limits_;
  std::vector<std::vector<int>> permutations_;
  std::vector<Supply> supplies_;
  std::vector<Placement> placements_;
  std::vector<int> left_, path_;
  Mask filled_;
  bool stopped_ = false;
  std::optional<Assembly> turned_copy_;
  Assemblies answer_;
};

}  // namespace

std::vector<Supply> supplies_of(const Design& design) {
  std::vector<Supply> supplies;
  const std::vector<MadePiece> made = made_pieces(design);
  for (std::size_t i = 0; i < made.size(); ++i) {
    const Shape shape = shape_of(*design.family, made[i].cells).shape;
    auto at = std::find_if(supplies.begin(), supplies.end(), [&](const Supply& s) { return s.shape == shape; });
    if (at == supplies.end()) at = supplies.insert(at, Supply{shape, 0, {}});
    at->count += made[i].copies;
    at->made.insert(at->made.end(), static_cast<std::size_t>(made[i].copies), static_cast<int>(i));
  }
  return supplies;
}

Assemblies find_assemblies(const Design& design, const AssemblyLimits& limits) {
  return Search(design, limits).run();
}

bool check_assembly(const Design& design, const Assembly& assembly) {
  std::vector<Cell> filled;
  std::multiset<Cells> wanted, placed;
  const Family& family = *design.family;
  for (const Piece& p : design.pieces) {
    for (int k = 0; k < p.copies; ++k) wanted.insert(shape_of(family, p.cells).shape.cells);
    const Cells mirrored = moved(family, {family.reflections().front(), {}}, p.cells);
    for (int k = 0; k < p.mirrored_copies; ++k) wanted.insert(shape_of(family, mirrored).shape.cells);
  }
  for (const PlacedPiece& p : assembly) {
    placed.insert(shape_of(family, p.cells).shape.cells);
    filled.insert(filled.end(), p.cells.begin(), p.cells.end());
  }
  std::sort(filled.begin(), filled.end());
  return filled == design.goal && placed == wanted;
}

std::vector<int> made_pieces_in(const Assembly& assembly, const std::vector<Supply>& supplies) {
  std::vector<std::size_t> used(supplies.size());
  std::vector<int> out;
  for (const PlacedPiece& p : assembly) out.push_back(supplies[p.supply].made[used[p.supply]++]);
  return out;
}

}  // namespace stickwright
