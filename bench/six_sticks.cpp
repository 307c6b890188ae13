// The census of solid six-stick burrs: how many ways there are to share out the cubes of the closed burr among its six
// sticks so that it comes apart, and how many different pieces and sets of pieces occur in them. The counts to meet are
// those of W. H. Cutler, Journal of Recreational Mathematics 10(4), 1977-78.
//   build: cmake --preset bench && cmake --build build/bench
//   use:   build/bench/bench/six_sticks [threads]
#include <algorithm>
#include <array>
#include <atomic>
#include <bit>
#include <chrono>
#include <compare>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <set>
#include <thread>
#include <vector>

namespace {

// ---- Geometry: the sticks, their cubes, and the ways to turn the arrangement into itself --------

// A cube is named by its least corner. The origin is the middle of the burr, so turning an axis over takes c to -1 - c.
using Cube = std::array<int, 3>;

constexpr int kSticks = 6;
constexpr int kSpan = 6;    // the burr fits a box of 6 x 6 x 6
constexpr int kBox = 216;   // cubes of that box
constexpr int kLoose = 12;  // cubes of a stick that other sticks want as well
constexpr int kLooseSets = 1 << kLoose;
constexpr int kContested = 32;  // cubes of the burr that lie in two or three sticks
constexpr int kNobody = -1;

using Group = std::uint32_t;  // a set of sticks, one bit each
using Kept = std::uint16_t;   // which of its loose cubes a stick keeps, one bit each
using Burr = std::array<Kept, kSticks>;

constexpr Group kAllSticks = (1u << kSticks) - 1;

constexpr bool holds(std::uint32_t set, int member) {
  return (set >> member & 1u) != 0;
}

bool in_box(const Cube& c) {
  return std::all_of(c.begin(), c.end(), [](int v) { return -3 <= v && v < 3; });
}
int box_index(const Cube& c) {
  return ((c[0] + 3) * kSpan + c[1] + 3) * kSpan + c[2] + 3;
}
Cube stepped(Cube c, int axis, int by) {
  c[axis] += by;
  return c;
}

// Takes axis a to axis a + shift, then turns the axes in `over` over. It mirrors when their number is odd.
struct Symmetry {
  int shift = 0;
  unsigned over = 0;
  bool mirrors() const { return std::popcount(over) % 2 != 0; }
  int axis(int a) const { return (a + shift) % 3; }
  Cube operator()(const Cube& c) const {
    Cube to{};
    for (int a = 0; a < 3; ++a) to[axis(a)] = holds(over, axis(a)) ? -1 - c[a] : c[a];
    return to;
  }
};

// The first stick lies along axis 0, two wide along axis 1, and on the low side of axis 2: its cubes are named
// (along, across, deep) with -3 <= along < 3, -1 <= across < 1, -2 <= deep < 0.
// Stick 2a + s lies along axis a, on the low (s = 0) or high side of axis a + 2. It is the first one turned into its
// place, and its cubes keep their order; so one set of tables serves all six.
struct Stick {
  std::vector<Cube> cubes, loose;
};

Stick make_stick(int number) {
  const int axis = number / 2;
  const unsigned other_axes = 7u & ~(1u << axis);
  const Symmetry place{axis, number % 2 != 0 ? other_axes : 0u};
  Stick stick;
  for (int along = -3; along < 3; ++along) {
    for (int across = -1; across < 1; ++across) {
      for (int deep = -2; deep < 0; ++deep) {
        const Cube c = place({along, across, deep});
        const bool under_near_pair = deep == -1 && -2 <= along && along < 2;
        const bool between_far_pair = -1 <= along && along < 1;
        stick.cubes.push_back(c);
        if (under_near_pair || between_far_pair) stick.loose.push_back(c);
      }
    }
  }
  return stick;
}

const std::array<Stick, kSticks>& sticks() {
  static const auto all = [] {
    std::array<Stick, kSticks> made;
    for (int i = 0; i < kSticks; ++i) made[i] = make_stick(i);
    return made;
  }();
  return all;
}

// ---- Pieces: a stick without some of its loose cubes --------------------------------------------

// Bit along * 4 + across * 2 + deep of the first stick, all counted from their least.
using Shape = std::uint32_t;

int shape_bit(const Cube& c) {
  return (c[0] + 3) * 4 + (c[1] + 1) * 2 + c[2] + 2;
}

Shape shape_of(Kept kept) {
  Shape shape = (1u << 24) - 1;
  for (int k = 0; k < kLoose; ++k) {
    if (!holds(kept, k)) shape &= ~(1u << shape_bit(sticks()[0].loose[k]));
  }
  return shape;
}

bool is_connected(Shape shape) {
  constexpr Shape kNear = 0x333333, kLow = 0x555555;  // the half with across = -1; that with deep = -2
  Shape reached = shape & -shape;
  for (Shape before = 0; before != reached;) {
    before = reached;
    reached |= reached << 4 | reached >> 4 | (reached & kNear) << 2 | (reached >> 2 & kNear) | (reached & kLow) << 1 |
               (reached >> 1 & kLow);
    reached &= shape;
  }
  return reached == shape;
}

// A saw cut goes straight across a face: what is missing of each slice of the stick is made of whole rows of two.
bool is_notchable(Shape shape) {
  for (int slice = 0; slice < kSpan; ++slice) {
    const Shape gone = ~(shape >> 4 * slice) & 15u;
    Shape sawn = 0;
    for (Shape row : {0b0011u, 0b1100u, 0b0101u, 0b1010u}) {
      if ((gone & row) == row) sawn |= row;
    }
    if (sawn != gone) return false;
  }
  return true;
}

// One name for a piece however it is turned: the least over the eight ways to lay a square stick into its place.
Shape piece_of(Shape shape) {
  Shape least = ~0u;
  for (int turn = 0; turn < 8; ++turn) {
    Shape turned = 0;
    for (Cube c : sticks()[0].cubes) {
      if (!holds(shape, shape_bit(c))) continue;
      for (int quarter = 0; quarter < turn % 4; ++quarter) c = {c[0], c[2] + 1, -2 - c[1]};
      if (turn >= 4) c = {-1 - c[0], -1 - c[1], c[2]};
      turned |= 1u << shape_bit(c);
    }
    least = std::min(least, turned);
  }
  return least;
}

// What may become of a stick whose loose cubes are decided one by one. Such a stick is a number in base three, one
// digit a loose cube. The pieces to choose from are told by their names, so each may be laid in every way.
class PieceChoice {
 public:
  static constexpr int kOpen = 0, kGone = 1, kHere = 2;
  static constexpr std::array<int, kLoose> kPlace = {1, 3, 9, 27, 81, 243, 729, 2187, 6561, 19683, 59049, 177147};

  explicit PieceChoice(const std::function<bool(Shape)>& allowed) : possible_(3 * kPlace.back()) {
    for (int digits = static_cast<int>(possible_.size()) - 1; digits >= 0; --digits) {
      const int k = first_open(digits);
      possible_[digits] = k == kLoose ? allowed(piece_of(shape_of(kept(digits))))
                                      : possible(digits + kGone * kPlace[k]) || possible(digits + kHere * kPlace[k]);
    }
  }

  // Whether some decision of the open cubes makes an allowed piece.
  bool possible(int digits) const { return possible_[digits] != 0; }

 private:
  static int first_open(int digits) {
    int k = 0;
    while (k < kLoose && digits / kPlace[k] % 3 != kOpen) ++k;
    return k;
  }
  static Kept kept(int digits) {
    Kept kept = 0;
    for (int k = 0; k < kLoose; ++k) {
      if (digits / kPlace[k] % 3 == kHere) kept |= static_cast<Kept>(1u << k);
    }
    return kept;
  }

  std::vector<std::uint8_t> possible_;
};

// ---- The arrangement: who wants which cube ------------------------------------------------------

struct ContestedCube {
  Cube at;
  Group owners = 0;                   // the sticks that contain it
  std::array<int, kSticks> number{};  // among the loose cubes of each owner
};

// Two cubes of the burr, one next above the other; by box index.
struct Touch {
  int lower, upper, axis;
};

struct Arrangement {
  std::array<Group, kBox> owners{};  // by box index
  std::array<int, kBox> contest{};   // by box index: which contested cube it is, or kNobody
  std::vector<ContestedCube> contested;
  std::vector<Touch> touches;
  std::array<std::vector<Touch>, kContested> touches_of;
};

ContestedCube contested_cube(const Cube& c, Group owners) {
  ContestedCube cube{c, owners, {}};
  for (int i = 0; i < kSticks; ++i) {
    const auto& loose = sticks()[i].loose;
    cube.number[i] = static_cast<int>(std::find(loose.begin(), loose.end(), c) - loose.begin());
  }
  return cube;
}

Arrangement make_arrangement() {
  Arrangement made;
  made.contest.fill(kNobody);
  for (int i = 0; i < kSticks; ++i) {
    for (const Cube& c : sticks()[i].cubes) made.owners[box_index(c)] |= 1u << i;
  }
  for (const Stick& stick : sticks()) {
    for (const Cube& c : stick.loose) {
      const int b = box_index(c);
      if (made.contest[b] != kNobody) continue;
      made.contest[b] = static_cast<int>(made.contested.size());
      made.contested.push_back(contested_cube(c, made.owners[b]));
    }
  }
  for (int b = 0; b < kBox; ++b) {
    const Cube c{b / 36 - 3, b / 6 % 6 - 3, b % 6 - 3};
    for (int axis = 0; axis < 3; ++axis) {
      const Cube above = stepped(c, axis, 1);
      if (!in_box(above) || made.owners[b] == 0 || made.owners[box_index(above)] == 0) continue;
      const Touch touch{b, box_index(above), axis};
      made.touches.push_back(touch);
      for (int end : {touch.lower, touch.upper}) {
        if (made.contest[end] != kNobody) made.touches_of[made.contest[end]].push_back(touch);
      }
    }
  }
  return made;
}

const Arrangement& arrangement() {
  static const Arrangement made = make_arrangement();
  return made;
}

// Some sticks of a burr with the loose cubes that each keeps; nothing is kept by the others.
struct Part {
  Group sticks = 0;
  Burr kept{};
  friend auto operator<=>(const Part&, const Part&) = default;
};

std::vector<Cube> cubes_of(int stick, Kept kept) {
  std::vector<Cube> cubes;
  for (const Cube& c : sticks()[stick].cubes) {
    const int n = arrangement().contest[box_index(c)];
    if (n == kNobody || holds(kept, arrangement().contested[n].number[stick])) cubes.push_back(c);
  }
  return cubes;
}

// ---- Turning and mirroring burrs ----------------------------------------------------------------

// The loose cubes of the first stick under the symmetries that leave it in its place: turned over along (bit 0) and
// across (bit 1). As every stick was brought to its place by a turn, a symmetry of the burr does one of these to it.
const std::array<std::array<Kept, kLooseSets>, 4>& turned_over() {
  static const auto tables = [] {
    std::array<std::array<Kept, kLooseSets>, 4> made{};
    const auto& loose = sticks()[0].loose;
    for (unsigned over = 0; over < 4; ++over) {
      for (int k = 0; k < kLoose; ++k) {
        const auto to = std::find(loose.begin(), loose.end(), Symmetry{0, over}(loose[k])) - loose.begin();
        for (int kept = 0; kept < kLooseSets; ++kept) {
          if (holds(kept, k)) made[over][kept] |= static_cast<Kept>(1u << to);
        }
      }
    }
    return made;
  }();
  return tables;
}

// What a symmetry does to the sticks: where each goes, and how it lies there.
struct Action {
  Symmetry symmetry;
  std::array<int, kSticks> to{};
  std::array<unsigned, kSticks> over{};
};

Action make_action(const Symmetry& symmetry) {
  Action action{symmetry, {}, {}};
  for (int i = 0; i < kSticks; ++i) {
    Group to = kAllSticks;
    for (const Cube& c : sticks()[i].cubes) to &= arrangement().owners[box_index(symmetry(c))];
    action.to[i] = std::countr_zero(to);
    const auto& there = sticks()[action.to[i]].cubes;
    const auto corner = std::find(there.begin(), there.end(), symmetry(sticks()[i].cubes.front())) - there.begin();
    const Cube& first = sticks()[0].cubes.front();
    const Cube& as_first = sticks()[0].cubes[corner];
    action.over[i] = (as_first[0] != first[0] ? 1u : 0u) | (as_first[1] != first[1] ? 2u : 0u);
  }
  return action;
}

// The twelve turns of the arrangement, then the twelve that mirror it.
constexpr int kTurns = 12;
const std::vector<Action>& actions() {
  static const auto all = [] {
    std::vector<Action> made;
    for (bool mirror : {false, true}) {
      for (int shift = 0; shift < 3; ++shift) {
        for (unsigned over = 0; over < 8; ++over) {
          if (const Symmetry s{shift, over}; s.mirrors() == mirror) made.push_back(make_action(s));
        }
      }
    }
    return made;
  }();
  return all;
}

Group moved(const Action& action, Group group) {
  Group to = 0;
  for (int i = 0; i < kSticks; ++i) {
    if (holds(group, i)) to |= 1u << action.to[i];
  }
  return to;
}
Burr moved(const Action& action, const Burr& burr) {
  Burr to{};
  for (int i = 0; i < kSticks; ++i) to[action.to[i]] = turned_over()[action.over[i]][burr[i]];
  return to;
}

// Stands for all twelve ways to hold a burr. Mirror images count apart.
Burr least_turned(const Burr& burr) {
  Burr least = burr;
  for (int k = 1; k < kTurns; ++k) least = std::min(least, moved(actions()[k], burr));
  return least;
}

// Stands for a part and all its images, mirrored ones too: they come apart alike.
Part least_image(const Part& part) {
  Part least = part;
  for (const Action& action : actions()) {
    least = std::min(least, Part{moved(action, part.sticks), moved(action, part.kept)});
  }
  return least;
}

// ---- Slides: which groups can start to move -----------------------------------------------------

// A set of groups: bit g stands for group g.
using Groups = std::uint64_t;

constexpr Groups groups_with(int stick) {
  Groups with = 0;
  for (Group g = 0; g <= kAllSticks; ++g) {
    if (holds(g, stick)) with |= Groups{1} << g;
  }
  return with;
}
constexpr std::array<Groups, kSticks> kWith = {groups_with(0), groups_with(1), groups_with(2),
                                               groups_with(3), groups_with(4), groups_with(5)};

// The groups that may slide up when a cube of `lower` has one of `upper` above it: all but those that hold the lower
// stick and leave the upper one where it is.
constexpr Groups unhindered(int lower, int upper) {
  return ~(kWith[lower] & ~kWith[upper]);
}

// For each axis the groups that can slide up it. A group slides down when the rest of its part slides up.
using Slides = std::array<Groups, 3>;

// Every group of the part but none and all.
Slides all_slides(Group part) {
  Groups proper = 0;
  for (Group g = 1; g < part; ++g) {
    if ((g & ~part) == 0) proper |= Groups{1} << g;
  }
  return {proper, proper, proper};
}

// ---- Enumeration: solid burrs with a first move -------------------------------------------------

// `group` slides up `axis`, away from the others.
// The closed burr is convex along every line of cubes. So when a group can slide by one cube, each line has the cubes
// of the others first and then those of the group, and the group can slide on for ever: every first move parts the
// burr. Whether the two sides come apart then depends on nothing but each of them.
struct Split {
  int axis = 0;
  Group group = 0;
  friend bool operator==(const Split&, const Split&) = default;
};

Split moved(const Action& action, const Split& split) {
  const int axis = action.symmetry.axis(split.axis);
  const Group group = moved(action, split.group);
  return {axis, holds(action.symmetry.over, axis) ? kAllSticks & ~group : group};  // the group down is the others up
}

// One of each set of splits that can be turned into one another.
std::vector<Split> different_splits() {
  std::vector<Split> found;
  for (int axis = 0; axis < 3; ++axis) {
    for (Group group = 1; group < kAllSticks; ++group) {
      const bool known = std::any_of(actions().begin(), actions().begin() + kTurns, [&](const Action& turn) {
        return std::find(found.begin(), found.end(), moved(turn, Split{axis, group})) != found.end();
      });
      if (!known) found.push_back({axis, group});
    }
  }
  return found;
}

// The six sticks while their cubes are being given away.
class OpenBurr {
 public:
  explicit OpenBurr(const PieceChoice& choice) : choice_(&choice) {}

  // Among the sticks of `part`, only the `takers` may still get contested cube n; a single one has it.
  // Returns whether each stick can still become an allowed piece.
  bool decide(int n, Group part, Group takers) {
    const ContestedCube& cube = arrangement().contested[n];
    takers &= cube.owners & part;
    bool possible = true;
    for (Group left = cube.owners & part; left != 0; left &= left - 1) {
      const int i = std::countr_zero(left), place = PieceChoice::kPlace[cube.number[i]];
      if (!holds(takers, i)) digits_[i] += PieceChoice::kGone * place;
      if (takers == 1u << i) {
        digits_[i] += PieceChoice::kHere * place;
        kept_[i] |= static_cast<Kept>(1u << cube.number[i]);
      }
      possible &= choice_->possible(digits_[i]);
    }
    return possible;
  }

  const Burr& kept() const { return kept_; }

 private:
  const PieceChoice* choice_;
  std::array<int, kSticks> digits_{};  // for the PieceChoice
  Burr kept_{};
};

// The contested cubes on one side of a split, one bit each.
using Side = std::uint32_t;

// All ways to draw the boundary of a split: the contested cubes that go with its group.
class Boundaries {
 public:
  Boundaries(const Split& split, const PieceChoice& choice) : split_(split), start_(choice) {
    for (int b = 0; b < kBox; ++b) {
      const Group owners = arrangement().owners[b];
      side_[b] = (owners & split.group) == 0 ? kOthers : (owners & ~split.group) == 0 ? kGroup : kOpen;
    }
  }

  std::vector<Side> all() {
    const auto& touches = arrangement().touches;
    found_.clear();
    if (std::all_of(touches.begin(), touches.end(), [&](const Touch& t) { return parts(t); })) draw(0, 0, start_);
    return found_;
  }

 private:
  enum Where : std::uint8_t { kOpen, kGroup, kOthers };

  bool parts(const Touch& t) const {
    return t.axis != split_.axis || side_[t.lower] != kGroup || side_[t.upper] != kOthers;
  }

  void draw(int n, Side side, const OpenBurr& burr) {
    if (n == kContested) {
      found_.push_back(side);
      return;
    }
    const ContestedCube& cube = arrangement().contested[n];
    const auto& touches = arrangement().touches_of[n];
    Where& here = side_[box_index(cube.at)];
    const Where before = here;
    for (Where where : {kGroup, kOthers}) {
      const Group takers = cube.owners & (where == kGroup ? split_.group : ~split_.group);
      if (takers == 0) continue;
      here = where;
      OpenBurr next = burr;
      if (std::all_of(touches.begin(), touches.end(), [&](const Touch& t) { return parts(t); }) &&
          next.decide(n, kAllSticks, takers)) {
        draw(n + 1, side | Side{where == kGroup} << n, next);
      }
    }
    here = before;
  }

  Split split_;
  OpenBurr start_;
  std::array<Where, kBox> side_{};  // by box index
  std::vector<Side> found_;
};

// All ways to share the cubes of one side among its sticks so that each becomes an allowed piece and some group of them
// can make a first step.
class Sharings {
 public:
  Sharings(Group part, Side cubes, const PieceChoice& choice)
      : part_(part), cubes_(cubes), burr_(choice), slides_(all_slides(part)) {
    owner_.fill(kNobody);
    for (int b = 0; b < kBox; ++b) {
      const Group owners = arrangement().owners[b];
      if (std::has_single_bit(owners) && (owners & part) != 0) owner_[b] = std::countr_zero(owners);
    }
    for (const Touch& t : arrangement().touches) hinder(t, slides_);
  }

  std::vector<Part> all() {
    found_.clear();
    share(0, burr_, slides_);
    return found_;
  }

 private:
  void hinder(const Touch& t, Slides& slides) const {
    const int p = owner_[t.lower], q = owner_[t.upper];
    if (p != q && p != kNobody && q != kNobody) slides[t.axis] &= unhindered(p, q);
  }

  bool may_move(const Slides& slides) const {
    return std::has_single_bit(part_) || (slides[0] | slides[1] | slides[2]) != 0;
  }

  void share(int n, const OpenBurr& burr, const Slides& slides) {
    if (n == kContested) {
      found_.push_back({part_, burr.kept()});
      return;
    }
    const ContestedCube& cube = arrangement().contested[n];
    if (!holds(cubes_, n)) {
      OpenBurr next = burr;
      if (next.decide(n, part_, 0)) share(n + 1, next, slides);
      return;
    }
    int& owner = owner_[box_index(cube.at)];
    const int before = owner;
    for (Group left = cube.owners & part_; left != 0; left &= left - 1) {
      owner = std::countr_zero(left);
      Slides still = slides;
      for (const Touch& t : arrangement().touches_of[n]) hinder(t, still);
      OpenBurr next = burr;
      if (may_move(still) && next.decide(n, part_, 1u << owner)) share(n + 1, next, still);
    }
    owner = before;
  }

  Group part_;
  Side cubes_;
  OpenBurr burr_;
  Slides slides_;
  std::array<int, kBox> owner_{};  // of the cubes of this side that are decided, by box index
  std::vector<Part> found_;
};

// A boundary with all that its two sides can be.
struct TwoSides {
  std::vector<Part> group, others;
};

std::vector<TwoSides> enumerate(const PieceChoice& choice) {
  std::vector<TwoSides> found;
  for (const Split& split : different_splits()) {
    for (Side side : Boundaries(split, choice).all()) {
      TwoSides sides;
      sides.group = Sharings(split.group, side, choice).all();
      if (!sides.group.empty()) sides.others = Sharings(kAllSticks & ~split.group, ~side, choice).all();
      if (!sides.others.empty()) found.push_back(std::move(sides));
    }
  }
  return found;
}

// ---- The burrs that come apart ------------------------------------------------------------------

template <typename Work>
void for_each_index(std::size_t count, int threads, const Work& work) {
  constexpr std::size_t kHandful = 64;
  std::atomic<std::size_t> next = 0;
  std::vector<std::jthread> workers;
  for (int t = 0; t < threads; ++t) {
    workers.emplace_back([&] {
      for (std::size_t from = next.fetch_add(kHandful); from < count; from = next.fetch_add(kHandful)) {
        for (std::size_t k = from; k < std::min(from + kHandful, count); ++k) work(k);
      }
    });
  }
}

template <typename T>
void sort_distinct(std::vector<T>& all) {
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
}

// Those of the parts, one for all images, for which the test says yes; sorted.
template <typename PartTest>
std::vector<Part> loose_parts(const std::vector<TwoSides>& boundaries, const PartTest& comes_apart, int threads) {
  std::vector<Part> parts;
  for (const TwoSides& sides : boundaries) {
    for (const auto* side : {&sides.group, &sides.others}) {
      for (const Part& part : *side) parts.push_back(least_image(part));
    }
  }
  sort_distinct(parts);
  std::vector<std::uint8_t> verdict(parts.size());
  for_each_index(parts.size(), threads, [&](std::size_t k) { verdict[k] = comes_apart(parts[k]); });
  std::vector<Part> loose;
  for (std::size_t k = 0; k < parts.size(); ++k) {
    if (verdict[k]) loose.push_back(parts[k]);
  }
  return loose;
}

// The solid burrs of allowed pieces that come apart, one of each twelve turned ones.
//   comes_apart   called with parts that stand as in the closed burr, from several threads at once
template <typename PartTest>
std::vector<Burr> burrs_that_come_apart(const PieceChoice& choice, const PartTest& comes_apart, int threads) {
  std::vector<TwoSides> boundaries = enumerate(choice);
  const std::vector<Part> loose = loose_parts(boundaries, comes_apart, threads);
  const auto stuck = [&](const Part& part) {
    return !std::binary_search(loose.begin(), loose.end(), least_image(part));
  };
  std::vector<Burr> burrs;
  for (TwoSides& sides : boundaries) {
    std::erase_if(sides.group, stuck);
    std::erase_if(sides.others, stuck);
    for (const Part& a : sides.group) {
      for (const Part& b : sides.others) {
        Burr burr = a.kept;
        for (int i = 0; i < kSticks; ++i) burr[i] |= b.kept[i];
        burrs.push_back(burr);
      }
    }
  }
  for_each_index(burrs.size(), threads, [&](std::size_t k) { burrs[k] = least_turned(burrs[k]); });
  sort_distinct(burrs);
  return burrs;
}

// ---- Take-apart ---------------------------------------------------------------------------------

// A piece as lines of cubes. Line (u, v) of axis a runs along it, at u on axis a + 1 and v on axis a + 2; all count
// from the corner of the box that holds the burr.
struct Lines {
  std::array<std::array<std::array<std::uint8_t, kSpan>, kSpan>, 3> bits{};
  Cube from{kSpan, kSpan, kSpan}, to{};  // the box of the piece
};

Lines lines_of(const std::vector<Cube>& cubes) {
  Lines lines;
  for (const Cube& cube : cubes) {
    const Cube c = {cube[0] + 3, cube[1] + 3, cube[2] + 3};
    for (int a = 0; a < 3; ++a) {
      lines.from[a] = std::min(lines.from[a], c[a]);
      lines.to[a] = std::max(lines.to[a], c[a] + 1);
      lines.bits[a][c[(a + 1) % 3]][c[(a + 2) % 3]] |= static_cast<std::uint8_t>(1u << c[a]);
    }
  }
  return lines;
}

// What keeps p from sliding along an axis: whether q stops its first step up or down, or any later one.
struct Hindrance {
  bool up = false, down = false, ever_up = false, ever_down = false;
};

int lowest(std::uint32_t line) {
  return std::countr_zero(line);
}
int highest(std::uint32_t line) {
  return 31 - std::countl_zero(line);
}

Hindrance hindrance(const Lines& p, const Lines& q, const Cube& q_from_p, int axis) {
  const int b = (axis + 1) % 3, c = (axis + 2) % 3;
  const int u_from = std::max(p.from[b], q.from[b] + q_from_p[b]), u_to = std::min(p.to[b], q.to[b] + q_from_p[b]);
  const int v_from = std::max(p.from[c], q.from[c] + q_from_p[c]), v_to = std::min(p.to[c], q.to[c] + q_from_p[c]);
  constexpr int kClear = kSpan + 1;  // so far off two lines do not touch, and farther makes no difference
  const int lift = kClear + std::clamp(q_from_p[axis], -kClear, kClear);
  Hindrance found;
  for (int u = u_from; u < u_to; ++u) {
    for (int v = v_from; v < v_to; ++v) {
      const std::uint32_t mine = std::uint32_t{p.bits[axis][u][v]} << kClear;
      const std::uint32_t other = std::uint32_t{q.bits[axis][u - q_from_p[b]][v - q_from_p[c]]} << lift;
      if (mine == 0 || other == 0) continue;
      found.up |= (mine << 1 & other) != 0;
      found.down |= (mine & other << 1) != 0;
      found.ever_up |= highest(other) > lowest(mine);
      found.ever_down |= highest(mine) > lowest(other);
    }
  }
  return found;
}

// Decides whether the pieces of a part can be slid, cube by cube and group by group, until each is alone. What has left
// is in nobody's way and every slide can be undone, so any group that has a free way out may leave at once.
class TakeApart {
 public:
  bool operator()(const Part& part) const {
    Pieces pieces;
    for (int i = 0; i < kSticks; ++i) {
      if (holds(part.sticks, i)) pieces[i] = lines_of(cubes_of(i, part.kept[i]));
    }
    return comes_apart(pieces, part.sticks, {});
  }

 private:
  using Pieces = std::array<Lines, kSticks>;
  using Position = std::array<Cube, kSticks>;  // how far each piece is from its place, next to the first of the part

  struct Ways {
    Slides step, leave;
  };

  static bool comes_apart(const Pieces& pieces, Group part, const Position& start) {
    if (std::has_single_bit(part)) return true;
    std::vector<Position> seen{start};
    for (std::size_t k = 0; k < seen.size(); ++k) {
      const Position at = seen[k];
      const Ways ways = ways_from(pieces, part, at);
      for (Groups out : ways.leave) {
        if (out == 0) continue;
        const auto group = static_cast<Group>(std::countr_zero(out));
        return comes_apart(pieces, group, at) && comes_apart(pieces, part & ~group, at);
      }
      for (int axis = 0; axis < 3; ++axis) {
        for (Groups left = ways.step[axis]; left != 0; left &= left - 1) {
          const Position next = slid(at, part, static_cast<Group>(std::countr_zero(left)), axis);
          if (std::find(seen.begin(), seen.end(), next) == seen.end()) seen.push_back(next);
        }
      }
    }
    return false;
  }

  static Ways ways_from(const Pieces& pieces, Group part, const Position& at) {
    Ways ways{all_slides(part), all_slides(part)};
    for (int p = 0; p < kSticks; ++p) {
      for (int q = p + 1; q < kSticks; ++q) {
        if (!holds(part, p) || !holds(part, q)) continue;
        const Cube q_from_p = {at[q][0] - at[p][0], at[q][1] - at[p][1], at[q][2] - at[p][2]};
        for (int axis = 0; axis < 3; ++axis) {
          const Hindrance h = hindrance(pieces[p], pieces[q], q_from_p, axis);
          if (h.up) ways.step[axis] &= unhindered(p, q);
          if (h.down) ways.step[axis] &= unhindered(q, p);
          if (h.ever_up) ways.leave[axis] &= unhindered(p, q);
          if (h.ever_down) ways.leave[axis] &= unhindered(q, p);
        }
      }
    }
    return ways;
  }

  static Position slid(Position at, Group part, Group group, int axis) {
    const int first = std::countr_zero(part);
    for (int i = 0; i < kSticks; ++i) {
      if (holds(part, i)) at[i][axis] += holds(group, i) - holds(group, first);
    }
    return at;
  }
};

// ---- The census ---------------------------------------------------------------------------------

// How many of the pieces that the loose cubes of a stick can be cut to are allowed.
std::size_t count_pieces(const std::function<bool(Shape)>& allowed) {
  std::set<Shape> found;
  for (int kept = 0; kept < kLooseSets; ++kept) found.insert(piece_of(shape_of(static_cast<Kept>(kept))));
  return static_cast<std::size_t>(std::count_if(found.begin(), found.end(), allowed));
}

struct Census {
  std::size_t pieces = 0, burrs = 0, pieces_in_burrs = 0, sets_of_pieces = 0;
};

Census census(const std::function<bool(Shape)>& allowed, int threads) {
  const std::vector<Burr> burrs = burrs_that_come_apart(PieceChoice(allowed), TakeApart(), threads);
  std::vector<Shape> piece(kLooseSets);
  for (int kept = 0; kept < kLooseSets; ++kept) piece[kept] = piece_of(shape_of(static_cast<Kept>(kept)));
  std::vector<Shape> used;
  std::vector<std::array<Shape, kSticks>> sets;
  for (const Burr& burr : burrs) {
    std::array<Shape, kSticks> set{};
    std::transform(burr.begin(), burr.end(), set.begin(), [&](Kept kept) { return piece[kept]; });
    std::sort(set.begin(), set.end());
    sets.push_back(set);
    used.insert(used.end(), set.begin(), set.end());
  }
  sort_distinct(used);
  sort_distinct(sets);
  return {count_pieces(allowed), burrs.size(), used.size(), sets.size()};
}

// Prints a count; returns whether it is the expected one.
bool agrees(const char* what, std::size_t counted, std::size_t expected) {
  std::printf("%-40s %7zu  %s\n", what, counted, counted == expected ? "as expected" : "WRONG");
  return counted == expected;
}

}  // namespace

int main(int argc, char** argv) {
  const int threads = argc > 1 ? std::max(1, std::atoi(argv[1])) : 2;
  const auto start = std::chrono::steady_clock::now();
  const Census all = census(is_connected, threads);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  const Census sawn = census([](Shape s) { return is_connected(s) && is_notchable(s); }, threads);
  bool right = agrees("pieces", all.pieces, 837);
  right &= agrees("burrs that come apart", all.burrs, 119'979);
  right &= agrees("pieces in them", all.pieces_in_burrs, 369);
  right &= agrees("notchable pieces", sawn.pieces, 59);
  right &= agrees("burrs of them that come apart", sawn.burrs, 314);
  right &= agrees("pieces in them", sawn.pieces_in_burrs, 25);
  right &= agrees("different sets of pieces in them", sawn.sets_of_pieces, 221);
  std::printf("%zu different sets of pieces in all; %.3f s on %d threads\n", all.sets_of_pieces, seconds, threads);
  return right ? 0 : 1;
}
