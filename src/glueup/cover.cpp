#include "glueup/cover.h"

#include <algorithm>
#include <bitset>
#include <numeric>
#include <unordered_map>

#include "block/catalogue.h"
#include "design/design.h"

namespace stickwright {
namespace {

using Mask = std::bitset<kMaxGoalCells>;

struct Candidate {
  Mask mask;
  Cells cells;
};

// A cell counts for one over the size of the largest block that holds it, in parts of this whole. No block holds cells
// that count for more than the whole, so what is left to fill needs at least its sum of blocks.
constexpr std::int64_t kWhole = 720'720;

class Covers {
 public:
  Covers(const Cells& piece, std::int64_t covers, std::int64_t nodes,
         const std::function<void(std::vector<Cells>)>& take)
      : by_cell_(piece.size()), share_(piece.size(), kWhole), covers_left_(covers), nodes_left_(nodes), take_(take) {
    for_each_block_within(piece, [&](const Cells& block) { add(piece, block); });
    for (auto& list : by_cell_)
      std::stable_sort(list.begin(), list.end(),
                       [](const Candidate& a, const Candidate& b) { return a.cells.size() > b.cells.size(); });
  }

  Verdict run() {
    for (std::size_t blocks = 1; !found_ && !out_of_nodes_; ++blocks) {
      failed_.clear();  // more blocks may do what fewer could not
      fill(blocks, std::accumulate(share_.begin(), share_.end(), std::int64_t{0}));
    }
    if (!found_) give(largest_first());
    return covers_left_ > 0 && !out_of_nodes_ ? Verdict::found : Verdict::stopped;
  }

 private:
  // Each block is listed under its least cell: the least empty cell is always filled next.
  void add(const Cells& piece, const Cells& block) {
    Candidate c{{}, block};
    for (Cell cell : block) {
      const auto i = static_cast<std::size_t>(std::lower_bound(piece.begin(), piece.end(), cell) - piece.begin());
      c.mask.set(i);
      share_[i] = std::min(share_[i], kWhole / static_cast<std::int64_t>(block.size()));
    }
    for (std::size_t i = 0; i < piece.size(); ++i)
      if (c.mask[i]) return by_cell_[i].push_back(std::move(c));
  }

  std::int64_t share_of(const Mask& mask) const {
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < share_.size(); ++i)
      if (mask[i]) sum += share_[i];
    return sum;
  }

  // `left`: what the empty cells count for.   returns  whether a cover was found from here
  bool fill(std::size_t blocks_left, std::int64_t left) {
    if (filled_.count() == by_cell_.size()) return give(path_);
    if (static_cast<std::int64_t>(blocks_left) * kWhole < left || stop() || known_to_fail(blocks_left)) return false;
    std::size_t cell = 0;
    while (filled_[cell]) ++cell;
    bool some = false;
    for (const Candidate& c : by_cell_[cell]) {
      if ((c.mask & filled_).any()) continue;
      filled_ |= c.mask;
      path_.push_back(&c);
      some |= fill(blocks_left - 1, left - share_of(c.mask));
      path_.pop_back();
      filled_ &= ~c.mask;
    }
    if (!some && !out_of_nodes_ && covers_left_ > 0 && failed_.size() < kMostRemembered) failed_[filled_] = blocks_left;
    return some;
  }

  bool known_to_fail(std::size_t blocks_left) const {
    const auto at = failed_.find(filled_);
    return at != failed_.end() && blocks_left <= at->second;
  }

  bool stop() {
    if (--nodes_left_ < 0) out_of_nodes_ = true;
    return out_of_nodes_ || covers_left_ <= 0;
  }

  // A cover for when the search had to be given up: never none, since every cell is a block.
  std::vector<const Candidate*> largest_first() const {
    std::vector<const Candidate*> path;
    Mask filled;
    for (std::size_t cell = 0; cell < by_cell_.size(); ++cell) {
      if (filled[cell]) continue;
      for (const Candidate& c : by_cell_[cell])
        if ((c.mask & filled).none()) {
          filled |= c.mask;
          path.push_back(&c);
          break;
        }
    }
    return path;
  }

  bool give(const std::vector<const Candidate*>& path) {
    found_ = true;
    --covers_left_;
    std::vector<Cells> blocks;
    for (const Candidate* c : path) blocks.push_back(c->cells);
    take_(std::move(blocks));
    return true;
  }

  static constexpr std::size_t kMostRemembered = 1'000'000;
  std::vector<std::vector<Candidate>> by_cell_;
  std::vector<std::int64_t> share_;
  std::int64_t covers_left_, nodes_left_;
  const std::function<void(std::vector<Cells>)>& take_;
  Mask filled_;
  std::vector<const Candidate*> path_;
  std::unordered_map<Mask, std::size_t>
      failed_;  // cells filled from which no cover was found, with so many blocks left
  bool found_ = false, out_of_nodes_ = false;
};

}  // namespace

Verdict fewest_block_covers(const Cells& piece, std::int64_t most_covers, std::int64_t most_nodes,
                            const std::function<void(std::vector<Cells>)>& take) {
  return Covers(piece, most_covers, most_nodes, take).run();
}

}  // namespace stickwright
