#include "batch/wording.h"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include "saw/forward.h"

namespace stickwright {
namespace {

std::string how_it_lies(const Cut& cut) {
  if (cut.end_for_end) return "block turned end for end, far end at";
  return cut.on_stick ? "stick's end at" : "loose block, near end at";
}

// Only face contact repeats by itself; whatever is less is said.
const char* contact_in_words(Seating contact, StopFace face) {
  if (contact == Seating::face) return "face contact";
  if (contact == Seating::edge) return "edge contact, wipe it and seat it twice";
  return face == StopFace::square ? "point contact, seat it gently and twice"
                                  : "point contact on a slope, hardly repeatable: measure every block";
}

std::string what_is_kept(const Cut& cut) {
  if (cut.severs) return "severs the block";
  return "trims the block";
}

// Of the pair of sides, the upper one, as the work lies for the cut. Directions in quarter turns from "away" to "up":
// a side that faces up and away stands at a half, one that faces up and near at one and a half.
bool upper_side_faces_you(const Cut& cut, int side) {
  const int lean = cut.miter.lean;
  // In halves: the two sides of pair 1 stand at 1 and 5, those of pair 2 at 7 and 3.
  const int at = side == 1 ? 1 : 7;
  const int turned = cut.end_for_end ? 2 * lean - at : at - 2 * lean;
  return (turned % 4 + 4) % 4 == 3;
}

std::string face_in_words(const Program& program, int made_by) {
  if (made_by == 0) return "the miter left by the cut before";
  const auto k = static_cast<std::size_t>(made_by);
  return k <= program.cuts.size() ? fmt::format("cut {}", k) : std::string("the extra cut");
}

}  // namespace

std::string cut_in_words(const Program& program, std::size_t cut) {
  const Cut& c = program.cuts[cut];
  return fmt::format("pencil line {}; {} stop {}: {}; {}", to_string(c.pencil), how_it_lies(c), c.stop + 1,
                     contact_in_words(c.contact, program.stops[static_cast<std::size_t>(c.stop)].face),
                     what_is_kept(c));
}

std::string start_in_words(const Program& program) {
  // A severing cut leaves the point of the stick's end on the far side, where the blade came nearest to the stop.
  constexpr const char* kRoll[] = {"leave the stick as it lies", "roll the stick a quarter turn, its top towards you",
                                   "roll the stick half a turn",
                                   "roll the stick a quarter turn, its top away from you"};
  constexpr const char* kWhere[] = {"away from you", "up", "near you", "down"};
  const int point = static_cast<int>(start_point(program, 0));
  return fmt::format(
      "For each block: after the cut before, {}, so that the point of its end is {}. Draw a short pencil line, no "
      "longer "
      "than the block, on the corner that points {}.",
      kRoll[point], kWhere[point], to_string(program.cuts[0].pencil));
}

std::string stack_in_words(const Batch& batch, const StopPlan& stop) {
  std::vector<std::string> sizes;
  for (Nm n : stop.sizes) sizes.push_back(fmt::format("{:g}", to_mm(n).v));
  const std::string where =
      stop.square_stop ? fmt::format("behind the square stop of {:.2f} mm (back stop to blade plane {:.2f} mm)",
                                     stop.square_stop->v, batch.shop.sled.back_to_blade.v)
                       : std::string("between the stop blank and the back stop while the blank is mitered");
  return fmt::format("{} = {:.4f} mm {}; the stop then stands {:+.4f} mm off, u = {:.4f} mm", fmt::join(sizes, " + "),
                     to_mm(stop.stack.total).v, where, stop.error.v, stop.u.v);
}

std::string test_in_words(const Program& program, const TestBlock& t) {
  if (t.extra.empty()) {
    const bool whole = t.after_cut == static_cast<int>(program.cuts.size());
    return fmt::format("measure a block{}, from {} to {}", whole ? "" : fmt::format(" after cut {}", t.after_cut),
                       face_in_words(program, t.face_a), face_in_words(program, t.face_b));
  }
  const Cut& extra = t.extra.front();
  const std::string start = t.after_cut == 0 ? std::string("lay a stick as for a block")
                                             : fmt::format("take a block after cut {}", t.after_cut);
  return fmt::format(
      "{}, roll it until the pencil line points {}, cut at stop {}{}; measure across its two parallel miters", start,
      to_string(extra.pencil), extra.stop + 1,
      t.extra.size() > 1 ? fmt::format(", again with the line {}", to_string(t.extra[1].pencil)) : "");
}

std::vector<int> widths_of(const Program& program) {
  const Body body = saw::cut(program, nominal_saw(Mm{16}));  // of any size
  std::vector<int> out;
  for (const int side : {1, 2})
    if (face_made_by(body, stick_side(2 * side - 2)) && face_made_by(body, stick_side(2 * side - 1)))
      out.push_back(side);
  return out;
}

std::string widths_in_words(const Program& program) {
  const std::vector<int> widths = widths_of(program);
  if (widths.empty()) return "none: no two sides of the stick are left opposite each other";
  const Cut& first = program.cuts.front();
  std::string out = fmt::format("lay the block as for cut 1, pencil line {}", to_string(first.pencil));
  for (const int side : widths)
    out += fmt::format("{} width {} is across the upper side that faces {} and the one opposite",
                       side == widths.front() ? ":" : ",", side, upper_side_faces_you(first, side) ? "you" : "away");
  return out + fmt::format(". Write the block's number on that upper side of width {}.", widths.front());
}

std::string correction_in_words(const TestPlan& test) {
  const double factor = 1 / test.test.per_stop;
  return fmt::format(
      "Within {:.3f} mm: leave it. Over by d: a leaf of {:.3f} d between stop and back stop. Under: no leaf helps, set "
      "the stop anew.",
      test.leave_it().v, factor);
}

}  // namespace stickwright
