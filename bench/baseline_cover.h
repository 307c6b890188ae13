// baseline_cover.h - a plain exact-cover counter by dancing links: the yardstick for ratios.
// Kept plain on purpose; do not tune it, or old ratios lose their meaning.
// Method: D. E. Knuth, "Dancing links" (2000): branch on the item with the fewest live options, the first one on a tie.
#pragma once
#include <cstdint>
#include <vector>

namespace stickwright::bench {

class BaselineCover {
 public:
  std::uint64_t covers = 0;

  BaselineCover(int items, const std::vector<std::vector<int>>& options) : root_(items) {
    size_.assign(items, 0);
    head_.resize(items + 1);
    for (int i = 0; i < items; ++i) cell_.push_back({i, i, i});
    for (int i = 0; i <= items; ++i) head_[i] = {i == 0 ? root_ : i - 1, i == root_ ? 0 : i + 1};
    cell_.push_back({0, 0, -1});
    for (const auto& row : options) append(row);
  }

  void run() {
    covers = 0;
    search();
  }

 private:
  struct Link {
    std::int32_t up, down, item;  // item < 0 marks the gap between two options
  };
  struct Head {
    std::int32_t prev, next;  // ring of uncovered items
  };

  int root_;
  std::vector<Link> cell_;  // the column heads, then the options
  std::vector<Head> head_;
  std::vector<std::int32_t> size_;

  // A gap's `up` is the first cell of the option before it, its `down` the last cell of the option after it.
  void append(const std::vector<int>& row) {
    const int first = static_cast<int>(cell_.size());
    for (int i : row) {
      const int at = static_cast<int>(cell_.size()), tail = cell_[i].up;
      cell_.push_back({tail, i, i});
      cell_[tail].down = cell_[i].up = at;
      ++size_[i];
    }
    cell_[first - 1].down = static_cast<int>(cell_.size()) - 1;
    cell_.push_back({first, 0, -1});
  }

  void hide(int p) {
    for (int q = p + 1; q != p;) {
      const Link c = cell_[q];
      if (c.item < 0) {
        q = c.up;
        continue;
      }
      cell_[c.up].down = c.down;
      cell_[c.down].up = c.up;
      --size_[c.item];
      ++q;
    }
  }
  void unhide(int p) {
    for (int q = p - 1; q != p;) {
      const Link c = cell_[q];
      if (c.item < 0) {
        q = c.down;
        continue;
      }
      cell_[c.up].down = cell_[c.down].up = q;
      ++size_[c.item];
      --q;
    }
  }
  void cover(int i) {
    for (int p = cell_[i].down; p != i; p = cell_[p].down) hide(p);
    head_[head_[i].prev].next = head_[i].next;
    head_[head_[i].next].prev = head_[i].prev;
  }
  void uncover(int i) {
    head_[head_[i].prev].next = head_[head_[i].next].prev = i;
    for (int p = cell_[i].up; p != i; p = cell_[p].up) unhide(p);
  }

  void search() {
    int best = head_[root_].next;
    if (best == root_) {
      ++covers;
      return;
    }
    for (int i = head_[best].next; i != root_; i = head_[i].next)
      if (size_[i] < size_[best]) best = i;
    if (size_[best] == 0) return;
    cover(best);
    for (int p = cell_[best].down; p != best; p = cell_[p].down) {
      for (int q = p + 1; q != p;)
        if (cell_[q].item < 0)
          q = cell_[q].up;
        else
          cover(cell_[q++].item);
      search();
      for (int q = p - 1; q != p;)
        if (cell_[q].item < 0)
          q = cell_[q].down;
        else
          uncover(cell_[q--].item);
    }
    uncover(best);
  }
};

}  // namespace stickwright::bench
