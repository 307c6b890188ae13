#include "takeapart/handling.h"

#include <algorithm>

#include "takeapart/falls.h"
#include "takeapart/frames.h"
#include "takeapart/piece_symmetry.h"

namespace stickwright {
namespace {

std::vector<Glide> groups_of(const Step& step) {
  std::vector<Glide> groups = step.gliding();
  groups.insert(groups.begin(), {step.from, {}});
  return groups;
}

class Person {
 public:
  Person(const Family& family, const std::vector<Cells>& pieces, const std::vector<Step>& steps)
      : family_(family),
        pieces_(pieces),
        steps_(steps),
        frames_(frames_of(family, pieces, steps)),
        symmetries_(piece_symmetries(family, pieces)) {}

  Handling handle(std::size_t step) const {
    Handling h;
    find_like(step, h);
    for (const Glide& g : groups_of(steps_[step])) h.grips.push_back(largest(g.pieces));
    look_what_falls(step, h);
    h.hands = steps_[step].hands() + (h.falls.empty() ? 0 : 1);
    return h;
  }

 private:
  int largest(const std::vector<int>& group) const {
    return *std::max_element(group.begin(), group.end(),
                             [&](int a, int b) { return pieces_[a].size() < pieces_[b].size(); });
  }

  void find_like(std::size_t step, Handling& h) const {
    for (std::size_t earlier = 0; earlier < step; ++earlier)
      for (const PieceSymmetry& s : symmetries_)
        if (takes(s, earlier, step)) {
          h.like = static_cast<int>(earlier), h.mirrored = s.turn.determinant() < 0;
          return;
        }
  }

  // The symmetry takes one step, and how the pieces stand before it, to the other.
  bool takes(const PieceSymmetry& s, std::size_t a, std::size_t b) const {
    const auto image = [&](std::vector<Glide> groups) {
      for (Glide& g : groups) {
        for (int& i : g.pieces) i = s.piece_to[i];
        std::sort(g.pieces.begin(), g.pieces.end());
        g.direction = s.turn * g.direction;
      }
      return groups;
    };
    const std::vector<Glide> mine = image(groups_of(steps_[a])), theirs = groups_of(steps_[b]);
    if (mine.size() != theirs.size() || !(steps_[a].distance == steps_[b].distance)) return false;
    if (!same_motion(mine, theirs)) return false;
    const int first = groups_of(steps_[a]).front().pieces.front();
    for (const Glide& g : groups_of(steps_[a]))
      for (int i : g.pieces)
        if (s.turn * (before(a, i) - before(a, first)) != before(b, s.piece_to[i]) - before(b, s.piece_to[first]))
          return false;
    return true;
  }
  Vec before(std::size_t step, int piece) const { return frames_.steps[step].before[piece]; }

  // The same groups part the same way, whichever of them is called held.
  static bool same_motion(const std::vector<Glide>& a, const std::vector<Glide>& b) {
    std::vector<Vec> shift;
    for (const Glide& g : a) {
      const auto at = std::find_if(b.begin(), b.end(), [&](const Glide& o) { return o.pieces == g.pieces; });
      if (at == b.end()) return false;
      shift.push_back(at->direction - g.direction);
    }
    return std::all_of(shift.begin(), shift.end(), [&](Vec v) { return v == shift.front(); });
  }

  // The pieces that are together before a step, and how they stand; nothing when one stands between lattice points.
  void look_what_falls(std::size_t step, Handling& h) const {
    std::vector<int> together;
    for (const Glide& g : groups_of(steps_[step])) together.insert(together.end(), g.pieces.begin(), g.pieces.end());
    std::sort(together.begin(), together.end());
    std::vector<Cells> cells;
    std::vector<Vec> at;
    for (int i : together) {
      const Vec v = before(step, i);
      if (v.x % frames_.unit || v.y % frames_.unit || v.z % frames_.unit) return;
      cells.push_back(pieces_[i]);
      at.push_back({v.x / frames_.unit, v.y / frames_.unit, v.z / frames_.unit});
    }
    std::vector<int> held;
    for (int i : h.grips)
      held.push_back(static_cast<int>(std::lower_bound(together.begin(), together.end(), i) - together.begin()));
    const Touching touch = touching(family_, Standing{cells, at});
    for (Vec down : {Vec{0, 0, -1}, Vec{0, 0, 1}, Vec{0, -1, 0}, Vec{0, 1, 0}, Vec{-1, 0, 0}, Vec{1, 0, 0}}) {
      const Falls f = falls(touch, held, down);
      if (f.verdict == Verdict::stopped) continue;
      if (h.down && f.pieces.size() >= h.falls.size()) continue;
      h.down = down;
      h.falls.clear();
      for (int k : f.pieces) h.falls.push_back(together[k]);
      if (h.falls.empty()) return;
    }
  }

  const Family& family_;
  const std::vector<Cells>& pieces_;
  const std::vector<Step>& steps_;
  Frames frames_;
  std::vector<PieceSymmetry> symmetries_;
};

}  // namespace

std::vector<Handling> handling_of(const Family& family, const std::vector<Cells>& pieces,
                                  const std::vector<Step>& steps) {
  if (steps.empty()) return {};
  const Person person(family, pieces, steps);
  std::vector<Handling> out;
  for (std::size_t k = 0; k < steps.size(); ++k) out.push_back(person.handle(k));
  return out;
}

}  // namespace stickwright
