#include "takeapart/takeapart.h"

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

#include "takeapart/sweep.h"

namespace stickwright {
namespace {

// Where the pieces of one part stand, relative to the first of them.
using Offsets = std::vector<Vec>;

struct Slide {
  std::vector<int> group;  // positions within the part
  int direction = 0;
  Reach reach;
};

// A part: pieces that have not been separated from each other yet.
struct Part {
  std::vector<int> pieces;
  Offsets at;
};

class Sweeps {
 public:
  Sweeps(const Family& family, const std::vector<Cells>& pieces) : family_(family) {
    for (const Cells& c : pieces) bodies_.push_back(sweep_body(family, c));
  }
  // Reach of piece i sliding past piece j, for every direction.
  const std::vector<Reach>& between(int i, int j, Vec offset) {
    auto [at, added] = cache_.try_emplace({i, j, offset});
    if (added)
      for (Vec d : family_.slide_directions()) at->second.push_back(reach(family_, bodies_[i], bodies_[j], offset, d));
    return at->second;
  }

 private:
  const Family& family_;
  std::vector<SweepBody> bodies_;
  std::map<std::tuple<int, int, Vec>, std::vector<Reach>> cache_;
};

// reach[i][j][d] within one part.
using ReachTable = std::vector<std::vector<const std::vector<Reach>*>>;

ReachTable reaches(Sweeps& sweeps, const Part& part) {
  const std::size_t n = part.pieces.size();
  ReachTable table(n, std::vector<const std::vector<Reach>*>(n));
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j)
      if (i != j) table[i][j] = &sweeps.between(part.pieces[i], part.pieces[j], part.at[i] - part.at[j]);
  return table;
}

// The least group that holds the seed and can slide at least as far as `wanted`: whoever is in the way comes along.
std::vector<int> group_with(const ReachTable& table, int seed, int d, const Reach& wanted) {
  std::vector<int> group = {seed};
  std::vector<bool> in(table.size());
  in[seed] = true;
  for (std::size_t done = 0; done < group.size(); ++done)
    for (std::size_t j = 0; j < table.size(); ++j)
      if (!in[j] && (*table[group[done]][j])[d] < wanted) in[j] = true, group.push_back(static_cast<int>(j));
  std::sort(group.begin(), group.end());
  return group;
}

Reach group_reach(const ReachTable& table, const std::vector<int>& group, int d) {
  Reach least;
  for (int i : group)
    for (std::size_t j = 0; j < table.size(); ++j)
      if (!std::binary_search(group.begin(), group.end(), static_cast<int>(j)))
        least = std::min(least, (*table[i][j])[d]);
  return least;
}

// How far a group may have to go before something else can move: past any piece, one is free.
constexpr std::int64_t kFurthestStop = 24;

std::vector<Slide> slides(const Family& family, const ReachTable& table, const Reach& wanted) {
  std::vector<Slide> found;
  const int directions = static_cast<int>(family.slide_directions().size());
  for (int d = 0; d < directions; ++d)
    for (std::size_t seed = 0; seed < table.size(); ++seed) {
      Slide s{group_with(table, static_cast<int>(seed), d, wanted), d, {}};
      if (s.group.size() == table.size()) continue;
      s.reach = group_reach(table, s.group, d);
      const bool known = std::any_of(found.begin(), found.end(),
                                     [&](const Slide& f) { return f.direction == d && f.group == s.group; });
      if (!known) found.push_back(std::move(s));
    }
  return found;
}

// Of several ways to part, the one that a person would try first: fewest pieces in the moving hand.
const Slide* simplest(const std::vector<Slide>& slides, std::size_t pieces) {
  const auto hand = [&](const Slide& s) { return std::min(s.group.size(), pieces - s.group.size()); };
  const auto best =
      std::min_element(slides.begin(), slides.end(), [&](const Slide& a, const Slide& b) { return hand(a) < hand(b); });
  return best == slides.end() ? nullptr : &*best;
}

Offsets normalised(Offsets at) {
  const Vec first = at.front();
  for (Vec& v : at) v = v - first;
  return at;
}

class Taker {
 public:
  Taker(const Family& family, const std::vector<Cells>& pieces, const TakeApartLimits& limits)
      : family_(family), sweeps_(family, pieces), limits_(limits) {}

  // Taking a part asunder never depends on the order of earlier separations: what is gone cannot be in the way, and
  // every slide can be undone, so the first separation found is as good as any.
  Verdict run(Part part) {
    if (part.pieces.size() < 2) return Verdict::found;
    Part left, right;
    const Verdict v = separate(std::move(part), left, right);
    if (v != Verdict::found) return v;
    const Verdict a = run(std::move(left));
    return a == Verdict::found ? run(std::move(right)) : a;
  }

  TakeApart take(Verdict verdict) {
    answer_.verdict = verdict;
    if (verdict != Verdict::found) answer_.steps.clear();
    return std::move(answer_);
  }

 private:
  struct Seen {
    Offsets before;
    Step step;
  };

  Verdict separate(Part part, Part& left, Part& right) {
    std::map<Offsets, Seen> seen = {{normalised(part.at), {}}};
    std::vector<Offsets> open = {normalised(part.at)};
    const Offsets start = open.front();
    for (std::size_t done = 0; done < open.size(); ++done) {
      if (++answer_.states > limits_.states) return Verdict::stopped;
      part.at = open[done];
      const ReachTable table = reaches(sweeps_, part);
      const std::vector<Slide> ways_out = slides(family_, table, Reach{});
      if (const Slide* out = simplest(ways_out, part.pieces.size())) {
        report_way(seen, start, part.at);
        split(part, *out, left, right);
        return Verdict::found;
      }
      for (const Slide& s : slides(family_, table, Reach{1, 1})) add_stops(part, s, seen, open);
    }
    return cut_off_ ? Verdict::stopped : Verdict::none_exists;
  }

  void add_stops(const Part& part, const Slide& s, std::map<Offsets, Seen>& seen, std::vector<Offsets>& open) {
    cut_off_ |= s.reach.whole() > kFurthestStop;
    for (std::int64_t k = std::min(s.reach.whole(), kFurthestStop); k >= 1; --k) {
      Offsets at = part.at;
      for (int i : s.group) at[i] = at[i] + k * family_.slide_directions()[s.direction];
      at = normalised(std::move(at));
      if (seen.try_emplace(at, Seen{part.at, step_of(part, s, k)}).second) open.push_back(at);
    }
  }

  // The smaller group is the one that moves; the other is held.
  Step step_of(const Part& part, const Slide& s, std::optional<std::int64_t> distance) const {
    Step step{{}, {}, family_.slide_directions()[s.direction], distance};
    for (std::size_t i = 0; i < part.pieces.size(); ++i) {
      const bool slides = std::binary_search(s.group.begin(), s.group.end(), static_cast<int>(i));
      (slides ? step.moves : step.from).push_back(part.pieces[i]);
    }
    if (step.from.size() < step.moves.size()) {
      std::swap(step.from, step.moves);
      step.direction = -step.direction;
    }
    return step;
  }

  void report_way(const std::map<Offsets, Seen>& seen, const Offsets& start, Offsets at) {
    std::vector<Step> way;
    while (at != start) {
      const Seen& s = seen.at(at);
      way.push_back(s.step);
      at = s.before;
    }
    answer_.steps.insert(answer_.steps.end(), way.rbegin(), way.rend());
  }

  void split(const Part& part, const Slide& out, Part& left, Part& right) {
    answer_.steps.push_back(step_of(part, out, {}));
    for (std::size_t i = 0; i < part.pieces.size(); ++i) {
      Part& side = std::binary_search(out.group.begin(), out.group.end(), static_cast<int>(i)) ? left : right;
      side.pieces.push_back(part.pieces[i]);
      side.at.push_back(part.at[i]);
    }
  }

  const Family& family_;
  Sweeps sweeps_;
  TakeApartLimits limits_;
  TakeApart answer_;
  bool cut_off_ = false;  // some slide could go further than was looked at
};

}  // namespace

TakeApart take_apart(const Family& family, const std::vector<Cells>& pieces, const TakeApartLimits& limits) {
  Part all;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    all.pieces.push_back(static_cast<int>(i));
    all.at.push_back({});
  }
  Taker taker(family, pieces, limits);
  const Verdict verdict = taker.run(std::move(all));
  return taker.take(verdict);
}

}  // namespace stickwright
