#include "saw/program.h"

#include <algorithm>
#include <array>
#include <map>
#include <numbers>
#include <queue>
#include <set>
#include <tuple>

#include "block/stick.h"

namespace stickwright {
namespace {

constexpr std::array<Vec, 4> kLean = {{{1, 0, 0}, {0, 1, 0}, {-1, 0, 0}, {0, -1, 0}}};
constexpr std::int64_t kStickEnd = 64;  // far enough: the rest of the stick, when it has not been severed yet

constexpr std::array<HalfSpace, 4> kSides = {{{{1, 1, 0}, 1}, {{-1, -1, 0}, 1}, {{1, -1, 0}, 1}, {{-1, 1, 0}, 1}}};

Vec to_frame(Vec lattice_point) {
  return lattice_point - Vec{1, 0, 0};
}

std::vector<Vec> corners_of(const std::vector<Miter>& miters) {
  std::vector<HalfSpace> halves(kSides.begin(), kSides.end());
  halves.push_back({{0, 0, 1}, kStickEnd});
  halves.push_back({{0, 0, -1}, kStickEnd});
  for (const Miter& m : miters) halves.push_back(plane_of(m));
  const auto p = intersect(halves);
  return p ? p->corners : std::vector<Vec>{};
}

// One way to lay the block into a stick: its corners in the work's frame.
struct Lie {
  int axis;
  Isometry to_stick;
  std::vector<Vec> corners;
  std::vector<Miter> faces;        // the miters that are faces of the block
  std::array<Miter, 4> near, far;  // by lean: the tightest miters that leave the block whole
};

Lie lie_of(const Block& block, int axis, bool turned) {
  Lie lie{axis, to_standard_stick(stick_through(block.cells.front(), axis)), {}, {}, {}, {}};
  if (turned) {  // half a turn about the line through (1, 0, 0) along x: the section stays, the ends change places
    const Turn half{{Vec{1, 0, 0}, Vec{0, -1, 0}, Vec{0, 0, -1}}};
    lie.to_stick = {half * lie.to_stick.turn, half * lie.to_stick.shift};
  }
  for (Vec p : block.body.corners) lie.corners.push_back(to_frame(lie.to_stick * p));
  for (int lean = 0; lean < 4; ++lean) {
    std::int64_t low = INT64_MAX, high = INT64_MIN, at_low = 0, at_high = 0;
    for (Vec p : lie.corners) {
      const std::int64_t n = p.z - dot(kLean[lean], p), f = p.z + dot(kLean[lean], p);
      at_low = n < low ? 1 : at_low + (n == low);
      at_high = f > high ? 1 : at_high + (f == high);
      low = std::min(low, n);
      high = std::max(high, f);
    }
    lie.near[lean] = {End::near, lean, low};
    lie.far[lean] = {End::far, lean, high};
    if (at_low >= 3) lie.faces.push_back(lie.near[lean]);
    if (at_high >= 3) lie.faces.push_back(lie.far[lean]);
  }
  return lie;
}

// A severing cut is a full cut when it nowhere runs out of the near miter: checked at the section's corners.
bool is_full_cut(const Miter& near, const Miter& far) {
  return std::all_of(kLean.begin(), kLean.end(), [&](Vec corner) {
    return far.at - dot(kLean[far.lean], corner) >= near.at + dot(kLean[near.lean], corner);
  });
}

struct Touch {
  std::int64_t distance;
  Seating contact;
};

// The work slides along t until it touches the stop; the cut's plane then lies this far beyond the contact.
Touch touch(const std::vector<Vec>& work, const Miter& cut, StopFace face, bool end_for_end) {
  const std::int64_t way = end_for_end ? -1 : 1;
  const Vec lean = cut.end == End::far ? kLean[cut.lean] : -kLean[cut.lean];
  const Vec along = face == StopFace::square ? Vec{0, 0, 1} : lean + Vec{0, 0, 1};
  std::int64_t least = INT64_MAX;
  int touching = 0;
  for (Vec p : work) {
    const std::int64_t t = way * dot(along, p);
    touching = t < least ? 1 : touching + (t == least);
    least = std::min(least, t);
  }
  return {way * cut.at - least, touching >= 3 ? Seating::face : touching == 2 ? Seating::edge : Seating::point};
}

// The nearest approach of the blade plane to the stop's face: from the face's corner on the side +a for a square one,
// all over for a mitered one. Distances are multiples of the unit, so a hair's breadth of slack settles equality, no
// more.
bool keeps_clear(StopFace face, std::int64_t distance, double closest) {
  const auto axial = static_cast<double>(face == StopFace::square ? distance - 1 : distance);
  return axial > 0 && axial / std::numbers::sqrt2 > closest - 1e-9;
}

// Lexicographic, in this order.
struct Cost {
  int mitered_tips = 0, stops = 0, points = 0, edges = 0, severed_at = 0, loose = 0, turns = 0;
  friend auto operator<=>(const Cost&, const Cost&) = default;
};

// What has been cut so far and which stops stand: all that the rest of a program depends on.
struct State {
  std::vector<bool> done;  // by index into the list of miters still to cut
  std::set<std::pair<StopFace, std::int64_t>> stops;
  bool turned = false;  // the last cut was made with the block end for end
  friend auto operator<=>(const State&, const State&) = default;
};

struct Found {
  Cost cost;
  std::vector<Cut> cuts;  // Cut::stop is set later, from stop_of
  std::vector<std::pair<StopFace, std::int64_t>> stop_of;
};

// Best order of cuts for one lie, one starting miter and one severing miter: Dijkstra over states.
class OrderSearch {
 public:
  OrderSearch(const Lie& lie, const Miter& start, const Miter& sever, const PlanLimits& limits)
      : start_(start), limits_(limits), todo_{sever} {
    for (const Miter& m : lie.faces)
      if (m != start && m != sever) todo_.push_back(m);
  }
  int cuts() const { return static_cast<int>(todo_.size()); }

  std::optional<Found> run() {
    using Entry = std::tuple<Cost, State, Found>;
    const auto later = [](const Entry& a, const Entry& b) {
      return std::tie(std::get<0>(a), std::get<1>(a)) > std::tie(std::get<0>(b), std::get<1>(b));
    };
    std::priority_queue<Entry, std::vector<Entry>, decltype(later)> open(later);
    std::set<State> closed;
    open.push({{}, {std::vector<bool>(todo_.size()), {}, false}, {}});
    while (!open.empty()) {
      const auto [cost, state, found] = open.top();
      open.pop();
      if (!closed.insert(state).second) continue;
      if (std::find(state.done.begin(), state.done.end(), false) == state.done.end()) return found;
      for (auto& [next_state, next] : steps(state, found))
        if (!closed.contains(next_state)) open.push({next.cost, next_state, next});
    }
    return {};
  }

 private:
  std::vector<std::pair<State, Found>> steps(const State& state, const Found& found) const {
    std::vector<Miter> cut = {start_};
    for (std::size_t i = 0; i < todo_.size(); ++i)
      if (state.done[i]) cut.push_back(todo_[i]);
    const std::vector<Vec> work = corners_of(cut);
    const bool severed = state.done[0];
    std::vector<std::pair<State, Found>> out;
    for (std::size_t i = 0; i < todo_.size(); ++i) {
      if (state.done[i] || severed == (i == 0)) continue;  // the severing cut comes first, all others trim
      for (StopFace face : {StopFace::square, StopFace::mitered})
        if (face == StopFace::mitered || limits_.square_stops) add_step(state, found, work, i, face, severed, out);
    }
    return out;
  }

  void add_step(const State& state, const Found& found, const std::vector<Vec>& work, std::size_t i, StopFace face,
                bool severed, std::vector<std::pair<State, Found>>& out) const {
    Cut cut;
    cut.miter = todo_[i];
    cut.on_stick = !severed;
    cut.severs = i == 0;
    cut.end_for_end = severed && cut.miter.end == End::near;
    const Touch at = touch(work, cut.miter, face, cut.end_for_end);
    if (!keeps_clear(face, at.distance, limits_.closest_stop)) return;
    cut.contact = at.contact;
    State next_state = state;
    next_state.done[i] = true;
    next_state.stops.insert({face, at.distance});
    next_state.turned = cut.end_for_end;
    Found next = found;
    add_cost(next, cut, face, next_state.stops.size(), state.turned);
    next.cuts.push_back(cut);
    next.stop_of.push_back({face, at.distance});
    out.push_back({std::move(next_state), std::move(next)});
  }

  static void add_cost(Found& next, const Cut& cut, StopFace face, std::size_t stops, bool turned_before) {
    next.cost.points += cut.contact == Seating::point;
    next.cost.edges += cut.contact == Seating::edge;
    next.cost.mitered_tips += cut.contact == Seating::point && face == StopFace::mitered;
    if (cut.severs) next.cost.severed_at = 2 - static_cast<int>(cut.contact);
    next.cost.loose += !cut.on_stick;
    next.cost.turns += cut.end_for_end != turned_before;
    next.cost.stops = static_cast<int>(stops);
  }

  Miter start_;
  PlanLimits limits_;
  std::vector<Miter> todo_;  // the severing one first
};

// Corners by index: 0 +a, 1 +b, 2 -a, 3 -b. In the cradle +a is away from the operator and +b is up.
Pencil pencil_at(const Cut& cut, int pencil_corner) {
  const int lean = cut.miter.lean;
  if (cut.end_for_end) return static_cast<Pencil>((lean - pencil_corner + 8) % 4);
  return static_cast<Pencil>((pencil_corner - lean + 8) % 4);
}

using FullCost = std::tuple<int, int, int, int, int, std::int64_t, int, int, int>;

FullCost full_cost(const Cost& c, int cuts, std::int64_t length) {
  return {c.mitered_tips, c.stops, cuts, c.points, c.edges, length, c.severed_at, c.loose, c.turns};
}

Program program_of(const Lie& lie, const Miter& start, const Miter& sever, const Found& found) {
  Program p;
  p.stick_axis = lie.axis;
  p.to_stick = lie.to_stick;
  p.start = start;
  p.start_is_a_face = std::find(lie.faces.begin(), lie.faces.end(), start) != lie.faces.end();
  p.length = sever.at - start.at;
  std::vector<std::pair<StopFace, std::int64_t>> stops;
  for (std::size_t i = 0; i < found.cuts.size(); ++i)
    if (found.cuts[i].severs) stops.push_back(found.stop_of[i]);
  for (const auto& s : found.stop_of)
    if (std::find(stops.begin(), stops.end(), s) == stops.end()) stops.push_back(s);
  for (const auto& [face, distance] : stops) p.stops.push_back({face, distance, Seating::face});
  for (std::size_t i = 0; i < found.cuts.size(); ++i) {
    Cut cut = found.cuts[i];
    cut.stop = static_cast<int>(std::find(stops.begin(), stops.end(), found.stop_of[i]) - stops.begin());
    cut.pencil = pencil_at(cut, (sever.lean + 1) % 4);  // the pencil line is up when the block is severed
    Stop& stop = p.stops[cut.stop];
    stop.contact = std::min(stop.contact, cut.contact);
    p.cuts.push_back(cut);
  }
  return p;
}

}  // namespace

const char* to_string(End end) {
  return end == End::near ? "near" : "far";
}
const char* to_string(StopFace face) {
  return face == StopFace::square ? "square" : "mitered";
}
const char* to_string(Seating contact) {
  return contact == Seating::point ? "point" : contact == Seating::edge ? "edge" : "face";
}
const char* to_string(Pencil p) {
  constexpr const char* names[] = {"away", "up", "near", "down"};
  return names[static_cast<int>(p)];
}

HalfSpace plane_of(const Miter& m) {
  const Vec lean = kLean[m.lean];
  return m.end == End::far ? HalfSpace{lean + Vec{0, 0, 1}, m.at} : HalfSpace{lean - Vec{0, 0, 1}, -m.at};
}

std::optional<Program> plan_cuts(const Block& block, const PlanLimits& limits) {
  std::optional<Program> best;
  FullCost best_cost;
  for (int axis : block.stick_axes)
    for (bool turned : {false, true}) {
      const Lie lie = lie_of(block, axis, turned);
      for (const Miter& start : lie.near)
        for (const Miter& sever : lie.far) {
          if (!is_full_cut(start, sever)) continue;
          OrderSearch search(lie, start, sever, limits);
          const auto found = search.run();
          if (!found) continue;
          const FullCost cost = full_cost(found->cost, search.cuts(), sever.at - start.at);
          if (best && cost >= best_cost) continue;
          best = program_of(lie, start, sever, *found);
          best_cost = cost;
        }
    }
  return best;
}

Pencil start_point(const Program& program, std::size_t cut) {
  return pencil_at(program.cuts[cut], (program.start.lean + 2) % 4);  // a near miter is longest opposite to its lean
}

Isometry to_work_frame(const Program& program) {
  return {program.to_stick.turn, to_frame(program.to_stick.shift)};
}

std::vector<Vec> corners_in_work_frame(const Block& block, const Program& program) {
  std::vector<Vec> out;
  for (Vec p : block.body.corners) out.push_back(to_work_frame(program) * p);
  return out;
}

}  // namespace stickwright
