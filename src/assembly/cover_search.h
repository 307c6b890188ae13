// cover_search.h - the depth-first search for covers, below one branch of one case.
#pragma once
#include <algorithm>
#include <functional>
#include <limits>
#include <memory>
#include <vector>

#include "assembly/cover_memo.h"
#include "assembly/cover_tables.h"

namespace stickwright {

// What the search fills next: the place that the fewest options can fill, or always the first one that is empty. The
// second is quicker by the choice and meets equal remainders again and again, which pays on narrow goals.
enum class CoverHabit { rarest_first, in_order };

// Hears of a branch while it is searched, from the thread that does.
struct BranchEar {
  std::function<void(const Cover&)> found;                             // one that counts, sorted
  std::function<void(std::int64_t covers, std::int64_t nodes)> alive;  // so many more since the last time
};

struct BranchLimits {
  std::int64_t nodes = std::numeric_limits<std::int64_t>::max();
  std::int64_t covers = std::numeric_limits<std::int64_t>::max();
  std::size_t keep = 0;
  const std::atomic<bool>* cancel = nullptr;   // by the user
  const std::atomic<bool>* settled = nullptr;  // by another branch: nobody wants this one any more
  const BranchEar* ear = nullptr;
};

struct BranchAnswer {
  bool finished = false;
  std::int64_t count = 0, total = 0, nodes = 0;
  std::vector<Cover> kept;
};

// How a cover that was found counts: into how many classes (0 or 1), and into how many covers in all.
struct CoverWorth {
  std::int64_t classes = 1, all = 1;
};

template <int W>
class CoverSearch {
 public:
  CoverSearch(const CoverTables<W>& tables, CoverHabit habit) : t_(tables), habit_(habit) {
    std::uint64_t radix = 1;
    for (std::size_t s = 0; s < t_.size.size(); ++s) {
      const bool counted = !t_.supply_bit[s].empty() && t_.problem->supplies[s].at_most > 1;
      repeats_ |= t_.problem->supplies[s].at_most > 1;
      radix_.push_back(counted ? radix : 0);
      if (counted) memo_fits_ &= !__builtin_mul_overflow(radix, t_.problem->supplies[s].at_most + 1, &radix);
    }
  }

  // The options of one case. Options outside it are never chosen. Nothing to do when it is the case at hand.
  //   assumes  `allowed` stays where it is
  void take_case(const std::vector<char>& allowed) {
    if (case_ == &allowed) return;
    case_ = &allowed;
    case_size_ = static_cast<std::size_t>(std::count(allowed.begin(), allowed.end(), 1));
    by_first_cell_.assign(t_.problem->cells, {});
    Entry* to = entries_.room_for(0, case_size_);
    for (std::size_t o = 0; o < t_.option.size(); ++o) {
      if (!allowed[o]) continue;
      *to++ = {t_.option[o], static_cast<int>(o)};
      by_first_cell_[t_.option[o].first()].push_back({t_.option[o], static_cast<int>(o)});
    }
  }

  // The choices at the node that the path leads to. Nothing: the path is a cover; empty: a dead end.
  std::optional<std::vector<int>> choices(const Cover& path) {
    begin({});
    std::vector<int> out;
    const State at = follow(path);
    if (t_.simple ? at.used.holds(t_.wanted) : done(at.used)) return std::nullopt;
    if (at.dead) return out;
    if (habit_ == CoverHabit::in_order && t_.simple) {
      if (at.used.holds(t_.cells)) return out;
      for (const Entry& e : by_first_cell_[(t_.cells - at.used).first()])
        if (!e.bits.meets(at.used)) out.push_back(e.option);
      return out;
    }
    if (open_of(at.used).empty()) return std::nullopt;  // what is left to choose is no exact cover: do not split here
    const int item = rarest(at);
    for (std::size_t k = at.from; k < at.to; ++k)
      if (entries_[k].bits.has(item)) out.push_back(entries_[k].option);
    return out;
  }

  // Searches below a path. `worth(cover)` is asked for every cover when it is given; otherwise each counts as one.
  template <class Worth>
  BranchAnswer run(const Cover& path, const BranchLimits& limits, const Worth* worth) {
    begin(limits);
    const State at = follow(path);
    const auto take = [&](const Cover& cover) {
      const CoverWorth w = worth ? (*worth)(cover) : CoverWorth{};
      answer_.count += w.classes, answer_.total += w.all;
      if (w.classes > 0 && answer_.kept.size() < limits_.keep) {
        answer_.kept.push_back(sorted(cover));
        if (limits_.ear) limits_.ear->found(answer_.kept.back());
      }
      if (answer_.count >= limits_.covers) stopped_ = true;
    };
    weighed_ = worth != nullptr;
    if (!at.dead) {
      if (habit_ == CoverHabit::in_order && t_.simple)
        in_order(at.used, take);
      else
        rarest_first(at, take);
    }
    answer_.finished = !stopped_ && !overflow_;
    tell_alive();
    return std::move(answer_);
  }

 private:
  struct Entry {
    Bits<W> bits;
    int option;
  };
  // A node: what is taken, and the options that still fit, with how many of them can fill each bit.
  struct State {
    Bits<W> used;
    std::size_t from, to;
    bool dead = false;
    Tally<W> ways{};
  };

  // A store that grows without setting new room to zero: lists are written once and read a few times.
  class Store {
   public:
    Entry* room_for(std::size_t from, std::size_t more) {
      if (from + more > room_) {
        room_ = 2 * (from + more);
        auto larger = std::make_unique_for_overwrite<Entry[]>(room_);
        std::copy_n(at_.get(), from, larger.get());
        at_ = std::move(larger);
      }
      return at_.get() + from;
    }
    const Entry& operator[](std::size_t k) const { return at_[k]; }
    const Entry* at(std::size_t k) const { return at_.get() + k; }

   private:
    std::unique_ptr<Entry[]> at_;
    std::size_t room_ = 0;
  };

  static Cover sorted(Cover cover) {
    std::sort(cover.begin(), cover.end());
    return cover;
  }

  void begin(const BranchLimits& limits) {
    limits_ = limits;
    answer_ = {};
    told_count_ = told_nodes_ = 0;
    path_.clear();
    stopped_ = overflow_ = false;
    left_code_ = 0;
    used_.assign(t_.size.size(), 0);
    memo_.clear();
  }

  State follow(const Cover& path) {
    State at = fit({{}, 0, case_size_}, {}, case_size_);
    for (int option : path) {
      const Bits<W> taken = choose(option);
      at.used |= taken;
      at = fit(at, taken, at.to);
    }
    return at;
  }

  // Bits that an option takes from now on: its cells, and its supply when that has run out. Counts it as used.
  Bits<W> choose(int option) {
    const int s = t_.problem->options[option].supply;
    path_.push_back(option);
    left_code_ += radix_[s];
    ++used_[s];
    return used_[s] < t_.problem->supplies[s].at_most ? t_.option[option] - t_.supply_bit[s] : t_.option[option];
  }
  void unchoose(int option) {
    const int s = t_.problem->options[option].supply;
    path_.pop_back();
    left_code_ -= radix_[s];
    --used_[s];
  }

  // The options of a node's list that do not meet `taken`, as a new list that starts at `start` of the store.
  State fit(const State& at, const Bits<W>& taken, std::size_t start) {
    Entry* const first = entries_.room_for(start, at.to - at.from);
    Entry* to = first;
    for (const Entry *e = entries_.at(at.from), *end = e + (at.to - at.from); e != end; ++e) {
      *to = *e;  // without a branch: about every other option goes
      to += !e->bits.meets(taken);
    }
    State out{at.used, start, start + static_cast<std::size_t>(to - first)};
    Bits<W> reach = at.used;
    for (const Entry* e = first; e != to; ++e) {
      reach |= e->bits;
      out.ways.add(e->bits);
    }
    out.dead = !reach.holds(t_.wanted);
    return out;
  }

  Bits<W> open_of(const Bits<W>& used) const { return t_.wanted - used; }

  // The wanted bit that the fewest options of the list can fill; the least of them on a tie.
  int rarest(const State& at) {
    int count = 0;
    const Bits<W> best = at.ways.rarest(open_of(at.used), &count);
    return count < 15 ? best.first() : rarest_of(best, at.from, at.to);
  }
  int rarest_of(const Bits<W>& among, std::size_t from, std::size_t to) {
    ways_.assign(64 * W, 0);
    for (std::size_t k = from; k < to; ++k)
      for (int w = 0; w < W; ++w)
        for (std::uint64_t bits = entries_[k].bits.word[w] & among.word[w]; bits; bits &= bits - 1)
          ++ways_[64 * w + std::countr_zero(bits)];
    int best = among.first();
    for (int i = best; i < 64 * W; ++i)
      if (among.has(i) && ways_[i] < ways_[best]) best = i;
    return best;
  }

  bool open_node() {
    if (stopped_) return false;
    if (answer_.nodes >= limits_.nodes) return !(stopped_ = true);
    if ((++answer_.nodes & 1023) == 0) {
      tell_alive();
      if (raised(limits_.cancel) || raised(limits_.settled)) return !(stopped_ = true);
    }
    return true;
  }
  void tell_alive() {
    if (!limits_.ear) return;
    limits_.ear->alive(answer_.count - told_count_, answer_.nodes - told_nodes_);
    told_count_ = answer_.count, told_nodes_ = answer_.nodes;
  }
  static bool raised(const std::atomic<bool>* flag) { return flag && flag->load(std::memory_order_relaxed); }

  // True while covers have to be met one by one; a count that is remembered will not do then.
  bool listing() const {
    return weighed_ || answer_.kept.size() < limits_.keep || limits_.covers != std::numeric_limits<std::int64_t>::max();
  }

  // Remainders without a cover are always skipped, counted ones when nobody wants to see the covers.
  // returns  true when the remainder is dealt with
  bool remembered(const Bits<W>& used) {
    const auto known = memo_.find(used, left_code_);
    if (!known || (*known > 0 && listing())) return false;
    overflow_ |= __builtin_add_overflow(answer_.count, *known, &answer_.count);
    answer_.total = answer_.count;
    return true;
  }

  // The pieces of the supplies are all as they have to be.
  bool enough_of_each() const {
    for (std::size_t s = 0; s < used_.size(); ++s)
      if (used_[s] < t_.problem->supplies[s].at_least) return false;
    const auto& in_all = t_.problem->chosen_in_all;
    return !in_all || static_cast<int>(path_.size()) == *in_all;
  }
  bool done(const Bits<W>& used) const { return used.holds(t_.wanted) && enough_of_each(); }

  // Cells and pieces that are left do not rule each other out by their numbers.
  bool numbers_fit(const Bits<W>& used) const {
    const int must = (t_.cells - t_.spare_cells - used).count(), may = (t_.cells - used).count();
    std::int64_t owed = 0;
    int least = std::numeric_limits<int>::max(), most = 0;
    for (std::size_t s = 0; s < used_.size(); ++s) {
      const CoverSupply& supply = t_.problem->supplies[s];
      owed += std::int64_t{std::max(0, supply.at_least - used_[s])} * t_.size[s];
      if (used_[s] < supply.at_most && t_.size[s] > 0)
        least = std::min(least, t_.size[s]), most = std::max(most, t_.size[s]);
    }
    if (owed > may) return false;
    if (!t_.problem->chosen_in_all) return true;
    const std::int64_t more = *t_.problem->chosen_in_all - static_cast<int>(path_.size());
    return more >= 0 && more * most >= must && (more == 0 || more * least <= may);
  }

  // Dark and light cells that are left can be made even by the pieces that are left.
  bool colors_fit(const Bits<W>& used) const {
    if (t_.dark.empty()) return true;
    const Bits<W> open = t_.cells - used;
    int spare = 0;
    for (std::size_t s = 0; s < used_.size(); ++s) spare += t_.tilt[s] * (t_.problem->supplies[s].at_most - used_[s]);
    return std::abs(2 * (open & t_.dark).count() - open.count()) <= spare;
  }

  // Each region of empty cells has the size of some of the pieces that are left, together.
  bool regions_fit(const Bits<W>& used) const {
    if (t_.neighbors.empty()) return true;
    Bits<W> open = t_.cells - used;
    std::uint64_t sums = 0;
    while (true) {
      const Bits<W> region = region_of(open);
      open -= region;
      if (open.empty()) return true;  // what is left over has the size of the pieces that are left over
      if (sums == 0) sums = sums_of_sizes();
      if (const int size = region.count(); size < 64 && !(sums >> size & 1)) return false;
    }
  }
  Bits<W> region_of(const Bits<W>& open) const {
    Bits<W> region, front;
    region.set(open.first());
    front = region;
    while (!front.empty()) {
      Bits<W> next;
      for (int w = 0; w < W; ++w)
        for (std::uint64_t bits = front.word[w]; bits; bits &= bits - 1)
          next |= t_.neighbors[64 * w + std::countr_zero(bits)];
      next &= open;
      next -= region;
      region |= next;
      front = next;
    }
    return region;
  }
  // Bit n: some of the pieces that are left have n cells together.
  std::uint64_t sums_of_sizes() const {
    std::uint64_t sums = 1;
    for (std::size_t s = 0; s < used_.size(); ++s)
      for (int k = used_[s]; k < t_.problem->supplies[s].at_most; ++k)
        if (t_.size[s] < 64) sums |= sums << t_.size[s];
    return sums;
  }

  template <class Take>
  void rarest_first(const State& at, const Take& take) {
    if (open_of(at.used).empty()) return t_.simple ? take(path_) : at_the_end(at, 0, take);
    if (!open_node()) return;
    if (!t_.simple && !numbers_fit(at.used)) return;
    if (t_.exact_volume && at.to - at.from >= kWorthALook && !(colors_fit(at.used) && regions_fit(at.used))) return;
    const bool memo = repeats_ && t_.simple && memo_fits_;
    if (memo && remembered(at.used)) return;
    const std::int64_t before = answer_.count;
    const Parted list = part(at, rarest(at));
    for (std::size_t k = at.to; k < list.choices_end; ++k) {
      const int option = entries_[k].option;
      const Bits<W> taken = choose(option);
      const State next = fit({at.used | taken, list.rest, list.rest_end}, taken, list.rest_end);
      if (!next.dead) rarest_first(next, take);
      unchoose(option);
      if (stopped_) return;
    }
    if (memo && !weighed_) memo_.note(at.used, left_code_, answer_.count - before);
  }

  struct Parted {
    std::size_t choices_end, rest, rest_end;
  };
  // Appends the options of the node that fill the item, and apart from them the others.
  Parted part(const State& at, int item) {
    const std::size_t size = at.to - at.from;
    Entry* const start = entries_.room_for(at.to, 2 * size);
    const Entry* const first = entries_.at(at.from);
    Entry *with = start, *without = start + size;
    for (const Entry* e = first; e != first + size; ++e) {
      *with = *e, *without = *e;
      const bool has = e->bits.has(item);
      with += has, without += !has;
    }
    return {at.to + static_cast<std::size_t>(with - start), at.to + size,
            at.to + static_cast<std::size_t>(without - start)};
  }

  // Everything wanted is filled; what else may or must be chosen lies in cells that may stay empty. Each set of options
  // is met once because they are taken in ascending order.
  template <class Take>
  void at_the_end(const State& at, int least_option, const Take& take) {
    if (!open_node()) return;
    if (enough_of_each()) take(path_);
    if (!numbers_fit(at.used)) return;
    for (std::size_t k = at.from; k < at.to && !stopped_; ++k) {
      const int option = entries_[k].option;
      if (option < least_option) continue;
      const Bits<W> taken = choose(option);
      State next = fit({at.used | taken, at.from, at.to}, taken, at.to);
      at_the_end(next, option + 1, take);
      unchoose(option);
    }
  }

  template <class Take>
  void in_order(const Bits<W>& used, const Take& take) {
    if (used.holds(t_.wanted)) return take(path_);
    const Bits<W> empty = t_.cells - used;
    if (empty.empty() || !open_node()) return;  // all cells are filled, but a piece is left over
    if (memo_fits_ && remembered(used)) return;
    const std::int64_t before = answer_.count;
    for (const Entry& e : by_first_cell_[empty.first()]) {
      if (e.bits.meets(used)) continue;
      const Bits<W> taken = choose(e.option);
      in_order(used | taken, take);
      unchoose(e.option);
      if (stopped_) return;
    }
    if (memo_fits_ && !weighed_) memo_.note(used, left_code_, answer_.count - before);
  }

  static constexpr std::size_t kWorthALook = 100;  // options that still fit: below, the search itself is as quick

  const CoverTables<W>& t_;
  CoverHabit habit_;
  bool repeats_ = false, memo_fits_ = true;
  std::vector<std::uint64_t> radix_;  // by supply: what one piece adds to left_code_
  const std::vector<char>* case_ = nullptr;
  std::size_t case_size_ = 0;
  Store entries_;  // the case's options, then the lists of the open nodes one after the other
  std::vector<std::vector<Entry>> by_first_cell_;
  std::vector<int> ways_, used_;
  Cover path_;
  std::uint64_t left_code_ = 0;
  CoverMemo<W> memo_;
  BranchLimits limits_;
  BranchAnswer answer_;
  std::int64_t told_count_ = 0, told_nodes_ = 0;
  bool stopped_ = false, overflow_ = false, weighed_ = false;
};

}  // namespace stickwright
