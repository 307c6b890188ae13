#include "assembly/placements.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>

namespace stickwright {
namespace {

// Where each cell of the goal stands in the order of filling.
using Order = std::map<Cell, int>;

Order numbered(const Cells& cells) {
  Order order;
  for (Cell c : cells) order.emplace(c, static_cast<int>(order.size()));
  return order;
}

// Cells sorted along the axes a, b, c.
Cells swept(Cells cells, const std::array<int, 3>& axes) {
  std::sort(cells.begin(), cells.end(), [&](Cell p, Cell q) {
    return std::array{p[axes[0]], p[axes[1]], p[axes[2]]} < std::array{q[axes[0]], q[axes[1]], q[axes[2]]};
  });
  return cells;
}

std::vector<std::vector<int>> neighbors_in(const Family& family, const Cells& cells) {
  const Order order = numbered(cells);
  std::vector<std::vector<int>> out;
  for (Cell c : cells) {
    out.emplace_back();
    for (Cell n : family.neighbors(c))
      if (const auto at = order.find(n); at != order.end()) out.back().push_back(at->second);
  }
  return out;
}

// The sum over all stages of the cells at the front between filled and empty: small when the goal is swept lengthwise.
int front_length(const std::vector<std::vector<int>>& neighbors) {
  int length = 0;
  for (std::size_t c = 0; c < neighbors.size(); ++c) {
    int first = static_cast<int>(c);
    for (int n : neighbors[c]) first = std::min(first, n);
    length += static_cast<int>(c) - first;
  }
  return length;
}

// Of the sweeps along the axes, the one with the shortest front.
Cells in_filling_order(const Family& family, const Cells& goal) {
  Cells best;
  int least = 0;
  for (const auto& axes : {std::array{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}) {
    Cells cells = swept(goal, axes);
    const int length = front_length(neighbors_in(family, cells));
    if (best.empty() || length < least) best = std::move(cells), least = length;
  }
  return best;
}

// The places of these cells in the order of filling, ascending; empty when some lie outside.
std::vector<int> places(const Order& order, const Cells& cells) {
  std::vector<int> out;
  for (Cell c : cells) {
    const auto at = order.find(c);
    if (at == order.end()) return {};
    out.push_back(at->second);
  }
  std::sort(out.begin(), out.end());
  return out;
}

// The shift that takes a turned shape's least cell to a goal cell; nothing when that is of another class.
std::optional<Vec> shift_onto(const Family& family, const Cells& turned, Cell target) {
  const Vec shift = family.shift_home(turned.front()) - family.shift_home(target);
  if (family.moved({Turn{}, shift}, turned.front()) != target) return {};
  return shift;
}

// Every turn of the shape, shifted so that its least cell falls on a goal cell of the same class.
void add_options(const Design& design, const Shape& shape, int supply, const Order& order,
                 std::vector<CoverOption>& out) {
  const Family& family = *design.family;
  for (const PosedShape& turned : distinct_turns(family, shape))
    for (Cell target : design.goal) {
      const auto shift = shift_onto(family, turned.shape.cells, target);
      if (!shift) continue;
      auto cells = places(order, moved(family, {Turn{}, *shift}, turned.shape.cells));
      if (!cells.empty()) out.push_back({supply, std::move(cells)});
    }
}

bool keeps_empty_cells(const Design& design, const Isometry& by) {
  return moved(*design.family, by, design.may_stay_empty) == design.may_stay_empty;
}

class SymmetryTables {
 public:
  SymmetryTables(const Design& design, const Placements& p, const Order& order)
      : design_(design), p_(p), order_(order) {
    for (std::size_t o = 0; o < p.problem.options.size(); ++o)
      number_[{p.problem.options[o].supply, p.problem.options[o].cells}] = static_cast<int>(o);
  }

  // Adds what the isometry does to the options, unless it does nothing new or does not keep the supply.
  void add(const Isometry& by, bool mirrors, std::vector<std::vector<int>>& out) const {
    if (!keeps_empty_cells(design_, by)) return;
    const std::vector<int> supply_to = supplies_after(mirrors);
    if (supply_to.empty()) return;
    std::vector<int> cell_to, to;
    for (Cell c : p_.goal) cell_to.push_back(order_.at(design_.family->moved(by, c)));
    for (const CoverOption& o : p_.problem.options) {
      std::vector<int> cells;
      for (int c : o.cells) cells.push_back(cell_to[c]);
      std::sort(cells.begin(), cells.end());
      to.push_back(number_.at({supply_to[o.supply], cells}));
    }
    if (std::find(out.begin(), out.end(), to) == out.end()) out.push_back(std::move(to));
  }

 private:
  // The supply that takes the part of each when everything is mirrored; empty when there is none, or not as many.
  std::vector<int> supplies_after(bool mirrors) const {
    std::vector<int> to;
    for (const Supply& s : p_.supplies) {
      const Shape shape = mirrors ? mirror_of(*design_.family, s.shape) : s.shape;
      const auto at = std::find_if(p_.supplies.begin(), p_.supplies.end(), [&](const Supply& t) {
        return t.shape == shape && t.count == s.count && t.at_least == s.at_least;
      });
      if (at == p_.supplies.end()) return {};
      to.push_back(static_cast<int>(at - p_.supplies.begin()));
    }
    return to;
  }

  const Design& design_;
  const Placements& p_;
  const Order& order_;
  std::map<std::pair<int, std::vector<int>>, int> number_;
};

}  // namespace

std::vector<Isometry> poses_in(const Family& family, const Cells& piece, const Cells& goal, std::size_t most) {
  std::vector<Isometry> poses;
  if (piece.empty() || piece.size() > goal.size()) return poses;
  for (const Turn& turn : family.rotations()) {
    const Cells turned = moved(family, {turn, {}}, piece);
    for (Cell target : goal) {
      const auto shift = shift_onto(family, turned, target);
      if (!shift || !std::all_of(turned.begin(), turned.end(), [&](Cell c) {
            return std::binary_search(goal.begin(), goal.end(), family.moved({Turn{}, *shift}, c));
          }))
        continue;
      poses.push_back({turn, *shift});
      if (poses.size() >= most) return poses;
    }
  }
  return poses;
}

Placements placements_of(const Design& design, UpTo up_to) {
  const Family& family = *design.family;
  Placements p{in_filling_order(family, design.goal), supplies_of(design), {}};
  const Order order = numbered(p.goal);
  p.problem.cells = static_cast<int>(p.goal.size());
  for (Cell c : p.goal)
    p.problem.may_stay_empty.push_back(
        std::binary_search(design.may_stay_empty.begin(), design.may_stay_empty.end(), c));
  p.problem.neighbors = neighbors_in(family, p.goal);
  p.problem.chosen_in_all = design.pieces_used;
  for (const Supply& s : p.supplies) {
    add_options(design, s.shape, static_cast<int>(p.problem.supplies.size()), order, p.problem.options);
    p.problem.supplies.push_back({s.at_least, s.count});
  }
  const SymmetryTables tables(design, p, order);
  for (const Isometry& by : rotations_onto_itself(family, design.goal)) tables.add(by, false, p.problem.symmetries);
  if (up_to == UpTo::reflections)
    for (const Isometry& by : reflections_onto_itself(family, design.goal)) tables.add(by, true, p.problem.symmetries);
  return p;
}

Assembly assembly_of(const Placements& p, const Cover& cover) {
  Assembly a;
  for (int option : cover) {
    PlacedPiece piece{p.problem.options[option].supply, {}};
    for (int c : p.problem.options[option].cells) piece.cells.push_back(p.goal[c]);
    std::sort(piece.cells.begin(), piece.cells.end());
    a.push_back(std::move(piece));
  }
  std::sort(a.begin(), a.end(), [](const PlacedPiece& x, const PlacedPiece& y) { return x.cells < y.cells; });
  return a;
}

}  // namespace stickwright
