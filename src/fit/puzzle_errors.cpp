#include "fit/puzzle_errors.h"

#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>

#include "saw/first_order.h"

namespace stickwright {
namespace {

// Below this a coefficient is rounding: mm per unit of a number, whose effects are 1e-3 and more.
constexpr double kNoEffect = 1e-12;

// Which part of the shop a number of the state belongs to, and who shares it.
enum class Shared { saw, shape, stick, wood, block };
struct Belongs {
  std::string source;
  Shared shared = Shared::saw;
};

// Whether the number is one of those of the vector.
template <class T>
bool among(const T* number, const std::vector<T>& of) {
  return number >= of.data() && number < of.data() + of.size();
}

Belongs belonging(const ShopState& s, const Estimate* n, const std::string& shape) {
  if (n == &s.miter_error_rad) return {"miter"};
  if (n == &s.blade_tilt_rad) return {"blade tilt"};
  if (n == &s.run_out_mm) return {"run-out"};
  if (n == &s.clamp_change_n) return {"clamp force"};
  if (among(n, s.stop_error_mm)) return {"stops of the " + shape, Shared::shape};
  if (among(n, s.seating_mm)) return {"seating at the stops", Shared::block};
  for (const CradleOf<Estimate>& c : s.cradles)
    for (const Estimate* e : {&c.roll_rad, &c.pitch_rad, &c.yaw_per_n, &c.pitch_per_n})
      if (n == e) return {"cradle"};
  for (const StickOf<Estimate>& c : s.sticks) {
    for (const Estimate* e : {&c.side_1_mm, &c.side_2_mm, &c.corner_error_rad})
      if (n == e) return {"sticks", Shared::stick};
    if (n == &c.moisture_change) return {"moisture since milling", Shared::wood};
    for (const Estimate* e : {&c.movement_1, &c.movement_2})
      if (n == e) return {"moisture since milling", Shared::stick};
  }
  return {"temperature"};
}

// The saw about which all is expanded: true, and the sticks square and of the planned size; warmth and materials as
// they are.
SawState true_saw(const ShopState& known) {
  SawState s = best_values(known);
  s.miter_error_rad = s.blade_tilt_rad = s.clamp_change_n = s.run_out_mm = s.cradle_warmer_k = 0;
  for (CradleOf<double>& c : s.cradles) c.roll_rad = c.pitch_rad = 0;
  for (StickOf<double>& c : s.sticks) {
    c.side_1_mm = c.side_2_mm = s.planned_mm;
    c.corner_error_rad = c.moisture_change = 0;
  }
  std::fill(s.stop_error_mm.begin(), s.stop_error_mm.end(), 0);
  std::fill(s.seating_mm.begin(), s.seating_mm.end(), 0);
  return s;
}

class Builder {
 public:
  Builder(const ClosedPuzzle& puzzle, const ShopKnown& shop) : puzzle_(puzzle), shop_(shop) {}

  PuzzleErrors run() {
    for (const StandingBlock& b : puzzle_.blocks) note_numbers(b);
    for (const StandingPieceParts& p : puzzle_.pieces) note_gluing(p);
    for (const StandingBlock& b : puzzle_.blocks) out_.faces.push_back(sawn_faces(b));
    for (std::size_t p = 0; p < puzzle_.pieces.size(); ++p) glue(p);
    return std::move(out_);
  }

 private:
  // Expanded once for each shape and wood.
  struct Expanded {
    FirstOrderBlock block;
    SawState about;
    ShopState known;
  };

  const Expanded& expanded(const StandingBlock& b) {
    const auto key = std::pair(b.shape, b.wood);
    if (const auto at = expanded_.find(key); at != expanded_.end()) return at->second;
    const auto shape = static_cast<std::size_t>(b.shape);
    const auto wood = std::find(shop_.woods.begin(), shop_.woods.end(), b.wood);
    assert(wood != shop_.woods.end());
    Expanded e{{}, true_saw(shop_.states[shape]), shop_.states[shape]};
    e.block = first_order(shop_.programs[shape], e.about, {0, static_cast<std::size_t>(wood - shop_.woods.begin())});
    return expanded_.emplace(key, std::move(e)).first->second;
  }

  int number_for(const std::string& key, FitNumber number) {
    const auto [at, added] = number_at_.try_emplace(key, static_cast<int>(out_.numbers.size()) + 1);
    if (added) out_.numbers.push_back(std::move(number));
    return at->second;
  }

  std::string key_of(const Belongs& of, const std::string& name, const StandingBlock& b) const {
    switch (of.shared) {
      case Shared::saw:
        return name;
      case Shared::shape:
        return fmt::format("{} of shape {}", name, b.shape);
      case Shared::wood:
        return fmt::format("{} in {}", name, b.wood);
      case Shared::stick:
        return fmt::format("{} of shape {} in {}", name, b.shape, b.wood);
      case Shared::block:
        break;
    }
    return fmt::format("{} of block {} of piece {}", name, b.block, b.piece);
  }

  // By moving number of the block's expansion: its number, or 0 where it is known not to be off.
  void note_numbers(const StandingBlock& b) {
    const Expanded& e = expanded(b);
    ShopState known = e.known;
    SawState about = e.about;
    const auto estimates = numbers_of(known);
    const auto values = numbers_of(about);
    const std::string& shape = shop_.shape_names[static_cast<std::size_t>(b.shape)];
    std::vector<int> mine;
    for (const std::size_t k : e.block.moving_number) {
      Estimate off = *estimates[k];
      off.value -= *values[k];
      if (off.u == 0 && off.value == 0 && !among(estimates[k], known.stop_error_mm)) {
        mine.push_back(0);
        continue;
      }
      const Belongs of = belonging(known, estimates[k], shape);
      const std::string& plain = e.block.numbers[k].name;
      const std::string name = of.shared == Shared::shape ? fmt::format("{} of the {}", plain, shape) : plain;
      const bool each = of.shared == Shared::stick || of.shared == Shared::block;
      const int number = number_for(key_of(of, plain, b), {name, of.source, each, off});
      mine.push_back(number);
      if (!among(estimates[k], known.stop_error_mm)) continue;
      const StopNumber stop{b.shape, static_cast<int>(estimates[k] - known.stop_error_mm.data()), number};
      if (std::none_of(out_.stops.begin(), out_.stops.end(), [&](const StopNumber& s) { return s.number == number; }))
        out_.stops.push_back(stop);
    }
    moving_.push_back(std::move(mine));
  }

  int own_number(const std::string& name, const std::string& source, Estimate off) {
    out_.numbers.push_back({name, source, true, std::move(off)});
    return static_cast<int>(out_.numbers.size());
  }

  void note_gluing(const StandingPieceParts& piece) {
    constexpr const char* kPlacing = "placing in the glue-up";
    GlueNumbers g;
    for (const StandingJoint& j : piece.joints) {
      const JointFrame frame = joint_frame(j, puzzle_.blocks[static_cast<std::size_t>(j.a)], puzzle_.unit_mm);
      g.line.push_back(own_number("glue line", "glue lines", shop_.gluing.line));
      g.right.push_back(own_number("block put by hand", kPlacing, shop_.gluing.by_hand));
      g.up.push_back(own_number("block put by hand", kPlacing, shop_.gluing.by_hand));
      Estimate turn = shop_.gluing.by_hand;
      turn.value /= frame.reach, turn.u /= frame.reach;
      g.turn.push_back(own_number("block turned by hand", kPlacing, turn));
    }
    g.plate.assign(static_cast<std::size_t>(piece.blocks), std::vector<int>(piece.datum.size(), -1));
    for (int b = 0; b < piece.blocks; ++b)
      for (std::size_t d = 0; d < piece.datum.size(); ++d)
        for (const StandingFace& f : puzzle_.blocks[static_cast<std::size_t>(piece.first_block + b)].faces)
          if (f.plane == piece.datum[d])
            g.plate[b][d] = own_number("block against a plate", kPlacing, shop_.gluing.against_plate);
    glue_.push_back(std::move(g));
  }

  // One row of the expansion as a form.
  Form row_form(const FirstOrderBlock& block, const std::vector<int>& mine, std::size_t first_slide, std::size_t row) {
    Form f;
    const std::size_t numbers = block.moving_number.size();
    for (std::size_t c = 0; c < numbers + block.slides.size(); ++c) {
      const double effect = block.columns[c * block.rows + row];
      if (std::abs(effect) < kNoEffect) continue;
      if (c >= numbers)
        f.add(effect, Form::of(out_.slide_at(first_slide + c - numbers)));
      else if (mine[c] > 0)
        f.add(effect, Form::of(mine[c]));
    }
    return f;
  }

  void note_slides(const FirstOrderBlock& block, const std::vector<int>& mine, std::size_t first_slide) {
    for (const FirstOrderSlide& s : block.slides) {
      assert(s.ends == 1 || s.bases == 1);
      FitSlide slide{s.bases == 1, {}};
      for (std::size_t k = 0; k < s.ends * s.bases; ++k)
        slide.of.push_back(row_form(block, mine, first_slide, s.first_row + k));
      out_.slides.push_back(std::move(slide));
    }
  }

  std::vector<FaceField> sawn_faces(const StandingBlock& b) {
    const FirstOrderBlock& block = expanded(b).block;
    const std::vector<int>& mine = moving_[out_.faces.size()];
    const std::size_t first_slide = out_.slides.size();
    note_slides(block, mine, first_slide);
    std::vector<FaceField> fields;
    for (const StandingFace& f : b.faces) {
      const auto found = std::find_if(block.faces.begin(), block.faces.end(),
                                      [&](const FirstOrderFace& x) { return x.made_by == f.made_by; });
      assert(found != block.faces.end());
      std::array<Form, 4> rows;
      for (std::size_t k = 0; k < 4; ++k) rows[k] = row_form(block, mine, first_slide, found->first_row + k);
      fields.push_back(in_puzzle(b, f, found->plane, rows));
    }
    return fields;
  }

  // From the frame of the work to the puzzle's. The face about which all is expanded may itself lie beside the exact
  // one: that is a constant.
  FaceField in_puzzle(const StandingBlock& b, const StandingFace& f, const Plane& about,
                      const std::array<Form, 4>& rows) const {
    const Turn& turn = b.from_work.turn;
    const auto along = [&](Vec row) {
      return static_cast<double>(row.x) * rows[1] + static_cast<double>(row.y) * rows[2] +
             static_cast<double>(row.z) * rows[3];
    };
    FaceField field{rows[0], {along(turn.row[0]), along(turn.row[1]), along(turn.row[2])}};
    const Point shift = in_mm({b.from_work.shift, 1}, puzzle_.unit_mm);
    field.offset.add(1, dot(shift, field.turn));
    const Vec n_work = b.from_work.inverse().turn * f.plane.n;
    const double exact_c = puzzle_.unit_mm * static_cast<double>(f.plane.c - dot(f.plane.n, b.from_work.shift)) /
                           std::sqrt(static_cast<double>(dot(n_work, n_work)));
    if (const double beside = about.c - exact_c; std::abs(beside) > kNoEffect) field.offset.add(beside, Form::of(0));
    return field;
  }

  void glue(std::size_t p) {
    const StandingPieceParts& piece = puzzle_.pieces[p];
    const auto first = out_.faces.begin() + piece.first_block;
    const std::vector<std::vector<FaceField>> sawn(first, first + piece.blocks);
    const std::vector<BlockPose> poses = glued_poses(puzzle_, piece, sawn, glue_[p]);
    for (std::size_t b = 0; b < sawn.size(); ++b)
      for (std::size_t f = 0; f < sawn[b].size(); ++f) {
        const StandingBlock& block = puzzle_.blocks[static_cast<std::size_t>(piece.first_block) + b];
        out_.faces[static_cast<std::size_t>(piece.first_block) + b][f] =
            posed(sawn[b][f], direction(block.faces[f].plane.n), poses[b]);
      }
  }

  const ClosedPuzzle& puzzle_;
  const ShopKnown& shop_;
  std::map<std::pair<int, std::string>, Expanded> expanded_;
  std::map<std::string, int> number_at_;
  std::vector<std::vector<int>> moving_;  // [block][moving number of its expansion]
  std::vector<GlueNumbers> glue_;         // by piece
  PuzzleErrors out_;
};

}  // namespace

PuzzleErrors puzzle_errors(const ClosedPuzzle& puzzle, const ShopKnown& shop) {
  return Builder(puzzle, shop).run();
}

FaceField posed(const FaceField& face, Point n, const BlockPose& pose) {
  FaceField out = face;
  // n . (turn x p) = p . (n x turn)
  const FormPoint across{n.b * pose.turn.t - n.t * pose.turn.b, n.t * pose.turn.a - n.a * pose.turn.t,
                         n.a * pose.turn.b - n.b * pose.turn.a};
  out.offset.add(1, dot(n, pose.slide));
  out.offset.add(-1, dot(pose.center, across));
  out.turn.a.add(-1, across.a);
  out.turn.b.add(-1, across.b);
  out.turn.t.add(-1, across.t);
  return out;
}

GapForms gap_forms(const ClosedPuzzle& puzzle, const std::vector<std::vector<FaceField>>& faces,
                   const std::vector<BlockContact>& contacts, const std::vector<Vec>& shifts, std::int64_t unit) {
  GapForms out;
  out.rows.bodies = static_cast<int>(puzzle.pieces.size());
  const auto shift_mm = [&](int piece) {
    return shifts.empty() ? Point{} : in_mm({shifts[static_cast<std::size_t>(piece)], unit}, puzzle.unit_mm);
  };
  for (std::size_t p = 0; p < puzzle.pieces.size(); ++p)
    out.rows.center.push_back(
        middle_of(puzzle.blocks[static_cast<std::size_t>(puzzle.pieces[p].first_block)], puzzle.unit_mm) +
        shift_mm(static_cast<int>(p)));
  for (std::size_t c = 0; c < contacts.size(); ++c) {
    const BlockContact& contact = contacts[c];
    const int from = puzzle.blocks[contact.from].piece, to = puzzle.blocks[contact.to].piece;
    for (const Spot& s : contact.corners) {
      const Point at = in_mm(s, puzzle.unit_mm);
      out.rows.rows.push_back({from, to, direction(contact.normal), at});
      Form gap = -1.0 * faces[contact.from][contact.from_face].at(at - shift_mm(from));
      gap.add(-1, faces[contact.to][contact.to_face].at(at - shift_mm(to)));
      gap.drop(kNoEffect);
      out.gap.push_back(std::move(gap));
      out.contact.push_back(static_cast<int>(c));
    }
  }
  return out;
}

}  // namespace stickwright
