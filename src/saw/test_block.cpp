#include "saw/test_block.h"

#include <algorithm>
#include <cmath>

#include "saw/measure.h"

namespace stickwright {
namespace {

// Faces smaller than this share of the stick's section are too small for the jaws of a caliper.
constexpr double kLeastFaceShare = 0.1;
constexpr double kLeastEffect = 1e-3;  // below this, the distance does not tell the stop

bool parallel(const BodyFace& f, const BodyFace& g) {
  return length(f.plane.n + g.plane.n) < kSameCornerMm;
}

// The derivative of the distance in one direction of change, at a kink the mean of both sides.
//   seed     (StateOf<Dual>&, double way): what changes
template <class Seed>
double slope(const Program& program, int a, int b, Mm stick, const Seed& seed) {
  double sum = 0;
  for (double way : {1.0, -1.0}) {
    StateOf<Dual> s = standing_still(nominal_saw(stick));
    seed(s, way);
    const auto distance = across_flats(saw::cut(program, s), a, b);
    if (!distance) return 0;
    sum += way * distance->d;
  }
  return sum / 2;
}

// The pair of parallel faces of a finished test piece that tells the stop best, if any.
std::optional<TestBlock> best_pair(const Program& program, int stop, Mm stick) {
  const Body body = saw::cut(program, nominal_saw(stick));
  std::optional<TestBlock> best;
  for (const BodyFace& f : body.faces)
    for (const BodyFace& g : body.faces) {
      if (f.made_by <= g.made_by || g.made_by < 0 || !parallel(f, g)) continue;
      if (std::min(area(f), area(g)) < kLeastFaceShare * stick.v * stick.v) continue;
      const double by_stop = slope(program, f.made_by, g.made_by, stick, [&](StateOf<Dual>& saw, double way) {
        saw.stop_error_mm.assign(program.stops.size(), {});
        saw.stop_error_mm[static_cast<std::size_t>(stop)].d = way;
      });
      if (std::abs(by_stop) < kLeastEffect) continue;
      if (best && std::abs(best->per_stop) >= std::abs(by_stop)) continue;
      TestBlock t;
      t.stop = stop;
      t.face_a = g.made_by;
      t.face_b = f.made_by;
      t.across_flats = Mm{*across_flats(body, f.made_by, g.made_by)};
      t.per_stop = by_stop;
      t.per_miter_mm_per_rad = slope(program, f.made_by, g.made_by, stick,
                                     [](StateOf<Dual>& saw, double way) { saw.miter_error_rad.d = way; });
      best = t;
    }
  return best;
}

// The same cut at the same stop after a roll: lean changes, all else stays.
Cut rolled(const Cut& cut, int quarter_turns) {
  Cut c = cut;
  c.miter.lean = (cut.miter.lean + quarter_turns) % 4;
  // Rolling the work carries the pencil line along, the other way round as the corner that comes to face the blade.
  const int way = cut.end_for_end ? quarter_turns : 4 - quarter_turns;
  c.pencil = static_cast<Pencil>((static_cast<int>(cut.pencil) + way) % 4);
  c.severs = false;
  return c;
}

// How the work really touches the stop at a cut: by the number of its corners on the stop's face.
Seating contact_at(const AtTheStop& at) {
  int touching = 0;
  for (Point p : corners_of(at.work))
    touching += std::abs(dot(at.stop_face.n, p) - at.stop_face.c) < 1e3 * kSameCornerMm;
  return touching >= 3 ? Seating::face : touching == 2 ? Seating::edge : Seating::point;
}

std::optional<TestBlock> with_extra(const Program& program, int stop, Mm stick, int after, std::vector<Cut> extra) {
  TestBlock t;
  t.after_cut = after;
  t.extra = std::move(extra);
  auto found = best_pair(test_program(program, t), stop, stick);
  if (!found) return {};
  found->after_cut = t.after_cut;
  found->extra = std::move(t.extra);
  const Program whole = test_program(program, *found);
  for (std::size_t i = 0; i < found->extra.size(); ++i)
    found->extra[i].contact =
        contact_at(at_the_stop(whole, static_cast<std::size_t>(found->after_cut) + i, nominal_saw(stick)));
  return found;
}

bool better(const std::optional<TestBlock>& a, const std::optional<TestBlock>& b) {
  if (!a) return false;
  return !b || a->cuts() < b->cuts() ||
         (a->cuts() == b->cuts() && std::abs(a->per_stop) > std::abs(b->per_stop) + 1e-9);
}

// Cuts to try after cuts[k]: the same cut at the same stop after one roll or two.
std::vector<std::vector<Cut>> rolled_cuts(const Cut& cut, int how_many) {
  std::vector<std::vector<Cut>> out;
  for (int roll = 1; roll < 4; ++roll) {
    out.push_back({rolled(cut, roll)});
    if (how_many == 2) out.back().push_back(rolled(cut, roll % 3 + 1));
  }
  return out;
}

// A piece of stick severed at this stop, whatever the stop is used for otherwise: four rolls to choose from.
std::optional<TestBlock> piece_of_stick(const Program& program, int stop, Mm stick) {
  Cut cut = *std::find_if(program.cuts.begin(), program.cuts.end(), [](const Cut& c) { return c.severs; });
  cut.stop = stop;
  std::optional<TestBlock> best;
  for (int roll = 0; roll < 4; ++roll) {
    Cut c = rolled(cut, roll);
    c.severs = true;
    auto found = with_extra(program, stop, stick, 0, {c});
    if (better(found, best)) best = std::move(found);
  }
  return best;
}

// A block cut further at the same stop.
std::optional<TestBlock> block_cut_further(const Program& program, int stop, Mm stick, int how_many) {
  std::optional<TestBlock> best;
  for (std::size_t k = 0; k < program.cuts.size(); ++k) {
    if (program.cuts[k].stop != stop) continue;
    for (std::vector<Cut>& extra : rolled_cuts(program.cuts[k], how_many)) {
      auto found = with_extra(program, stop, stick, static_cast<int>(k) + 1, std::move(extra));
      if (better(found, best)) best = std::move(found);
    }
  }
  return best;
}

}  // namespace

Program test_program(const Program& program, const TestBlock& test) {
  Program p = program;
  p.cuts.resize(static_cast<std::size_t>(test.after_cut));
  for (Cut c : test.extra) {
    c.on_stick = c.severs;
    p.cuts.push_back(c);
  }
  return p;
}

std::optional<TestBlock> test_block(const Program& program, int stop, Mm stick) {
  // The block itself, or the block before its last cuts.
  for (int after = static_cast<int>(program.cuts.size()); after > 0; --after)
    if (auto own = with_extra(program, stop, stick, after, {})) return own;
  if (auto piece = piece_of_stick(program, stop, stick)) return piece;
  for (int extra = 1; extra <= 2; ++extra)
    if (auto t = block_cut_further(program, stop, stick, extra)) return t;
  return {};
}

}  // namespace stickwright
