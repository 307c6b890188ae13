#include "glueup/glueup.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "glueup/cover.h"

namespace stickwright {
namespace {

// One way to split a piece, among those with the fewest blocks.
struct Option {
  std::set<Cells> shapes;  // canonical
  int glued_faces = 0;
  int smallest = 0;  // cells of the smallest block: of two splits with equal glue, the one without slivers is taken
  std::vector<Cells> blocks;
  std::pair<int, int> merit() const { return {glued_faces, smallest}; }
};

int count_glued_faces(const std::vector<Cells>& blocks) {
  std::map<Cell, int> block_at;
  for (std::size_t i = 0; i < blocks.size(); ++i)
    for (Cell c : blocks[i]) block_at[c] = static_cast<int>(i);
  int faces = 0;
  for (const auto& [cell, block] : block_at)
    for (Cell n : mitered().neighbors(cell)) {
      const auto at = block_at.find(n);
      faces += at != block_at.end() && block < at->second;
    }
  return faces;
}

Option option_of(std::vector<Cells> blocks) {
  Option o{{}, count_glued_faces(blocks), static_cast<int>(blocks.front().size()), std::move(blocks)};
  for (const Cells& b : o.blocks) {
    o.shapes.insert(shape_of(mitered(), b).shape.cells);
    o.smallest = std::min(o.smallest, static_cast<int>(b.size()));
  }
  return o;
}

// For each set of shapes, the option with the most glue; in the order in which sets were first met.
std::vector<Option> best_options(const MadePiece& piece, const SplitLimits& limits, Verdict& verdict) {
  if (!piece.own_blocks.empty()) return {option_of(piece.own_blocks)};
  std::map<std::set<Cells>, Option> best;
  const Verdict v = fewest_block_covers(piece.cells, limits.covers, limits.nodes, [&](std::vector<Cells> blocks) {
    Option o = option_of(std::move(blocks));
    const auto [at, added] = best.try_emplace(o.shapes, o);
    if (!added && at->second.merit() < o.merit()) at->second = std::move(o);
  });
  if (v == Verdict::stopped) verdict = Verdict::stopped;
  std::vector<Option> out;
  for (auto& [shapes, o] : best) out.push_back(std::move(o));
  return out;
}

// Chooses one option a piece: fewest shapes in all, then the most glue. Exhaustive with a bound on the shapes.
class Chooser {
 public:
  explicit Chooser(std::vector<std::vector<Option>> options) : options_(std::move(options)), chosen_(options_.size()) {
    choose(0, {}, {0, 0});
  }
  bool stopped() const { return nodes_ > kMostNodes; }
  std::vector<std::vector<Cells>> blocks() const {
    std::vector<std::vector<Cells>> out;
    for (std::size_t i = 0; i < options_.size(); ++i) out.push_back(options_[i][best_[i]].blocks);
    return out;
  }

 private:
  void choose(std::size_t piece, const std::set<Cells>& shapes, std::pair<int, int> merit) {
    if (!best_.empty() && (shapes.size() > best_shapes_ || ++nodes_ > kMostNodes)) return;
    if (piece == options_.size()) return take(shapes.size(), merit);
    for (std::size_t k = 0; k < options_[piece].size(); ++k) {
      chosen_[piece] = k;
      const Option& o = options_[piece][k];
      std::set<Cells> more = shapes;
      more.insert(o.shapes.begin(), o.shapes.end());
      choose(piece + 1, more, {merit.first + o.glued_faces, merit.second + o.smallest});
    }
  }

  void take(std::size_t shapes, std::pair<int, int> merit) {
    if (!best_.empty() && shapes == best_shapes_ && merit <= best_merit_) return;
    best_ = chosen_;
    best_shapes_ = shapes;
    best_merit_ = merit;
  }

  std::vector<std::vector<Option>> options_;
  std::vector<std::size_t> chosen_, best_;
  static constexpr std::int64_t kMostNodes = 200'000;
  std::int64_t nodes_ = 0;
  std::size_t best_shapes_ = 0;
  std::pair<int, int> best_merit_;  // glued faces, then cells of the smallest blocks, summed over the pieces
};

std::vector<Block> shapes_in(const std::vector<std::vector<Cells>>& pieces) {
  std::size_t largest = 1;
  std::set<Cells> used;
  for (const auto& blocks : pieces)
    for (const Cells& b : blocks) {
      largest = std::max(largest, b.size());
      used.insert(shape_of(mitered(), b).shape.cells);
    }
  std::vector<Block> shapes = block_catalogue(static_cast<int>(largest));
  std::erase_if(shapes, [&](const Block& b) { return !used.contains(b.cells); });
  return shapes;
}

GlueUp glue_up(std::vector<Cells> blocks, const std::vector<Block>& shapes) {
  std::stable_sort(blocks.begin(), blocks.end(),
                   [](const Cells& a, const Cells& b) { return std::pair(b.size(), a) < std::pair(a.size(), b); });
  GlueUp g;
  for (const Cells& cells : blocks) {
    const auto found = find_block(shapes, cells);
    g.blocks.push_back({static_cast<int>(found->block - shapes.data()), cells, found->pose, 2});
  }
  g.joints = joints_of(blocks);
  return g;
}

int axis_after(const Turn& turn, int axis) {
  const Vec v = turn * axis_vec(axis);
  return v.x != 0 ? 0 : v.y != 0 ? 1 : 2;
}

// The directions in which the grain of a placed block can run when it is cut along `stick_axis` of its canonical pose.
std::set<int> grain_choices(const Block& shape, const PlacedBlock& placed, int stick_axis) {
  std::set<int> axes;
  for (const Isometry& own : rotations_onto_itself(mitered(), shape.cells))
    axes.insert(axis_after(placed.pose.turn * own.turn, stick_axis));
  return axes;
}

}  // namespace

double Joint::area_units() const {
  return cell_faces * std::sqrt(2.0);
}

std::vector<Joint> joints_of(const std::vector<Cells>& blocks) {
  std::map<Cell, int> block_at;
  for (std::size_t i = 0; i < blocks.size(); ++i)
    for (Cell c : blocks[i]) block_at[c] = static_cast<int>(i);
  std::map<std::pair<int, int>, Joint> joints;
  for (const auto& [cell, a] : block_at) {
    const auto across = mitered().neighbors(cell);
    const auto planes = mitered().planes(cell);
    for (std::size_t f = 0; f < across.size(); ++f) {
      const auto at = block_at.find(across[f]);
      if (at == block_at.end() || at->second <= a) continue;
      Joint& j = joints.try_emplace({a, at->second}, Joint{a, at->second, planes[f], 0}).first->second;
      ++j.cell_faces;
    }
  }
  std::vector<Joint> out;
  for (const auto& [key, joint] : joints) out.push_back(joint);
  return out;
}

Split split_pieces(const std::vector<MadePiece>& pieces, const SplitLimits& limits) {
  Split split{Verdict::found, {}, {}};
  std::vector<std::vector<Option>> options;
  for (const MadePiece& p : pieces) options.push_back(best_options(p, limits, split.verdict));
  const Chooser chooser(std::move(options));
  if (chooser.stopped()) split.verdict = Verdict::stopped;
  const auto blocks = chooser.blocks();
  split.shapes = shapes_in(blocks);
  for (const auto& piece_blocks : blocks) split.pieces.push_back(glue_up(piece_blocks, split.shapes));
  return split;
}

bool check_glue_up(const GlueUp& g, const std::vector<Block>& shapes, const Cells& piece) {
  Cells filled;
  int faces_glued = 0, faces_between = 0;
  for (const PlacedBlock& b : g.blocks) {
    filled.insert(filled.end(), b.cells.begin(), b.cells.end());
    if (moved(mitered(), b.pose, shapes[b.shape].cells) != b.cells) return false;
    for (Cell c : b.cells)
      for (Cell n : mitered().neighbors(c))
        faces_between +=
            std::binary_search(piece.begin(), piece.end(), n) && !std::binary_search(b.cells.begin(), b.cells.end(), n);
  }
  for (const Joint& j : g.joints) faces_glued += j.cell_faces;
  std::sort(filled.begin(), filled.end());
  return filled == piece && 2 * faces_glued == faces_between;
}

std::vector<int> glue_stages(const GlueUp& g) {
  std::vector<int> level(g.blocks.size(), -1), stages;
  level[0] = 0;
  for (int depth = 0; depth < static_cast<int>(g.blocks.size()); ++depth)
    for (const Joint& j : g.joints)
      for (const auto& [from, to] : {std::pair(j.a, j.b), std::pair(j.b, j.a)})
        if (level[from] == depth && level[to] < 0) level[to] = depth + 1;
  for (const Joint& j : g.joints) stages.push_back(std::max({1, level[j.a], level[j.b]}));
  return stages;
}

void run_grain(Split& split, const std::vector<int>& stick_axis) {
  for (GlueUp& g : split.pieces) {
    std::array<std::size_t, 3> wood{};
    for (const PlacedBlock& b : g.blocks)
      for (int axis : grain_choices(split.shapes[b.shape], b, stick_axis[b.shape])) wood[axis] += b.cells.size();
    for (PlacedBlock& b : g.blocks) {
      const std::set<int> choices = grain_choices(split.shapes[b.shape], b, stick_axis[b.shape]);
      b.grain_axis = *std::max_element(choices.begin(), choices.end(), [&](int p, int q) { return wood[p] < wood[q]; });
    }
  }
}

}  // namespace stickwright
