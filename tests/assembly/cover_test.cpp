// The cover engine against a deliberately plain search, on random problems of every kind that it takes.
#include "assembly/cover.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <random>
#include <set>

namespace stickwright {
namespace {

// All covers by trying every subset of the options in order: knows the definition only.
class PlainSearch {
 public:
  explicit PlainSearch(const CoverProblem& p) : p_(p), filled_(p.cells), used_(p.supplies.size()) {}
  std::set<Cover> run() {
    decide(0);
    return std::move(covers_);
  }

 private:
  void decide(std::size_t option) {
    if (option == p_.options.size()) return judge();
    decide(option + 1);
    const CoverOption& o = p_.options[option];
    if (std::any_of(o.cells.begin(), o.cells.end(), [&](int c) { return filled_[c] > 0; })) return;
    for (int c : o.cells) ++filled_[c];
    ++used_[o.supply];
    path_.push_back(static_cast<int>(option));
    decide(option + 1);
    path_.pop_back();
    --used_[o.supply];
    for (int c : o.cells) --filled_[c];
  }
  void judge() {
    for (int c = 0; c < p_.cells; ++c)
      if (!filled_[c] && !(!p_.may_stay_empty.empty() && p_.may_stay_empty[c])) return;
    for (std::size_t s = 0; s < used_.size(); ++s)
      if (used_[s] < p_.supplies[s].at_least || used_[s] > p_.supplies[s].at_most) return;
    if (p_.chosen_in_all && static_cast<int>(path_.size()) != *p_.chosen_in_all) return;
    covers_.insert(path_);
  }

  const CoverProblem& p_;
  std::vector<int> filled_, used_;
  Cover path_;
  std::set<Cover> covers_;
};

// A strip of cells with a mirror: options come in mirror pairs, each supply holds options of one size.
CoverProblem random_problem(std::mt19937& rng, bool loose) {
  CoverProblem p;
  p.cells = 4 + static_cast<int>(rng() % 5);
  p.may_stay_empty.assign(p.cells, 0);
  if (loose)
    for (int c = 0; 2 * c < p.cells; ++c) p.may_stay_empty[c] = p.may_stay_empty[p.cells - 1 - c] = rng() % 3 == 0;
  std::set<std::pair<int, std::vector<int>>> options;
  const int supplies = 2 + static_cast<int>(rng() % 3);
  for (int s = 0; s < supplies; ++s) {
    const int size = 1 + static_cast<int>(rng() % 3), most = 1 + static_cast<int>(rng() % 3);
    p.supplies.push_back({loose ? static_cast<int>(rng() % (most + 1)) : (rng() % 2 ? most : 0), most});
    for (int k = 0; k < 2; ++k) {
      std::set<int> cells;
      while (static_cast<int>(cells.size()) < size) cells.insert(static_cast<int>(rng() % static_cast<unsigned>(p.cells)));
      std::vector<int> one, mirrored;
      for (int c : cells) one.push_back(c % p.cells);
      std::sort(one.begin(), one.end());
      one.erase(std::unique(one.begin(), one.end()), one.end());
      if (static_cast<int>(one.size()) != size) continue;
      for (int c : one) mirrored.push_back(p.cells - 1 - c);
      std::sort(mirrored.begin(), mirrored.end());
      options.insert({s, one}), options.insert({s, mirrored});
    }
  }
  for (const auto& [supply, cells] : options) p.options.push_back({supply, cells});
  if (loose && rng() % 2) p.chosen_in_all = 1 + static_cast<int>(rng() % 4);
  if (rng() % 2) {
    p.neighbors.resize(p.cells);
    for (int c = 1; c < p.cells; ++c) p.neighbors[c].push_back(c - 1), p.neighbors[c - 1].push_back(c);
  }
  return p;
}

std::vector<int> mirror_of(const CoverProblem& p) {
  std::vector<int> to;
  for (const CoverOption& o : p.options) {
    CoverOption image{o.supply, {}};
    for (int c : o.cells) image.cells.push_back(p.cells - 1 - c);
    std::sort(image.cells.begin(), image.cells.end());
    const auto at = std::find_if(p.options.begin(), p.options.end(), [&](const CoverOption& q) {
      return q.supply == image.supply && q.cells == image.cells;
    });
    to.push_back(static_cast<int>(at - p.options.begin()));
  }
  return to;
}

void add_mirror(CoverProblem& p) {
  std::vector<int> same(p.options.size());
  for (std::size_t i = 0; i < same.size(); ++i) same[i] = static_cast<int>(i);
  p.symmetries = {same};
  if (mirror_of(p) != same) p.symmetries.push_back(mirror_of(p));
}

Cover mirrored(const CoverProblem& p, const Cover& cover) {
  Cover out;
  for (int o : cover) out.push_back(p.symmetries.back()[o]);
  std::sort(out.begin(), out.end());
  return out;
}

void agree(std::mt19937& rng, bool loose, int* with_covers, int* with_classes) {
  CoverProblem p = random_problem(rng, loose);
  const std::set<Cover> plain = PlainSearch(p).run();
  const CoverAnswer all = solve_cover(p, {.threads = 1});
  EXPECT_EQ(all.verdict, plain.empty() ? Verdict::none_exists : Verdict::found);
  EXPECT_EQ(std::set<Cover>(all.kept.begin(), all.kept.end()), plain);
  EXPECT_EQ(all.count, static_cast<std::int64_t>(plain.size()));
  EXPECT_EQ(solve_cover(p, {.keep = 0, .threads = 1}).count, all.count);  // counting takes other ways than listing
  add_mirror(p);
  const CoverAnswer classes = solve_cover(p, {.threads = 1});
  std::set<Cover> with_mirrors;
  for (const Cover& c : classes.kept) {
    EXPECT_TRUE(with_mirrors.insert(c).second);
    with_mirrors.insert(mirrored(p, c));
  }
  EXPECT_EQ(with_mirrors, plain);
  std::set<Cover> least;
  for (const Cover& c : plain) least.insert(std::min(c, mirrored(p, c)));
  EXPECT_EQ(classes.count, static_cast<std::int64_t>(least.size()));
  EXPECT_EQ(classes.total, all.count);
  *with_covers += !plain.empty();
  *with_classes += least.size() < plain.size();
}

TEST(Cover, AgreesWithThePlainSearchOnProblemsThatFillEverything) {
  std::mt19937 rng(3);
  int with_covers = 0, with_classes = 0;
  for (int k = 0; k < 3000 && !testing::Test::HasFailure(); ++k) agree(rng, false, &with_covers, &with_classes);
  EXPECT_GT(with_covers, 300);  // the comparison would be idle otherwise
  EXPECT_GT(with_classes, 50);
}

TEST(Cover, AgreesWithThePlainSearchWithCellsThatStayEmptyAndPiecesThatAreLeftOut) {
  std::mt19937 rng(4);
  int with_covers = 0, with_classes = 0;
  for (int k = 0; k < 3000 && !testing::Test::HasFailure(); ++k) agree(rng, true, &with_covers, &with_classes);
  EXPECT_GT(with_covers, 300);
  EXPECT_GT(with_classes, 50);
}

// Strips of dominoes: the Fibonacci numbers, with one kind of piece in any number.
TEST(Cover, CountsGrowBeyondWhatCanBeListed) {
  CoverProblem p;
  p.cells = 80;
  p.supplies = {{0, 80}};
  for (int c = 0; c < p.cells; ++c) {
    p.options.push_back({0, {c}});
    if (c + 1 < p.cells) p.options.push_back({0, {c, c + 1}});
  }
  p.neighbors.resize(p.cells);
  for (int c = 1; c < p.cells; ++c) p.neighbors[c].push_back(c - 1), p.neighbors[c - 1].push_back(c);
  EXPECT_EQ(solve_cover(p, {.keep = 0}).count, 37889062373143906);  // the 81st Fibonacci number, OEIS A000045
}

}  // namespace
}  // namespace stickwright
