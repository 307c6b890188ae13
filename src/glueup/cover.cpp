#include "glueup/cover.h"

#include <algorithm>
#include <bitset>

#include "block/catalogue.h"

namespace stickwright {
namespace {

constexpr std::size_t kMostPieceCells = 512;
using Mask = std::bitset<kMostPieceCells>;

struct Candidate {
  Mask mask;
  Cells cells;
};

class Covers {
 public:
  Covers(const Cells& piece, std::int64_t covers, std::int64_t nodes,
         const std::function<void(std::vector<Cells>)>& take)
      : by_cell_(piece.size()), covers_left_(covers), nodes_left_(nodes), take_(take) {
    for_each_block_within(piece, [&](const Cells& block) { add(piece, block); });
    for (auto& list : by_cell_)
      std::stable_sort(list.begin(), list.end(),
                       [](const Candidate& a, const Candidate& b) { return a.cells.size() > b.cells.size(); });
  }

  Verdict run() {
    for (std::size_t blocks = 1; !found_; ++blocks) fill(blocks);
    return covers_left_ > 0 && !out_of_nodes_ ? Verdict::found : Verdict::stopped;
  }

 private:
  // Each block is listed under its least cell: the least empty cell is always filled next.
  void add(const Cells& piece, const Cells& block) {
    Candidate c{{}, block};
    for (Cell cell : block)
      c.mask.set(static_cast<std::size_t>(std::lower_bound(piece.begin(), piece.end(), cell) - piece.begin()));
    largest_ = std::max(largest_, block.size());
    for (std::size_t i = 0; i < piece.size(); ++i)
      if (c.mask[i]) return by_cell_[i].push_back(std::move(c));
  }

  void fill(std::size_t blocks_left) {
    const std::size_t empty = by_cell_.size() - filled_.count();
    if (empty == 0) return give();
    if (blocks_left * largest_ < empty || stop()) return;
    std::size_t cell = 0;
    while (filled_[cell]) ++cell;
    for (const Candidate& c : by_cell_[cell]) {
      if ((c.mask & filled_).any()) continue;
      filled_ |= c.mask;
      path_.push_back(&c);
      fill(blocks_left - 1);
      path_.pop_back();
      filled_ &= ~c.mask;
    }
  }

  // Once a cover is in hand, limits end the comparison; before that, the search goes on until it has one.
  bool stop() {
    if (--nodes_left_ < 0) out_of_nodes_ = true;
    return found_ && (out_of_nodes_ || covers_left_ <= 0);
  }

  void give() {
    found_ = true;
    --covers_left_;
    std::vector<Cells> blocks;
    for (const Candidate* c : path_) blocks.push_back(c->cells);
    take_(std::move(blocks));
  }

  std::vector<std::vector<Candidate>> by_cell_;
  std::size_t largest_ = 1;
  std::int64_t covers_left_, nodes_left_;
  const std::function<void(std::vector<Cells>)>& take_;
  Mask filled_;
  std::vector<const Candidate*> path_;
  bool found_ = false, out_of_nodes_ = false;
};

}  // namespace

Verdict fewest_block_covers(const Cells& piece, std::int64_t most_covers, std::int64_t most_nodes,
                            const std::function<void(std::vector<Cells>)>& take) {
  return Covers(piece, most_covers, most_nodes, take).run();
}

}  // namespace stickwright
