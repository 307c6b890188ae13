#include "lumber/cutting.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "lumber/patterns.h"

namespace stickwright {
namespace {

constexpr std::int64_t kLongest = 1'000'000'000'000;  // a kilometer: sums of nanometers stay far from overflow
constexpr std::int64_t kMostParts = 100'000;

std::int64_t whole_micrometers(Nm length) {
  return (length.v + 999) / 1000 * 1000;
}

std::vector<Size> sizes_of(std::span<const Part> parts) {
  std::map<std::int64_t, Size, std::greater<>> by_length;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    Size& s = by_length[whole_micrometers(parts[i].length)];
    s.length = whole_micrometers(parts[i].length);
    s.demand += parts[i].count;
    s.parts.insert(s.parts.end(), static_cast<std::size_t>(parts[i].count), static_cast<int>(i));
  }
  std::vector<Size> sizes;
  for (auto& [length, size] : by_length) sizes.push_back(std::move(size));
  return sizes;
}

bool is_length(Nm n) {
  return n.v > 0 && n.v <= kLongest;
}

Problem too_short(Nm part, const CuttingRules& rules) {
  const Nm needed{whole_micrometers(part) + rules.head.v + rules.tail.v};
  return {"stick_too_short", "",
          fmt::format("one block uses up {:.2f} mm of stick; with {:.2f} mm lost at the head and a tail of {:.2f} mm "
                      "that cannot be held, a stick must be at least {:.1f} mm long. Rack a longer one.",
                      to_mm(part).v, to_mm(rules.head).v, to_mm(rules.tail).v, std::ceil(to_mm(needed).v * 10) / 10),
          ""};
}

std::optional<Problem> wrong_input(std::span<const Part> parts, std::span<const StickStock> stock,
                                   const CuttingRules& rules) {
  std::int64_t pieces = 0, longest = 0;
  for (const Part& p : parts) {
    if (!is_length(p.length) || p.count <= 0)
      return Problem{"bad_part", "", "every part needs a length above zero, up to a kilometer, and a count above zero.",
                     ""};
    pieces += p.count;
  }
  if (pieces > kMostParts)
    return Problem{"bad_part", "",
                   fmt::format("{} parts are asked for, {} at most. Split the batch.", pieces, kMostParts), ""};
  if (rules.head.v < 0 || rules.tail.v < 0 || rules.head.v > kLongest || rules.tail.v > kLongest)
    return Problem{"bad_stock", "", "head and tail cannot be negative, nor longer than a kilometer.", ""};
  for (const StickStock& s : stock) {
    if (!is_length(s.length) || s.count.value_or(0) < 0)
      return Problem{"bad_stock", "",
                     "every stick needs a length above zero, up to a kilometer, and a count that is not negative.", ""};
    if (s.count != 0) longest = std::max(longest, s.length.v - rules.head.v - rules.tail.v);
  }
  for (const Part& p : parts)
    if (whole_micrometers(p.length) > longest) return too_short(p.length, rules);
  return {};
}

// One plan in the making.
struct Job {
  std::vector<Size> sizes;
  std::vector<Sticks> rack;  // one entry a length, roomiest first, none without room
  std::vector<Nm> lengths;   // of the above
  std::int64_t held = 0;     // sticks in all
  std::int64_t useful = 0;   // sticks that the parts could be sawn from, no more than there are parts of each length
};

Job job_of(std::span<const Part> parts, std::span<const StickStock> stock, const CuttingRules& rules) {
  Job job{sizes_of(parts), {}, {}};
  int pieces = 0;
  for (const Size& s : job.sizes) pieces += s.demand;
  std::map<Nm, std::int64_t, std::greater<>> counts;  // more sticks than parts are never used
  for (const StickStock& s : stock) counts[s.length] += s.count.value_or(pieces);
  for (const auto& [length, count] : counts) {
    job.held += count;
    const std::int64_t room = length.v - rules.head.v - rules.tail.v;
    if (room <= 0 || count == 0) continue;
    job.rack.push_back({room, static_cast<int>(std::min<std::int64_t>(count, pieces)), to_mm(length).v});
    job.lengths.push_back(length);
    job.useful += job.rack.back().count;
  }
  return job;
}

// Filling the roomiest sticks to the last nanometer would take this many.   returns  one more than the rack holds when
// even that is not enough
int bound_by_material(const Job& job) {
  std::int64_t need = 0;
  for (const Size& s : job.sizes) need += s.length * s.demand;
  int sticks = 0;
  for (const Sticks& s : job.rack) {
    const std::int64_t take = std::min<std::int64_t>(s.count, (need + s.room - 1) / s.room);
    sticks += static_cast<int>(take);
    need -= take * s.room;
    if (need <= 0) return sticks;
  }
  return sticks + 1;
}

// The sticks as the patterns fill them, less what they cut beyond the demand.
std::vector<Pattern> filled_sticks(const Job& job, const std::vector<Pattern>& patterns,
                                   const std::vector<int>& times) {
  std::vector<Pattern> filled;
  for (std::size_t j = 0; j < patterns.size(); ++j)
    filled.insert(filled.end(), static_cast<std::size_t>(times[j]), patterns[j]);
  for (std::size_t i = 0; i < job.sizes.size(); ++i) {
    int surplus = -job.sizes[i].demand;
    for (const Pattern& p : filled) surplus += p.counts[i];
    for (auto p = filled.rbegin(); p != filled.rend(); ++p) {
      const int less = std::min(surplus, p->counts[i]);
      p->counts[i] -= less;
      surplus -= less;
    }
  }
  std::erase_if(filled, [](const Pattern& p) {
    return std::all_of(p.counts.begin(), p.counts.end(), [](int n) { return n == 0; });
  });
  return filled;
}

// Parts are handed out size by size, kind by kind, so that like blocks come from as few sticks as can be.
std::vector<CutStick> sticks_of(const Job& job, const std::vector<Pattern>& filled, const CuttingRules& rules) {
  std::vector<CutStick> sticks;
  std::vector<std::size_t> given(job.sizes.size());
  for (const Pattern& p : filled) {
    CutStick stick{job.lengths[p.stock], {}, job.lengths[p.stock] - rules.head};
    for (std::size_t i = 0; i < job.sizes.size(); ++i)
      for (int n = 0; n < p.counts[i]; ++n) {
        stick.parts.push_back(job.sizes[i].parts[given[i]++]);
        stick.left = stick.left - Nm{job.sizes[i].length};
      }
    sticks.push_back(std::move(stick));
  }
  return sticks;
}

Problem rack_is_too_small(const Job& job, bool proven) {
  return {"not_enough_sticks", "",
          fmt::format(
              "the rack holds {} sticks, {}; by length alone at least {} are needed. Rack more, or make fewer puzzles.",
              job.held, proven ? "which is not enough" : "and no way was found to saw the batch from them",
              bound_by_material(job)),
          ""};
}

// Looks for a better and better plan, cheapest means first, until it meets the bound.
class Search {
 public:
  Search(const Job& job, const CuttingLimits& limits)
      : job_(job), limits_{limits.nodes, limits.seconds}, bound_(bound_by_material(job)) {
    impossible_ = bound_ > job.useful;
    if (impossible_) return;
    start_with(fit_one_by_one(job.sizes, job.rack, Fit::first));
    start_with(fit_one_by_one(job.sizes, job.rack, Fit::tightest));
    if (!is_proven()) by_prices();
    if (!is_proven() || job.rack.size() > 1) complete_ = list_all(limits.patterns);
    if (!is_proven() && complete_) by_all_patterns();
    if (job.rack.size() > 1 && !best_.empty()) shorten();
  }

  const std::vector<Pattern>& best() const { return best_; }
  bool is_impossible() const { return impossible_; }
  bool is_proven() const { return !best_.empty() && used() == bound_; }
  bool is_shortest() const { return is_proven() && (job_.rack.size() == 1 || shortest_); }
  int bound() const { return bound_; }

 private:
  int used() const { return static_cast<int>(best_.size()); }

  double length(const std::vector<Pattern>& filled) const {
    double sum = 0;
    for (const Pattern& p : filled) sum += job_.rack[p.stock].length_mm;
    return sum;
  }

  void start_with(std::vector<Pattern> filled) {
    patterns_.insert(patterns_.end(), filled.begin(), filled.end());
    take(std::move(filled));
  }

  void take(std::vector<Pattern> filled) {
    if (filled.empty()) return;
    const bool better = best_.empty() || filled.size() < best_.size() ||
                        (filled.size() == best_.size() && length(filled) < length(best_));
    if (better) best_ = std::move(filled);
  }

  void by_prices() {
    PricedPatterns priced = price_patterns(job_.sizes, job_.rack, std::move(patterns_));
    patterns_ = std::move(priced.patterns);
    bound_ = std::max(bound_, priced.bound);
    impossible_ = bound_ > job_.useful;
    if (is_proven() || impossible_) return;
    const PatternAnswer few = choose_patterns(job_.sizes, job_.rack, patterns_, {}, limits_);
    if (few.feasible) take(filled_sticks(job_, patterns_, few.times));
  }

  bool list_all(std::size_t most) {
    std::vector<Pattern> all;
    if (!add_maximal_patterns(job_.sizes, job_.rack, most, all)) return false;
    patterns_ = std::move(all);
    return true;
  }

  void by_all_patterns() {
    const PatternAnswer fewest = choose_patterns(job_.sizes, job_.rack, patterns_, {}, limits_);
    if (fewest.feasible) take(filled_sticks(job_, patterns_, fewest.times));
    if (!fewest.proven) return;
    impossible_ = !fewest.feasible;
    if (fewest.feasible) bound_ = used();
  }

  void shorten() {
    const PatternAnswer shortest = choose_patterns(job_.sizes, job_.rack, patterns_, used(), limits_);
    if (shortest.feasible) take(filled_sticks(job_, patterns_, shortest.times));
    shortest_ = shortest.proven && complete_;
  }

  const Job& job_;
  SolverLimits limits_;
  int bound_;
  std::vector<Pattern> best_, patterns_;
  bool impossible_ = false, complete_ = false, shortest_ = false;
};

}  // namespace

Result<CutPlan> plan_sticks(std::span<const Part> parts, std::span<const StickStock> stock, const CuttingRules& rules,
                            const CuttingLimits& limits) {
  if (auto problem = wrong_input(parts, stock, rules)) return *problem;
  CutPlan plan;
  plan.verdict = Verdict::found;
  plan.is_shortest = true;
  if (parts.empty()) return plan;
  const Job job = job_of(parts, stock, rules);
  const Search search(job, limits);
  if (search.best().empty()) return rack_is_too_small(job, search.is_impossible());
  plan.sticks = sticks_of(job, search.best(), rules);
  plan.bound = search.bound();
  plan.verdict = search.is_proven() ? Verdict::found : Verdict::stopped;
  plan.is_shortest = search.is_shortest();
  return plan;
}

}  // namespace stickwright
