#include "metrology/stack.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <vector>

#include "metrology/stack_search.h"

namespace stickwright {
namespace {

constexpr std::int64_t kNoBound = std::int64_t{1} << 60;

// The upper parts of one tolerance, as places in their list; hence ascending by sum, no sum twice.
struct Alike {
  std::int32_t tolerance = 0;
  std::vector<std::uint32_t> places;
};

// Smallest tolerance first.
std::vector<Alike> by_tolerance(const HalfList& after) {
  std::map<std::int32_t, std::vector<std::uint32_t>> sorted;
  for (std::uint32_t i = 0; i < after.size(); ++i) sorted[after[i].tolerance].push_back(i);
  std::vector<Alike> out;
  for (auto& [tolerance, places] : sorted) out.push_back({tolerance, std::move(places)});
  return out;
}

// The best stack of k blocks, if there is one.
class BestOfCount {
 public:
  BestOfCount(Nm target, Nm within, const GaugeSet& set, int k)
      : target_(target.v), within_(within.v), set_(set), k_(k), window_(window_of(target, within)) {}

  std::optional<Choice> search(Steps& steps) {
    for_each_middle(set_, k_, window_, Keep::best_of_sum, steps,
                    [&](const HalfList& before, std::size_t middle, const HalfList& after) {
                      for (const Alike& upper : by_tolerance(after)) {
                        join(before, middle, after, upper);
                        steps.spend(static_cast<std::int64_t>(before.size() + upper.places.size()));
                      }
                    });
    return best_;
  }

 private:
  // Among upper parts of one tolerance only the two next to the exact rest can be best. The rest falls as the
  // lower part grows, so one walk down the list serves all lower parts.
  void join(const HalfList& before, std::size_t middle, const HalfList& after, const Alike& upper) {
    const GaugeBlock& block = set_.blocks[middle];
    std::size_t place = upper.places.size();
    for (const HalfSum& part : before) {
      const std::int64_t tolerance = part.tolerance + block.tolerance.v + upper.tolerance;
      if (best_ && tolerance > best_->key.tolerance) continue;
      const std::int64_t rest = target_ - block.size.v - part.sum;
      while (place > 0 && after[upper.places[place - 1]].sum >= rest) --place;
      const auto offer = [&](const HalfSum& half) {
        const StackKey key{tolerance, std::abs(half.sum - rest)};
        if (key.deviation <= within_ && (!best_ || key <= best_->key))
          take_if_better(joined(k_, key, part, middle, half));
      };
      if (place < upper.places.size()) offer(after[upper.places[place]]);
      if (place > 0) offer(after[upper.places[place - 1]]);
    }
  }

  void take_if_better(const Choice& c) {
    if (!best_ || c < *best_) best_ = c;
  }

  std::int64_t target_, within_;
  const GaugeSet& set_;
  int k_;
  SumWindow window_;
  std::optional<Choice> best_;
};

// The totals next to a target that no stack meets.
struct Nearest {
  std::int64_t below = 0, above = kNoBound;
};

void look_near(Nm target, const GaugeSet& set, int k, Steps& steps, Nearest& nearest) {
  const auto join = [&](const HalfList& before, std::size_t middle, const HalfList& after) {
    std::size_t place = after.size();
    for (const HalfSum& part : before) {
      const std::int64_t sum = part.sum + set.blocks[middle].size.v;
      while (place > 0 && sum + after[place - 1].sum >= target.v) --place;
      if (place < after.size()) nearest.above = std::min(nearest.above, sum + after[place].sum);
      if (place > 0) nearest.below = std::max(nearest.below, sum + after[place - 1].sum);
    }
  };
  for_each_middle(set, k, {nearest.below, nearest.above}, Keep::best_of_sum, steps, join);
}

// The most that i blocks add up to, i = 0 ... 8.
std::vector<std::int64_t> longest_stacks(const GaugeSet& set) {
  std::vector<std::int64_t> sizes, longest{0};
  for (const GaugeBlock& b : set.blocks) sizes.push_back(b.size.v);
  std::sort(sizes.rbegin(), sizes.rend());
  for (int i = 0; i < most_blocks(set); ++i) longest.push_back(longest.back() + sizes[std::size_t(i)]);
  return longest;
}

std::string say_nearest(const Nearest& nearest, int blocks) {
  const auto of_count = fmt::format(" with up to {} block{}", blocks, blocks == 1 ? "" : "s");
  if (nearest.below == 0)
    return fmt::format("The nearest size{} is {} above.", of_count, show_nominal(Nm{nearest.above}));
  if (nearest.above == kNoBound)
    return fmt::format("The nearest size{} is {} below.", of_count, show_nominal(Nm{nearest.below}));
  return fmt::format("The nearest sizes{} are {} below and {} above.", of_count, show_nominal(Nm{nearest.below}),
                     show_nominal(Nm{nearest.above}));
}

// A full look at eight blocks is cheap for a small box only; a large one is dense enough with five, unless the target
// is longer than any five.
std::string say_what_is_near(Nm target, const GaugeSet& set) {
  const auto longest = longest_stacks(set);
  if (target.v > longest.back())
    return fmt::format("The longest stack of {} blocks is {}; a longer block is needed.", most_blocks(set),
                       show_nominal(Nm{longest.back()}));
  const auto needed = std::lower_bound(longest.begin(), longest.end(), target.v) - longest.begin();
  const int blocks = set.blocks.size() <= 40 ? most_blocks(set) : std::max(5, static_cast<int>(needed));
  Steps steps{kNoBound};
  Nearest nearest;
  for (int k = 1; k <= blocks; ++k) look_near(target, set, k, steps, nearest);
  return say_nearest(nearest, blocks) + " Permit a larger deviation, or add a block.";
}

Problem no_stack(Nm target, Nm within, const GaugeSet& set) {
  return {"no_stack", "",
          fmt::format("No stack of up to {} blocks of \"{}\" comes within {} of {}. {}", most_blocks(set), set.name,
                      show_nominal(within), show_nominal(target), say_what_is_near(target, set)),
          ""};
}

}  // namespace

Result<Stack> build_stack(Nm target, Nm within, const GaugeSet& set, const StackLimits& limits) {
  if (auto problem = input_problem(target, within, set)) return *problem;
  Steps steps{limits.steps};
  if (holds_a_step(window_of(target, within), set))
    for (int k = 1; k <= most_blocks(set); ++k) {
      const auto best = BestOfCount(target, within, set, k).search(steps);
      if (steps.spent()) return stopped_problem("");
      if (best) return to_stack(*best, k, set);
    }
  return no_stack(target, within, set);
}

}  // namespace stickwright
