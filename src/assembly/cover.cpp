#include "assembly/cover.h"

#include <tbb/global_control.h>
#include <tbb/info.h>
#include <tbb/task_group.h>

#include <chrono>
#include <mutex>

#include "assembly/cover_cases.h"
#include "assembly/cover_search.h"

namespace stickwright {
namespace {

// A part of the search: everything below a path of choices in one case.
struct Branch {
  std::size_t of_case;
  Cover path;
  double share;  // of the whole search, by the rule that all branches of a choice are equally long
};

// Enough branches to keep a few threads busy to the end. In-order searches have fewer: each starts with an empty
// memory.
constexpr std::size_t kBranches = 128, kBranchesInOrder = 8;
constexpr int kDeepestBranch = 4;
constexpr std::chrono::milliseconds kHeartbeat{500};
constexpr std::int64_t kAtOnce = 2000;  // nodes: a millisecond or two

// The most cells that touch both the filled and the empty part while the cells are filled in order.
int widest_front(const CoverProblem& p) {
  int widest = 0;
  for (int filled = 1; filled < p.cells; ++filled) {
    int front = 0;
    for (int c = filled; c < p.cells; ++c)
      front += std::any_of(p.neighbors[c].begin(), p.neighbors[c].end(), [&](int n) { return n < filled; });
    widest = std::max(widest, front);
  }
  return widest;
}

constexpr int kNarrow = 5;  // measured in bench/assembly_bench.cpp

CoverHabit habit_for(const CoverProblem& p) {
  const bool narrow = !p.neighbors.empty() && widest_front(p) <= kNarrow;
  return narrow ? CoverHabit::in_order : CoverHabit::rarest_first;
}

template <int W>
class Solver {
 public:
  Solver(const CoverProblem& problem, const CoverLimits& limits, const CoverListener& tell)
      : problem_(problem),
        limits_(limits),
        tell_(tell),
        tables_(problem),
        habit_(habit_for(problem)),
        cases_(cover_cases(problem)) {
    if (!tell_.as_found) return;
    ear_.found = [this](const Cover& cover) { tell_found(cover); };
    ear_.alive = [this](std::int64_t covers, std::int64_t nodes) { tell_alive(covers, nodes); };
  }

  CoverAnswer run() {
    if (limits_.nodes >= kAtOnce && limits_.first_branch == 0 && done_at_once()) return settle();
    split();
    results_.resize(branches_.size());
    next_ = merged_ = std::min(limits_.first_branch, branches_.size());
    for (std::size_t b = 0; b < merged_; ++b) share_ = share_ + branches_[b].share;
    const int threads = limits_.threads > 0 ? limits_.threads : tbb::info::default_concurrency();
    if (threads == 1)
      work();
    else {
      tbb::global_control most(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(threads));
      tbb::task_group group;
      for (int t = 0; t < threads; ++t) group.run([this] { work(); });
      group.wait();
    }
    if (tell_.as_found && limits_.cancel && limits_.cancel->load()) gather();
    return settle();
  }

 private:
  CoverAnswer settle() {
    answer_.branches = branches_.size();
    answer_.branches_done = merged_;
    const bool whole = merged_ == branches_.size();
    answer_.verdict = !whole ? Verdict::stopped : answer_.count > 0 ? Verdict::found : Verdict::none_exists;
    return std::move(answer_);
  }

  // What a cancelled search has found beyond the branches that are next in order.
  void gather() {
    for (auto& result : results_) {
      if (!result) continue;
      answer_.nodes += result->nodes;
      std::int64_t count = 0, total = 0;
      if (__builtin_add_overflow(answer_.count, result->count, &count) ||
          __builtin_add_overflow(answer_.total, result->total, &total))
        return;
      answer_.count = count, answer_.total = total;
      for (Cover& cover : result->kept)
        if (answer_.kept.size() < limits_.keep) answer_.kept.push_back(std::move(cover));
      result.reset();
    }
  }

  void tell_found(const Cover& cover) {
    const std::lock_guard lock(telling_);
    if (tell_.on_cover && told_++ < tell_.most) tell_.on_cover(cover);
  }
  void tell_alive(std::int64_t covers, std::int64_t nodes) {
    const std::lock_guard lock(telling_);
    found_ += covers, opened_ += nodes;
    const auto now = std::chrono::steady_clock::now();
    if (!tell_.on_progress || now - told_at_ < kHeartbeat) return;
    told_at_ = now;
    tell_.on_progress({found_, std::min(share_.load(), 1.0), opened_});
  }

  // Small searches are over before they are worth dividing.   returns  true when this was one
  bool done_at_once() {
    CoverSearch<W> search(tables_, habit_);
    one_branch_a_case();
    std::int64_t nodes = 0;
    std::vector<BranchAnswer> results;
    for (const Branch& b : branches_) {
      results.push_back(search_branch(search, b, kAtOnce - nodes, limits_.covers, nullptr));
      nodes += results.back().nodes;
      if (!results.back().finished) return false;
    }
    std::int64_t covers = 0;
    for (const BranchAnswer& r : results) covers += r.count;
    if (covers > limits_.covers) return false;
    if (tell_.as_found)
      for (const BranchAnswer& r : results)
        for (const Cover& cover : r.kept) tell_found(cover);
    for (BranchAnswer& r : results) add(std::move(r));
    return true;
  }

  void one_branch_a_case() {
    branches_.clear();
    for (std::size_t c = 0; c < cases_.size(); ++c)
      branches_.push_back({c, {}, 1.0 / static_cast<double>(cases_.size())});
  }

  void split() {
    CoverSearch<W> search(tables_, habit_);
    one_branch_a_case();
    const std::size_t enough = habit_ == CoverHabit::in_order ? kBranchesInOrder : kBranches;
    for (int depth = 0; depth < kDeepestBranch && branches_.size() < enough; ++depth) {
      std::vector<Branch> deeper;
      for (const Branch& b : branches_) split_branch(search, b, depth, deeper);
      branches_ = std::move(deeper);
    }
  }

  void split_branch(CoverSearch<W>& search, const Branch& b, int depth, std::vector<Branch>& out) {
    if (static_cast<int>(b.path.size()) < depth) return out.push_back(b);  // a cover already
    search.take_case(cases_[b.of_case].allowed);
    const auto choices = search.choices(b.path);
    if (!choices) return out.push_back(b);
    for (int option : *choices) {
      out.push_back({b.of_case, b.path, b.share / static_cast<double>(choices->size())});
      out.back().path.push_back(option);
    }
    if (choices->empty()) share_ = share_ + b.share;  // a dead end: dealt with
  }

  // One thread: takes branches in order until there are none or the answer is settled.
  void work() {
    CoverSearch<W> search(tables_, habit_);
    while (!settled_.load()) {
      const std::size_t b = next_.fetch_add(1);
      if (b >= branches_.size()) return;
      BranchAnswer result =
          search_branch(search, branches_[b], limits_.nodes, limits_.covers, tell_.as_found ? &ear_ : nullptr);
      const std::lock_guard lock(merging_);
      results_[b] = std::move(result);
      merge(search);
    }
  }

  BranchAnswer search_branch(CoverSearch<W>& search, const Branch& branch, std::int64_t nodes, std::int64_t covers,
                             const BranchEar* ear) {
    search.take_case(cases_[branch.of_case].allowed);
    const auto& symmetries = cases_[branch.of_case].symmetries;
    const auto all = static_cast<std::int64_t>(std::max<std::size_t>(problem_.symmetries.size(), 1));
    const auto worth = [&](const Cover& found) {
      Cover cover = found;
      std::sort(cover.begin(), cover.end());
      if (!least_of_its_class(cover, symmetries)) return CoverWorth{0, 0};
      return CoverWorth{1, all / symmetries_of(cover, symmetries)};
    };
    const std::size_t told = tell_.on_cover ? static_cast<std::size_t>(std::max<std::int64_t>(tell_.most, 0)) : 0;
    const std::size_t keep = std::max(told, limits_.keep);
    const BranchLimits limits{nodes, covers, keep, limits_.cancel, &settled_, ear};
    if (symmetries.size() > 1) return search.run(branch.path, limits, &worth);
    BranchAnswer answer = search.run(branch.path, limits, static_cast<decltype(worth)*>(nullptr));
    if (__builtin_mul_overflow(answer.count, all, &answer.total)) answer.finished = false;
    return answer;
  }

  // Adds the results that are next in order. What the limits cut short is searched again with what is left of them, so
  // that the answer does not depend on how far other threads had come.
  void merge(CoverSearch<W>& search) {
    while (!settled_.load() && merged_ < branches_.size() && results_[merged_]) {
      BranchAnswer result = *std::move(results_[merged_]);
      results_[merged_].reset();
      const std::int64_t nodes = limits_.nodes - answer_.nodes, covers = limits_.covers - answer_.count;
      const bool cut = result.nodes > nodes || result.count > covers;
      if (cut) result = search_branch(search, branches_[merged_], nodes, covers, nullptr);
      add(std::move(result));
    }
  }

  void add(BranchAnswer result) {
    answer_.nodes += result.nodes;
    const bool fits = !__builtin_add_overflow(answer_.count, result.count, &answer_.count) &&
                      !__builtin_add_overflow(answer_.total, result.total, &answer_.total);
    for (Cover& cover : result.kept) {
      if (!tell_.as_found && tell_.on_cover && told_++ < tell_.most) tell_.on_cover(cover);
      if (answer_.kept.size() < limits_.keep) answer_.kept.push_back(std::move(cover));
    }
    if (!result.finished || !fits) return settled_.store(true);
    share_ = share_ + branches_[merged_++].share;
    answer_.count_done = answer_.count, answer_.total_done = answer_.total;
    if (tell_.on_progress && !tell_.as_found) tell_.on_progress({answer_.count, std::min(share_.load(), 1.0)});
    if ((answer_.count >= limits_.covers || answer_.nodes >= limits_.nodes) && merged_ < branches_.size())
      settled_.store(true);
  }

  const CoverProblem& problem_;
  CoverLimits limits_;
  const CoverListener& tell_;
  CoverTables<W> tables_;
  CoverHabit habit_;
  std::vector<CoverCase> cases_;
  std::vector<Branch> branches_;
  std::vector<std::optional<BranchAnswer>> results_;
  std::atomic<std::size_t> next_ = 0;
  std::atomic<bool> settled_ = false;
  std::mutex merging_;
  std::size_t merged_ = 0;
  std::int64_t told_ = 0;
  std::atomic<double> share_ = 0;  // changed by one thread at a time
  BranchEar ear_;
  std::mutex telling_;  // the four below
  std::int64_t found_ = 0, opened_ = 0;
  std::chrono::steady_clock::time_point told_at_ = std::chrono::steady_clock::now();
  CoverAnswer answer_;
};

}  // namespace

CoverAnswer solve_cover(const CoverProblem& problem, const CoverLimits& limits, const CoverListener& tell) {
  const int bits = bits_needed(problem);
  if (bits <= 64) return Solver<1>(problem, limits, tell).run();
  if (bits <= 128) return Solver<2>(problem, limits, tell).run();
  if (bits <= 256) return Solver<4>(problem, limits, tell).run();
  if (bits <= 512) return Solver<8>(problem, limits, tell).run();
  return Solver<20>(problem, limits, tell).run();  // the limits on designs keep within 1280
}

}  // namespace stickwright
