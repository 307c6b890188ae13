#include "lumber/cutting.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "lumber/patterns.h"

namespace stickwright {
namespace {

std::vector<Size> sizes_of(std::span<const Part> parts) {
  std::map<std::int64_t, Size, std::greater<>> by_length;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    Size& s = by_length[parts[i].length.v];
    s.length = parts[i].length.v;
    s.demand += parts[i].count;
    s.parts.insert(s.parts.end(), static_cast<std::size_t>(parts[i].count), static_cast<int>(i));
  }
  std::vector<Size> sizes;
  for (auto& [length, size] : by_length) sizes.push_back(std::move(size));
  return sizes;
}

std::optional<Problem> wrong_input(std::span<const Part> parts, std::span<const StickStock> stock,
                                   const CuttingRules& rules) {
  for (const Part& p : parts)
    if (p.length.v <= 0 || p.count <= 0)
      return Problem{"bad_part", "", "every part needs a length and a count above zero.", ""};
  std::int64_t longest = 0;
  for (const StickStock& s : stock) {
    if (s.length.v <= 0 || s.count < 0) return Problem{"bad_stock", "", "every stick needs a length above zero.", ""};
    if (s.count > 0) longest = std::max(longest, s.length.v - rules.head.v - rules.tail.v);
  }
  if (rules.head.v < 0 || rules.tail.v < 0) return Problem{"bad_stock", "", "head and tail cannot be negative.", ""};
  for (const Part& p : parts)
    if (p.length.v > longest)
      return Problem{
          "stick_too_short", "",
          fmt::format("one block uses up {:.2f} mm of stick; with {:.2f} mm lost at the head and a tail of {:.2f} mm "
                      "that cannot be held, a stick must be at least {:.1f} mm long. Rack a longer one.",
                      to_mm(p.length).v, to_mm(rules.head).v, to_mm(rules.tail).v,
                      std::ceil(to_mm(p.length + rules.head + rules.tail).v * 10) / 10),
          ""};
  return {};
}

// One plan in the making: the sizes, what room each stock length has, and what the rack holds.
struct Job {
  std::span<const StickStock> stock;
  std::vector<Size> sizes;
  std::vector<std::int64_t> rooms;
  std::vector<int> counts;
};

Job job_of(std::span<const Part> parts, std::span<const StickStock> stock, const CuttingRules& rules) {
  Job job{stock, sizes_of(parts), {}, {}};
  for (const StickStock& s : stock) {
    job.rooms.push_back(std::max<std::int64_t>(0, s.length.v - rules.head.v - rules.tail.v));
    job.counts.push_back(s.count);
  }
  return job;
}

// Filling the roomiest sticks to the last nanometer would take this many.   returns  one more than the rack holds when
// even that is not enough
int bound_by_material(const Job& job) {
  std::int64_t need = 0;
  for (const Size& s : job.sizes) need += s.length * s.demand;
  std::vector<std::pair<std::int64_t, int>> rooms;
  for (std::size_t i = 0; i < job.rooms.size(); ++i) rooms.push_back({job.rooms[i], job.counts[i]});
  std::sort(rooms.rbegin(), rooms.rend());
  int sticks = 0;
  for (const auto& [room, count] : rooms) {
    if (room == 0) break;
    const std::int64_t take = std::min<std::int64_t>(count, (need + room - 1) / room);
    sticks += static_cast<int>(take);
    need -= take * room;
    if (need <= 0) return sticks;
  }
  return sticks + 1;
}

std::vector<Bin> bins_of(const Job& job, const std::vector<Pattern>& patterns, const std::vector<int>& times) {
  std::vector<Bin> bins;
  for (std::size_t j = 0; j < patterns.size(); ++j)
    for (int n = 0; n < times[j]; ++n) bins.push_back({patterns[j].stock, 0, patterns[j].counts});
  std::vector<int> surplus(job.sizes.size());
  for (std::size_t i = 0; i < job.sizes.size(); ++i) {
    surplus[i] = -job.sizes[i].demand;
    for (const Bin& b : bins) surplus[i] += b.counts[i];
  }
  for (auto b = bins.rbegin(); b != bins.rend(); ++b)  // patterns may cut more than was asked for
    for (std::size_t i = 0; i < job.sizes.size(); ++i) {
      const int less = std::min(surplus[i], b->counts[i]);
      b->counts[i] -= less;
      surplus[i] -= less;
    }
  std::erase_if(
      bins, [](const Bin& b) { return std::all_of(b.counts.begin(), b.counts.end(), [](int n) { return n == 0; }); });
  return bins;
}

// Parts are handed out size by size, kind by kind, so that like blocks come from as few sticks as can be.
std::vector<CutStick> sticks_of(const Job& job, const std::vector<Bin>& bins, const CuttingRules& rules) {
  std::vector<CutStick> sticks;
  std::vector<std::size_t> given(job.sizes.size());
  for (const Bin& b : bins) {
    CutStick stick{job.stock[b.stock].length, {}, job.stock[b.stock].length - rules.head};
    for (std::size_t i = 0; i < job.sizes.size(); ++i)
      for (int n = 0; n < b.counts[i]; ++n) {
        stick.parts.push_back(job.sizes[i].parts[given[i]++]);
        stick.left = stick.left - Nm{job.sizes[i].length};
      }
    sticks.push_back(std::move(stick));
  }
  return sticks;
}

Problem rack_is_too_small(const Job& job, bool proven) {
  const int held = std::accumulate(job.counts.begin(), job.counts.end(), 0);
  return {"not_enough_sticks", "",
          fmt::format(
              "the rack holds {} sticks, {}; by length alone at least {} are needed. Rack more, or make fewer puzzles.",
              held, proven ? "which is not enough" : "and no way was found to saw the batch from them",
              bound_by_material(job)),
          ""};
}

struct BinAnswer {
  std::vector<Bin> bins;
  bool proven = false;
  int bound = 0;
  bool infeasible = false;  // proven
};

BinAnswer best_bins(const Job& job, const CuttingLimits& limits) {
  BinAnswer answer{first_fit(job.sizes, job.rooms, job.counts), false, bound_by_material(job), false};
  const bool one_length = job.rooms.size() == 1;
  if (one_length && !answer.bins.empty() && static_cast<int>(answer.bins.size()) == answer.bound) {
    answer.proven = true;
    return answer;
  }
  std::vector<Pattern> patterns;
  for (std::size_t s = 0; s < job.rooms.size(); ++s)
    if (!add_maximal_patterns(job.sizes, s, job.rooms[s], limits.patterns, patterns)) return answer;
  const PatternAnswer fewest =
      choose_patterns(job.sizes, patterns, job.counts, std::vector<double>(patterns.size(), 1), {}, limits.nodes);
  answer.proven = fewest.proven;
  answer.infeasible = fewest.proven && !fewest.feasible;
  if (!fewest.feasible) return answer;
  auto bins = bins_of(job, patterns, fewest.times);
  if (answer.bins.empty() || bins.size() < answer.bins.size()) answer.bins = std::move(bins);
  const int sticks = static_cast<int>(answer.bins.size());
  answer.bound = fewest.proven ? sticks : std::max(answer.bound, static_cast<int>(std::ceil(fewest.bound - 1e-6)));
  if (one_length) return answer;
  std::vector<double> length;
  for (const Pattern& p : patterns) length.push_back(to_mm(job.stock[p.stock].length).v);
  const PatternAnswer shortest = choose_patterns(job.sizes, patterns, job.counts, length, sticks, limits.nodes);
  if (shortest.feasible) answer.bins = bins_of(job, patterns, shortest.times);
  return answer;
}

}  // namespace

Result<CutPlan> plan_sticks(std::span<const Part> parts, std::span<const StickStock> stock, const CuttingRules& rules,
                            const CuttingLimits& limits) {
  if (auto problem = wrong_input(parts, stock, rules)) return *problem;
  CutPlan plan;
  plan.verdict = Verdict::found;
  if (parts.empty()) return plan;
  const Job job = job_of(parts, stock, rules);
  const BinAnswer answer = best_bins(job, limits);
  if (answer.bins.empty()) return rack_is_too_small(job, answer.infeasible);
  plan.sticks = sticks_of(job, answer.bins, rules);
  plan.bound = answer.bound;
  plan.verdict = answer.proven || plan.used() == plan.bound ? Verdict::found : Verdict::stopped;
  return plan;
}

}  // namespace stickwright
