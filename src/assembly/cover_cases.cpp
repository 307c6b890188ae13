#include "assembly/cover_cases.h"

#include <algorithm>

namespace stickwright {
namespace {

using Symmetries = std::vector<std::vector<int>>;

// A set of options of which every cover holds exactly one, split into orbits.
struct Handle {
  std::vector<int> regular;  // one option of each orbit that has no symmetry left
  std::vector<int> others;   // one of each other orbit
  std::size_t size = 0;      // options in the set
};

bool kept_by(const std::vector<int>& set, const Symmetries& symmetries) {
  for (const auto& s : symmetries)
    for (int option : set)
      if (!std::binary_search(set.begin(), set.end(), s[option])) return false;
  return true;
}

Handle split(const std::vector<int>& set, const Symmetries& symmetries) {
  Handle h{{}, {}, set.size()};
  for (int option : set) {
    int least = option, keeps = 0;
    for (const auto& s : symmetries) least = std::min(least, s[option]), keeps += s[option] == option;
    if (least == option) (keeps == 1 ? h.regular : h.others).push_back(option);
  }
  return h;
}

// Sets with one option in every cover: the places of a piece of which one is used, and what covers a cell.
std::vector<std::vector<int>> handles(const CoverProblem& p, const std::vector<char>& allowed) {
  std::vector<std::vector<int>> by_supply(p.supplies.size()), by_cell(static_cast<std::size_t>(p.cells));
  for (std::size_t o = 0; o < p.options.size(); ++o) {
    if (!allowed[o]) continue;
    by_supply[p.options[o].supply].push_back(static_cast<int>(o));
    for (int c : p.options[o].cells) by_cell[c].push_back(static_cast<int>(o));
  }
  std::vector<std::vector<int>> out;
  for (std::size_t s = 0; s < by_supply.size(); ++s)
    if (p.supplies[s].at_least == 1 && p.supplies[s].at_most == 1) out.push_back(std::move(by_supply[s]));
  for (int c = 0; c < p.cells; ++c)
    if (p.may_stay_empty.empty() || !p.may_stay_empty[c]) out.push_back(std::move(by_cell[c]));
  return out;
}

// The better handle leaves fewer orbits with symmetries of their own, then fewer orbits for its size, then is smaller.
bool better(const Handle& a, const Handle& b) {
  if (a.others.size() != b.others.size()) return a.others.size() < b.others.size();
  const std::size_t left = a.regular.size() * b.size, right = b.regular.size() * a.size;
  return left != right ? left < right : a.size < b.size;
}

Symmetries that_keep(int option, const Symmetries& symmetries) {
  Symmetries out;
  for (const auto& s : symmetries)
    if (s[option] == option) out.push_back(s);
  return out;
}

// A handle must gather its options into fewer orbits, and few of them may need cases of their own: else testing each
// cover is cheaper.
constexpr std::size_t kMostOthers = 12;
constexpr int kDeepest = 3;

class Splitter {
 public:
  explicit Splitter(const CoverProblem& problem) : problem_(problem) {}

  void split_case(std::vector<char> allowed, const Symmetries& symmetries, int depth = 0) {
    const std::vector<int>* set = nullptr;
    Handle best;
    const auto sets =
        symmetries.size() > 1 && depth < kDeepest ? handles(problem_, allowed) : std::vector<std::vector<int>>{};
    for (const auto& candidate : sets) {
      if (candidate.empty() || !kept_by(candidate, symmetries)) continue;
      Handle h = split(candidate, symmetries);
      if (4 * (h.regular.size() + h.others.size()) > 3 * h.size || h.others.size() > kMostOthers) continue;
      if (!set || better(h, best)) set = &candidate, best = std::move(h);
    }
    if (!set) return cases_.push_back({std::move(allowed), symmetries});
    for (int option : *set) allowed[option] = 0;
    if (!best.regular.empty()) {
      auto some = allowed;
      for (int option : best.regular) some[option] = 1;
      cases_.push_back({std::move(some), {symmetries.front()}});
    }
    for (int option : best.others) {
      auto one = allowed;
      one[option] = 1;
      split_case(std::move(one), that_keep(option, symmetries), depth + 1);
    }
  }

  std::vector<CoverCase> take() { return std::move(cases_); }

 private:
  const CoverProblem& problem_;
  std::vector<CoverCase> cases_;
};

Cover image(const Cover& cover, const std::vector<int>& symmetry) {
  Cover out;
  for (int option : cover) out.push_back(symmetry[option]);
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace

std::vector<CoverCase> cover_cases(const CoverProblem& problem) {
  const std::vector<char> all(problem.options.size(), 1);
  if (problem.symmetries.size() < 2) {
    std::vector<int> same(problem.options.size());
    for (std::size_t i = 0; i < same.size(); ++i) same[i] = static_cast<int>(i);
    return {{all, {same}}};
  }
  Splitter splitter(problem);
  splitter.split_case(all, problem.symmetries);
  return splitter.take();
}

bool least_of_its_class(const Cover& cover, const std::vector<std::vector<int>>& symmetries) {
  return std::all_of(symmetries.begin() + 1, symmetries.end(),
                     [&](const auto& s) { return !(image(cover, s) < cover); });
}

int symmetries_of(const Cover& cover, const std::vector<std::vector<int>>& symmetries) {
  return static_cast<int>(
      std::count_if(symmetries.begin(), symmetries.end(), [&](const auto& s) { return image(cover, s) == cover; }));
}

}  // namespace stickwright
