#include <fmt/format.h>

#include <algorithm>
#include <bitset>
#include <map>
#include <numeric>

#include "metrology/stack_search.h"

namespace stickwright {
namespace {

using Mask = std::bitset<kMostGaugeBlocks>;

struct Candidate {
  Choice choice;
  Mask blocks;
};
// Stacks for one target, best first.
struct Candidates {
  std::vector<Candidate> list;
  std::optional<StackKey> cut;  // set when worse ones were dropped: none of those had a smaller key
};

constexpr std::size_t kMostTargets = 8;
// Kept for one target and count: 8 MB of the best, and if they leave the answer open, 64 MB.
constexpr std::size_t kFewCandidates = 200'000, kManyCandidates = 1'600'000;

Mask mask_of(const Choice& c, int k) {
  Mask m;
  for (int i = 0; i < k; ++i) m.set(c.block[std::size_t(i)]);
  return m;
}

bool is_better(const Candidate& a, const Candidate& b) {
  return a.choice < b.choice;
}

// Drops the worse ones as soon as twice as many as are kept have come together.
void keep_best(Candidates& c, std::size_t most) {
  if (c.list.size() <= most) return;
  const auto worse = c.list.begin() + static_cast<std::ptrdiff_t>(most);
  std::nth_element(c.list.begin(), worse, c.list.end(), is_better);
  c.cut = c.cut ? std::min(*c.cut, worse->choice.key) : worse->choice.key;
  c.list.erase(worse, c.list.end());
}

// Every stack of k blocks inside the window, or the best of them.
Candidates every_stack(Nm target, Nm within, const GaugeSet& set, int k, std::size_t most, Steps& steps) {
  const SumWindow window = window_of(target, within);
  Candidates all;
  const auto join = [&](const HalfList& before, std::size_t middle, const HalfList& after) {
    const GaugeBlock& block = set.blocks[middle];
    std::size_t pos = after.size();
    for (const HalfSum& part : before) {
      const std::int64_t sum = part.sum + block.size.v;
      while (pos > 0 && sum + after[pos - 1].sum >= window.low) --pos;
      for (std::size_t i = pos; i < after.size() && sum + after[i].sum <= window.high; ++i) {
        if (!steps.spend(1)) return;
        const StackKey key{part.tolerance + block.tolerance.v + after[i].tolerance,
                           std::abs(sum + after[i].sum - target.v)};
        const Choice choice = joined(k, key, part, middle, after[i]);
        all.list.push_back({choice, mask_of(choice, k)});
        if (all.list.size() >= 2 * most) keep_best(all, most);
      }
    }
  };
  for_each_middle(set, k, window, Keep::every, steps, join);
  keep_best(all, most);
  std::sort(all.list.begin(), all.list.end(), is_better);
  return all;
}

Mask in_every(const Candidates& c) {
  if (c.list.empty()) return {};
  Mask always = Mask{}.set();
  for (const Candidate& one : c.list) always &= one.blocks;
  return always;
}

// A block that stands in every candidate of one target is taken from all others, until nothing changes.
void give_way(std::vector<Candidates>& lists) {
  for (bool is_changed = true; is_changed;) {
    is_changed = false;
    for (std::size_t i = 0; i < lists.size(); ++i) {
      if (lists[i].list.empty()) return;
      if (lists[i].cut) continue;  // the dropped ones might do without the block
      const Mask always = in_every(lists[i]);
      for (std::size_t j = 0; j < lists.size(); ++j)
        if (j != i && std::erase_if(lists[j].list, [&](const Candidate& c) { return (c.blocks & always).any(); }) > 0)
          is_changed = true;
    }
  }
}

// One candidate from each list, no block twice, the smallest sum of keys; the first such in the order of the lists.
class Together {
 public:
  Together(const std::vector<Candidates>& lists, Steps& steps)
      : lists_(lists), steps_(steps), least_(lists.size() + 1) {
    for (std::size_t i = lists.size(); i-- > 0;) least_[i] = least_[i + 1] + lists[i].list.front().choice.key;
    chosen_.resize(lists.size());
  }

  // Looks for something better than `best`, which it replaces.
  bool improve(std::optional<StackKey>& best, std::vector<Choice>& choices) {
    best_ = best;
    place(0, Mask{}, StackKey{});
    if (found_.empty()) return false;
    best = best_;
    choices = found_;
    return true;
  }

 private:
  void place(std::size_t i, const Mask& used, StackKey so_far) {
    if (i == lists_.size()) {
      best_ = so_far;
      found_ = chosen_;
      return;
    }
    for (const Candidate& c : lists_[i].list) {
      if (best_ && so_far + c.choice.key + least_[i + 1] >= *best_) return;  // the list only gets worse
      if (!steps_.spend(1)) return;
      if ((c.blocks & used).any()) continue;
      chosen_[i] = c.choice;
      place(i + 1, used | c.blocks, so_far + c.choice.key);
    }
  }

  const std::vector<Candidates>& lists_;
  Steps& steps_;
  std::vector<StackKey> least_;  // of list i and all later ones
  std::vector<Choice> chosen_, found_;
  std::optional<StackKey> best_;
};

using Masks = std::vector<Mask>;

Masks without(const Masks& list, const Mask& used) {
  Masks rest;
  std::copy_if(list.begin(), list.end(), std::back_inserter(rest), [&](const Mask& m) { return (m & used).none(); });
  return rest;
}

// Whether there is one in each list such that no block is used twice. The shortest list goes first: it has the least to
// try, and what it leaves of the others is the least there is.
bool stand_together(std::vector<Masks> lists, Steps& steps) {
  if (lists.empty()) return true;
  const auto shortest =
      std::min_element(lists.begin(), lists.end(), [](auto& a, auto& b) { return a.size() < b.size(); });
  const Masks first = std::move(*shortest);
  lists.erase(shortest);
  for (const Mask& used : first) {
    std::vector<Masks> rest;
    for (const Masks& list : lists) {
      if (!steps.spend(static_cast<std::int64_t>(list.size()))) return true;
      rest.push_back(without(list, used));
      if (rest.back().empty()) break;
    }
    if (rest.size() == lists.size() && (rest.empty() || (!rest.back().empty() && stand_together(rest, steps))))
      return true;
  }
  return false;
}

Masks masks_of(const Candidates& c) {
  Masks masks;
  for (const Candidate& one : c.list) masks.push_back(one.blocks);
  return masks;
}

class SeveralStacks {
 public:
  SeveralStacks(std::span<const Nm> targets, Nm within, const GaugeSet& set, std::vector<int> fewest, Steps& steps)
      : targets_(targets),
        within_(within),
        set_(set),
        fewest_(std::move(fewest)),
        counts_(targets.size()),
        steps_(steps) {}

  // Do stacks of `total` blocks in all stand together? If so, `stacks` holds the best ones.
  Verdict search(int total) {
    const Verdict verdict = search_among_kept(total);
    if (verdict != Verdict::stopped || steps_.spent() || kept_ == kManyCandidates) return verdict;
    kept_ = kManyCandidates;
    std::erase_if(known_, [](const auto& entry) { return entry.second.cut.has_value(); });
    return search_among_kept(total);
  }

  // Of each target the blocks that stand in all stacks of its fewest blocks.
  std::vector<Mask> in_every_lowest() {
    std::vector<Mask> masks;
    for (std::size_t i = 0; i < targets_.size(); ++i) masks.push_back(in_every(candidates(i, fewest_[i])));
    return masks;
  }

  std::vector<Stack> stacks() const {
    std::vector<Stack> out;
    for (std::size_t i = 0; i < targets_.size(); ++i) out.push_back(to_stack(choices_[i], best_counts_[i], set_));
    return out;
  }

 private:
  Verdict search_among_kept(int total) {
    best_.reset();
    dropped_.reset();
    split(0, total);
    // What was dropped can be ignored only if it could not even have come level.
    if (steps_.spent() || (dropped_ && (!best_ || *dropped_ <= *best_))) return Verdict::stopped;
    return best_ ? Verdict::found : Verdict::none_exists;
  }

  // Every way to deal `left` blocks out to the targets from `i` on, few for the first one first.
  void split(std::size_t i, int left) {
    if (steps_.spent()) return;
    if (i == targets_.size()) {
      if (left == 0) try_counts();
      return;
    }
    for (int k = fewest_[i]; k <= std::min(left, most_blocks(set_)); ++k) {
      counts_[i] = k;
      split(i + 1, left - k);
    }
  }

  void try_counts() {
    if (!may_stand_together()) return;
    std::vector<Candidates> lists;
    for (std::size_t i = 0; i < targets_.size(); ++i) lists.push_back(candidates(i, counts_[i]));
    note_dropped(lists);
    give_way(lists);
    if (std::any_of(lists.begin(), lists.end(), [](const Candidates& l) { return l.list.empty(); })) return;
    if (Together(lists, steps_).improve(best_, choices_)) best_counts_ = counts_;
  }

  // Lists of many blocks are long in coming. Those of few blocks often exclude each other already.
  bool may_stand_together() {
    std::vector<std::size_t> order(targets_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](auto i, auto j) { return counts_[i] < counts_[j]; });
    std::vector<Masks> so_far;
    for (const std::size_t i : order) {
      const Candidates& c = candidates(i, counts_[i]);
      if (c.list.empty() || steps_.spent()) return false;
      if (c.cut) continue;  // the dropped ones might stand where the kept ones do not
      so_far.push_back(masks_of(c));
      if (!stand_together(so_far, steps_)) return false;
    }
    return !steps_.spent();
  }

  // The least key that an answer with a dropped candidate can have.
  void note_dropped(const std::vector<Candidates>& lists) {
    for (std::size_t i = 0; i < lists.size(); ++i) {
      if (!lists[i].cut) continue;
      StackKey key = *lists[i].cut;
      for (std::size_t j = 0; j < lists.size(); ++j)
        if (j != i) key = key + lists[j].list.front().choice.key;
      dropped_ = dropped_ ? std::min(*dropped_, key) : key;
    }
  }

  const Candidates& candidates(std::size_t i, int k) {
    const auto [place, is_new] = known_.try_emplace({i, k});
    if (is_new) place->second = every_stack(targets_[i], within_, set_, k, kept_, steps_);
    return place->second;
  }

  std::span<const Nm> targets_;
  Nm within_;
  const GaugeSet& set_;
  std::vector<int> fewest_, counts_, best_counts_;
  Steps& steps_;
  std::size_t kept_ = kFewCandidates;
  std::map<std::pair<std::size_t, int>, Candidates> known_;
  std::optional<StackKey> best_, dropped_;
  std::vector<Choice> choices_;
};

std::string place_of(std::size_t i) {
  return fmt::format("targets[{}]", i);
}

// Whether the target cannot be built without the block. A look that gets too long proves nothing and is broken off.
bool is_indispensable(std::size_t block, Nm target, Nm within, const GaugeSet& set, const StackLimits& limits) {
  GaugeSet rest = set;
  rest.blocks.erase(rest.blocks.begin() + static_cast<std::ptrdiff_t>(block));
  if (rest.blocks.empty()) return true;
  const auto other = build_stack(target, within, rest, {limits.steps / 16});
  return !other && other.problem().code == "no_stack";
}

Problem fight_over(std::size_t block, std::size_t i, std::size_t j, const GaugeSet& set) {
  return {
      "no_stacks", place_of(j),
      fmt::format("Stacks {} and {} each need the block of {}, and \"{}\" has it once. Set one stop after the other, "
                  "or take this block from another set.",
                  i + 1, j + 1, show_nominal(set.blocks[block].size), set.name),
      ""};
}

// The quick proof that targets exclude each other: two cannot do without the same block. Only a block that stands in
// each of their lowest stacks can be such, which leaves hardly any to look at.
std::optional<Problem> shared_need(std::span<const Nm> targets, Nm within, const GaugeSet& set,
                                   const std::vector<Mask>& in_every, const StackLimits& limits) {
  const auto needs = [&](std::size_t i, std::size_t b) { return is_indispensable(b, targets[i], within, set, limits); };
  for (std::size_t j = 0; j < targets.size(); ++j)
    for (std::size_t i = 0; i < j; ++i) {
      const Mask both = in_every[i] & in_every[j];
      for (std::size_t b = both._Find_first(); b < both.size(); b = both._Find_next(b))
        if (needs(i, b) && needs(j, b)) return fight_over(b, i, j, set);
    }
  return {};
}

Problem no_stacks(const GaugeSet& set) {
  return {
      "no_stacks", "",
      fmt::format("Each of the stacks can be built from \"{}\", but not all at the same time. Set one stop after the "
                  "other, permit a larger deviation, or use a second set.",
                  set.name),
      ""};
}

// Each stack on its own: the fewest blocks that it can do with.
Result<std::vector<Stack>> each_alone(std::span<const Nm> targets, Nm within, const GaugeSet& set,
                                      const StackLimits& limits) {
  std::vector<Stack> alone;
  for (std::size_t i = 0; i < targets.size(); ++i) {
    auto stack = build_stack(targets[i], within, set, limits);
    if (!stack) {
      Problem p = stack.problem();
      p.where = place_of(i);
      return p;
    }
    alone.push_back(stack.take());
  }
  return alone;
}

}  // namespace

Result<std::vector<Stack>> build_stacks(std::span<const Nm> targets, Nm within, const GaugeSet& set,
                                        const StackLimits& limits) {
  if (targets.empty() || targets.size() > kMostTargets)
    return Problem{"bad_targets", "",
                   fmt::format("1 to {} stacks are possible at a time; found {}.", kMostTargets, targets.size()), ""};
  const auto alone = each_alone(targets, within, set, limits);
  if (!alone) return alone;
  std::vector<int> fewest;
  int least = 0;
  for (const Stack& s : alone.value()) {
    fewest.push_back(static_cast<int>(s.blocks.size()));
    least += fewest.back();
  }
  Steps steps{limits.steps};
  SeveralStacks search(targets, within, set, fewest, steps);
  const int most = std::min(static_cast<int>(set.blocks.size()), static_cast<int>(targets.size()) * most_blocks(set));
  for (int total = least; total <= most; ++total) {
    const Verdict verdict = search.search(total);
    if (verdict == Verdict::found) return search.stacks();
    if (total == least)
      if (const auto problem = shared_need(targets, within, set, search.in_every_lowest(), limits)) return *problem;
    if (verdict == Verdict::stopped) return stopped_problem("");
  }
  return no_stacks(set);
}

}  // namespace stickwright
