#include "takeapart/takeapart.h"

#include <algorithm>
#include <bit>
#include <climits>
#include <map>

#include "takeapart/coordinated.h"
#include "takeapart/part_search.h"
#include "takeapart/piece_symmetry.h"

namespace stickwright {
namespace {

// Positions for which coordinated moves are looked for, in all: each is a small linear-programming task.
constexpr std::size_t kMostCoordinated = 400;

// The pieces of a part in the group, or those not in it.
StandingPart side_of(const StandingPart& part, Group group, bool in) {
  StandingPart side;
  for (std::size_t k = 0; k < part.pieces.size(); ++k)
    if ((group >> k & 1) == in) side.pieces.push_back(part.pieces[k]), side.at.push_back(part.at[k]);
  const Stand first = side.at.front();
  for (Stand& s : side.at) s = s - first;
  return side;
}

// Where two hands are enough to start whatever can start: the planes between pieces do not mix the axes. See
// docs/derivations/first-motion.md, step 10.
bool two_hands_suffice(const Family& family) {
  const auto separators = family.separators();
  return std::all_of(separators.begin(), separators.end(), [](Vec n) { return dot(n, n) == 1; });
}

// What became of one part.
struct Outcome {
  Verdict verdict = Verdict::stopped;
  std::vector<Step> steps;
  int to_first = 0;
  bool fewest = true;
  Proof proof = Proof::none;
  std::vector<int> stuck;
  std::optional<Certificate> certificate;
};

Outcome stopped() {
  return {};
}
Outcome together(const StandingPart& part, Proof proof, std::optional<Certificate> certificate = {}) {
  return {Verdict::none_exists, {}, 0, false, proof, part.pieces, std::move(certificate)};
}

class Taker {
 public:
  Taker(const Family& family, const std::vector<Cells>& pieces, const TakeApartLimits& limits)
      : family_(family), cells_(pieces), table_(family, pieces), limits_(limits) {}

  // Taking a part asunder never depends on earlier separations: what is gone cannot be in the way, and every slide can
  // be undone. So a part that stays together does so whatever was tried before it; and the steps of the two sides of a
  // parting add up.
  const Outcome& solve(const StandingPart& part) {
    static const Outcome alone{Verdict::found, {}, 0, true, Proof::none, {}, {}};
    if (part.pieces.size() <= 1) return alone;
    const auto [at, added] = solved_.try_emplace(part);
    if (added && !copy_of_another(part, at->second)) {
      Outcome outcome = search(part);
      at->second = std::move(outcome);
    }
    return at->second;
  }

  TakeApart answer(const StandingPart& all) {
    const Outcome& o = solve(all);
    TakeApart t;
    t.verdict = o.verdict;
    if (o.verdict == Verdict::found) t.steps = o.steps, t.moves_to_first = o.to_first, t.fewest = o.fewest;
    if (o.verdict == Verdict::none_exists) t.proof = o.proof, t.stuck = o.stuck, t.certificate = o.certificate;
    t.states = states_, t.tests = tests_;
    return t;
  }

 private:
  // The search of one part, as far as it has come.
  struct Progress {
    const StandingPart& part;
    PartSearch search;
    Outcome best;                   // found, when some way was
    bool settled = false;           // a side stays together, or is not known to come apart: so it is with the whole
    std::vector<Step> coordinated;  // steps of positions reached by more than two hands: direction -1 - index
    bool left_out = false;          // something could not be followed, so that finding nothing proves nothing
    int not_looked_at = INT_MAX;    // ways with that many steps or more, which might be the fewest, were left out
  };

  // For a part that a symmetry of the closed puzzle takes to one that was found to come apart: the same steps, turned.
  bool copy_of_another(const StandingPart& part, Outcome& outcome) {
    if (!limits_.alike) return false;
    if (symmetries_.empty()) symmetries_ = piece_symmetries(family_, cells_);
    for (const auto& [other, known] : solved_)
      for (const PieceSymmetry& s : symmetries_)
        if (known.verdict == Verdict::found && !known.steps.empty() && takes(s, other, part)) {
          outcome = known;
          for (Step& step : outcome.steps) turn(s, step);
          return true;
        }
    return false;
  }
  static bool takes(const PieceSymmetry& s, const StandingPart& from, const StandingPart& to) {
    if (from.pieces.size() != to.pieces.size()) return false;
    std::optional<Vec> apart;
    for (std::size_t k = 0; k < from.pieces.size(); ++k) {
      const auto at = std::find(to.pieces.begin(), to.pieces.end(), s.piece_to[from.pieces[k]]);
      if (at == to.pieces.end()) return false;
      const Stand a = from.at[k], b = to.at[static_cast<std::size_t>(at - to.pieces.begin())];
      const Vec gap = Vec{b.x, b.y, b.z} - s.turn * Vec{a.x, a.y, a.z};
      if (apart.value_or(gap) != gap) return false;
      apart = gap;
    }
    return true;
  }
  static void turn(const PieceSymmetry& s, Step& step) {
    const auto rename = [&](std::vector<int>& pieces) {
      for (int& i : pieces) i = s.piece_to[i];
      std::sort(pieces.begin(), pieces.end());
    };
    rename(step.moves), rename(step.from);
    step.direction = s.turn * step.direction;
    for (Glide& g : step.also) rename(g.pieces), g.direction = s.turn * g.direction;
  }

  bool out_of_time() const { return states_ >= limits_.states || (limits_.cancel && limits_.cancel->load()); }

  Outcome search(const StandingPart& part) {
    Progress p{.part = part, .search = PartSearch(table_, part), .best = {}, .coordinated = {}};
    const int least_more = static_cast<int>(part.pieces.size()) - 1;  // each step parts a group in two at most
    for (std::size_t pos = 0; pos < p.search.positions() && !p.settled; ++pos) {
      if (found(p) && p.search.moves_to(pos) + least_more >= static_cast<int>(p.best.steps.size())) break;
      if (out_of_time()) return end_early(p);
      visit(p, pos);
    }
    tests_ += p.search.tests();
    if (p.settled || found(p)) {
      p.best.fewest &= !p.search.left_something_out() && static_cast<int>(p.best.steps.size()) <= p.not_looked_at;
      return std::move(p.best);
    }
    return with_more_hands(p);
  }

  static bool found(const Progress& p) { return p.best.verdict == Verdict::found; }

  Outcome end_early(Progress& p) {
    tests_ += p.search.tests();
    if (!found(p)) return stopped();
    p.best.fewest = false;
    return std::move(p.best);
  }

  // Least groups first: most often the first of them leads to the fewest steps that are possible at all.
  void visit(Progress& p, std::size_t pos) {
    ++states_;
    const int fewest = p.search.moves_to(pos) + static_cast<int>(p.part.pieces.size()) - 1;
    std::vector<Group> tried;
    for (const PartSearch::Which which : {PartSearch::Which::least, PartSearch::Which::all}) {
      try_ways_out(p, pos, which, fewest, tried);
      if (p.settled || (found(p) && static_cast<int>(p.best.steps.size()) <= fewest)) return;
    }
    // A group that can leave for good does not stop on the way. Where a single piece leaves, or leaves a single one,
    // that never costs a step; of two larger sides, each could make steps together with the other, had they not parted.
    const auto n = static_cast<int>(p.part.pieces.size());
    for (Group g : tried)
      if (const int size = std::popcount(g); size >= 2 && size <= n - 2)
        p.not_looked_at = std::min(p.not_looked_at, fewest + 1);
    p.search.expand(pos);
  }

  void try_ways_out(Progress& p, std::size_t pos, PartSearch::Which which, int fewest, std::vector<Group>& tried) {
    const Group all = p.part.pieces.size() == 64 ? ~Group{0} : (Group{1} << p.part.pieces.size()) - 1;
    for (const Slide& out : p.search.ways_out(pos, which)) {
      if (p.settled || (found(p) && static_cast<int>(p.best.steps.size()) <= fewest)) return;
      if (std::find(tried.begin(), tried.end(), out.group) != tried.end()) continue;
      tried.push_back(out.group), tried.push_back(all & ~out.group);
      const StandingPart here{p.part.pieces, p.search.at(pos)};
      part_at(p, pos, two_handed(here, out.group, table_.direction(out.direction), {}),
              {side_of(here, out.group, true), side_of(here, out.group, false)});
    }
  }

  // Takes the sides of a parting apart, and keeps the way if it is the shortest so far.
  void part_at(Progress& p, std::size_t pos, Step step, const std::vector<StandingPart>& sides) {
    std::vector<Step> steps = way_to(p, pos);
    const int to_first = static_cast<int>(steps.size()) + 1;
    steps.push_back(std::move(step));
    bool fewest = true;
    for (const StandingPart& side : sides) {
      const Outcome& o = solve(side);
      if (o.verdict != Verdict::found) {
        if (!found(p) || o.verdict == Verdict::none_exists) p.best = o, p.settled = true;
        p.best.fewest = false;
        return;
      }
      fewest &= o.fewest;
      steps.insert(steps.end(), o.steps.begin(), o.steps.end());
    }
    if (found(p) && p.best.steps.size() <= steps.size()) return;
    const int first = found(p) ? std::min(p.best.to_first, to_first) : to_first;
    p.best = {Verdict::found, std::move(steps), first, fewest, Proof::none, {}, {}};
  }

  std::vector<Step> way_to(const Progress& p, std::size_t pos) const {
    std::vector<Step> way;
    for (; pos != 0; pos = p.search.before(pos)) {
      const Slide by = p.search.by(pos);
      if (by.direction < 0)
        way.push_back(p.coordinated[static_cast<std::size_t>(-1 - by.direction)]);
      else
        way.push_back(
            two_handed(p.part, by.group, table_.direction(by.direction), {by.stops, family_.stops_per_unit()}));
    }
    std::reverse(way.begin(), way.end());
    return way;
  }

  // The smaller group is the one that moves; the other is held.
  static Step two_handed(const StandingPart& part, Group group, Vec direction, Reach distance) {
    Step step{{}, {}, direction, distance};
    for (std::size_t k = 0; k < part.pieces.size(); ++k)
      (group >> k & 1 ? step.moves : step.from).push_back(part.pieces[k]);
    if (step.from.size() < step.moves.size()) {
      std::swap(step.from, step.moves);
      step.direction = -step.direction;
    }
    std::sort(step.moves.begin(), step.moves.end());
    std::sort(step.from.begin(), step.from.end());
    return step;
  }

  // Two hands have found nothing: more than two groups at once, from every position that was reached.
  Outcome with_more_hands(Progress& p) {
    p.left_out = p.search.left_something_out();
    if (p.search.positions() == 1 && limits_.certificates) {
      const FirstMotion first = first_motion(family_, Standing{cells_of(p.part), shifts_of(p.part)});
      if (first.verdict == Verdict::none_exists) return together(p.part, Proof::certificate, first.certificate);
    }
    // Of two pieces the planes of obstacles meet in whole places only: no slide along their edges ends between two
    // stops.
    if (p.part.pieces.size() == 2) return together(p.part, Proof::exhausted);
    const bool more_hands_help = !two_hands_suffice(family_);
    const std::size_t expanded = p.search.positions();
    for (std::size_t pos = 0; more_hands_help && pos < p.search.positions() && !p.settled && !found(p); ++pos) {
      if (out_of_time() || ++coordinated_tried_ > kMostCoordinated) return stopped();
      if (pos >= expanded) visit(p, pos);
      if (!p.settled && !found(p)) move_together(p, pos);
    }
    if (p.settled || found(p)) {
      p.best.fewest = false;
      return std::move(p.best);
    }
    return p.left_out || p.search.left_something_out() ? stopped() : together(p.part, Proof::exhausted);
  }

  std::vector<Cells>& cells_of(const StandingPart& part) {
    part_cells_.clear();
    for (int i : part.pieces) part_cells_.push_back(cells_[i]);
    return part_cells_;
  }
  // Shifts in lattice units; empty when some piece stands between lattice points.
  std::vector<Vec> shifts_of(const StandingPart& part) const {
    std::vector<Vec> out;
    for (Stand s : part.at) {
      const int unit = family_.stops_per_unit();
      if (s.x % unit || s.y % unit || s.z % unit) return {};
      out.push_back({s.x / unit, s.y / unit, s.z / unit});
    }
    return out;
  }

  void move_together(Progress& p, std::size_t pos) {
    const StandingPart here{p.part.pieces, p.search.at(pos)};
    const std::vector<Vec> shifts = shifts_of(here);
    if (shifts.empty()) return void(p.left_out = true);
    const Touching touch = touching(family_, Standing{cells_of(here), shifts});
    const CoordinatedMotions motions = coordinated_motions(family_, touch);
    // With more than one way to move at a time a position might be left along a line that no single ray shows.
    p.left_out |= motions.verdict == Verdict::stopped ||
                  motions.rays + 2 * static_cast<std::size_t>(motions.slides) > 2 ||
                  (motions.rays == 2 && motions.slides == 0);
    for (const Motion& m : motions.motions)
      if (!found(p) && !p.settled) follow(p, pos, here, shifts, m);
  }

  void follow(Progress& p, std::size_t pos, const StandingPart& here, const std::vector<Vec>& shifts, const Motion& m) {
    Reach far;
    for (std::size_t i = 0; i < here.pieces.size(); ++i)
      for (std::size_t j = i + 1; j < here.pieces.size(); ++j)
        if (const Vec d = m.slide[i] - m.slide[j]; d != Vec{})
          far = std::min(far, table_.reach_of(here.pieces[i], here.pieces[j], {shifts[i] - shifts[j]}, d));
    Step step = together_step(here, m, far);
    if (far.free()) return part_at(p, pos, std::move(step), groups_of(here, m));
    p.left_out = true;  // places to stop on the way are not tried
    std::vector<Stand> to = here.at;
    for (std::size_t k = 0; k < to.size(); ++k) {
      const Vec by = far.top * family_.stops_per_unit() * m.slide[k];
      if (by.x % far.bottom || by.y % far.bottom || by.z % far.bottom) return;
      to[k] = {static_cast<std::int16_t>(to[k].x + by.x / far.bottom),
               static_cast<std::int16_t>(to[k].y + by.y / far.bottom),
               static_cast<std::int16_t>(to[k].z + by.z / far.bottom)};
    }
    p.coordinated.push_back(std::move(step));
    p.search.add(to, pos, {0, -static_cast<int>(p.coordinated.size()), 1});
  }

  // Pieces of equal speed stay together.
  static std::map<Vec, Group> by_speed(const Motion& m) {
    std::map<Vec, Group> groups;
    for (std::size_t k = 0; k < m.slide.size(); ++k) groups[m.slide[k]] |= Group{1} << k;
    return groups;
  }
  static std::vector<StandingPart> groups_of(const StandingPart& part, const Motion& m) {
    std::vector<StandingPart> out;
    for (const auto& [speed, group] : by_speed(m)) out.push_back(side_of(part, group, true));
    return out;
  }
  static Step together_step(const StandingPart& part, const Motion& m, Reach far) {
    std::vector<Glide> glides;
    for (const auto& [speed, group] : by_speed(m)) {
      glides.push_back({{}, speed});
      for (std::size_t k = 0; k < part.pieces.size(); ++k)
        if (group >> k & 1) glides.back().pieces.push_back(part.pieces[k]);
      std::sort(glides.back().pieces.begin(), glides.back().pieces.end());
    }
    std::stable_sort(glides.begin(), glides.end(),
                     [](const Glide& a, const Glide& b) { return a.pieces.size() > b.pieces.size(); });
    const Vec held = glides.front().direction;
    for (Glide& g : glides) g.direction = g.direction - held;
    Step step{glides[1].pieces, glides[0].pieces, glides[1].direction, far};
    step.also.assign(glides.begin() + 2, glides.end());
    return step;
  }

  const Family& family_;
  const std::vector<Cells>& cells_;
  SlideTable table_;
  TakeApartLimits limits_;
  std::map<StandingPart, Outcome> solved_;
  std::vector<PieceSymmetry> symmetries_;
  std::vector<Cells> part_cells_;
  std::int64_t states_ = 0, tests_ = 0;
  std::size_t coordinated_tried_ = 0;
};

}  // namespace

std::vector<Glide> Step::gliding() const {
  std::vector<Glide> groups = {{moves, direction}};
  groups.insert(groups.end(), also.begin(), also.end());
  return groups;
}

bool TakeApart::coordinated() const {
  return std::any_of(steps.begin(), steps.end(), [](const Step& s) { return !s.also.empty(); });
}

TakeApart take_apart(const Family& family, const std::vector<Cells>& pieces, const TakeApartLimits& limits) {
  StandingPart all;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    all.pieces.push_back(static_cast<int>(i));
    all.at.push_back({});
  }
  return Taker(family, pieces, limits).answer(all);
}

}  // namespace stickwright
