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
  SizeOf size_of = SizeOf::none;
};

// Whether the number is one of those of the vector.
template <class T>
bool among(const T* number, const std::vector<T>& of) {
  return number >= of.data() && number < of.data() + of.size();
}

bool is_first_width(const Estimate* n, const std::vector<StickOf<Estimate>>& sticks) {
  return std::any_of(sticks.begin(), sticks.end(), [&](const StickOf<Estimate>& s) { return n == &s.side_1_mm; });
}

Belongs belonging(const ShopState& s, const Estimate* n, const std::string& shape) {
  if (n == &s.miter_error_rad) return {"miter"};
  if (n == &s.blade_tilt_rad) return {"blade tilt"};
  if (n == &s.run_out_mm) return {"run-out"};
  if (n == &s.clamp_change_n) return {"clamp force"};
  if (among(n, s.stop_error_mm)) return {"stops of the " + shape, Shared::shape, SizeOf::stop};
  if (among(n, s.seating_mm)) return {"seating at the stops", Shared::block};
  for (const CradleOf<Estimate>& c : s.cradles)
    for (const Estimate* e : {&c.roll_rad, &c.pitch_rad, &c.yaw_per_n, &c.pitch_per_n})
      if (n == e) return {"cradle"};
  for (const StickOf<Estimate>& c : s.sticks) {
    for (const Estimate* e : {&c.side_1_mm, &c.side_2_mm})
      if (n == e) return {"sticks", Shared::stick, SizeOf::stick};
    if (n == &c.corner_error_rad) return {"sticks", Shared::stick};
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
    for (const StandingBlock& b : puzzle_.blocks) note_swelling(b);
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
    if (added) {
      number.key = key;
      out_.numbers.push_back(std::move(number));
    }
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
      Belongs of = belonging(known, estimates[k], shape);
      if (shop_.own_sticks && of.size_of == SizeOf::stick) of.shared = Shared::block;
      const bool seats = among(estimates[k], known.seating_mm);
      if (off.u == 0 && off.value == 0 && of.size_of == SizeOf::none && !seats) {
        mine.push_back(0);
        continue;
      }
      const std::string& plain = e.block.numbers[k].name;
      const std::string name = of.shared == Shared::shape ? fmt::format("{} of the {}", plain, shape) : plain;
      const bool each = of.shared == Shared::stick || of.shared == Shared::block;
      const int number = number_for(key_of(of, plain, b), {name, of.source, each, off, of.size_of});
      mine.push_back(number);
      if (seats)
        out_.seatings.push_back(
            {static_cast<int>(moving_.size()), static_cast<int>(estimates[k] - known.seating_mm.data()), number});
      if (of.size_of == SizeOf::stick)
        out_.widths.push_back(
            {static_cast<int>(moving_.size()), is_first_width(estimates[k], known.sticks) ? 1 : 2, number});
      if (of.size_of != SizeOf::stop) continue;
      const StopNumber stop{b.shape, static_cast<int>(estimates[k] - known.stop_error_mm.data()), number};
      if (std::none_of(out_.stops.begin(), out_.stops.end(), [&](const StopNumber& s) { return s.number == number; }))
        out_.stops.push_back(stop);
    }
    moving_.push_back(std::move(mine));
  }

  int own_number(const std::string& name, const std::string& source, Estimate off, SizeOf size_of = SizeOf::none) {
    out_.numbers.push_back({name, source, true, std::move(off), size_of});
    return static_cast<int>(out_.numbers.size());
  }

  void note_gluing(const StandingPieceParts& piece) {
    constexpr const char* kPlacing = "placing in the glue-up";
    GlueNumbers g;
    for (const StandingJoint& j : piece.joints) {
      const JointFrame frame = joint_frame(j, puzzle_.blocks[static_cast<std::size_t>(j.a)], puzzle_.unit_mm);
      g.line.push_back(own_number("glue line", "glue lines", shop_.gluing.line, SizeOf::glue_line));
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

  void note_swelling(const StandingBlock& b) {
    for (const SwellingNumbers& s : out_.swelling)
      if (s.wood == b.wood) return;
    const int across = own_number("swelling across the grain, " + b.wood, "seasons", {});
    const int along = own_number("swelling along the grain, " + b.wood, "seasons", {});
    const auto wood = std::find(shop_.woods.begin(), shop_.woods.end(), b.wood) - shop_.woods.begin();
    out_.swelling.push_back({b.wood, across, along, shop_.movement[static_cast<std::size_t>(wood)]});
  }

  BlockSwelling swelling_of(const StandingBlock& b) const {
    const auto s = std::find_if(out_.swelling.begin(), out_.swelling.end(),
                                [&](const SwellingNumbers& x) { return x.wood == b.wood; });
    BlockSwelling out;
    for (int axis = 0; axis < 3; ++axis) out.share[axis] = Form::of(axis == b.grain_axis ? s->along : s->across);
    return out;
  }

  // One row of the expansion as a form.
  Form row_form(const FirstOrderBlock& block, const std::vector<int>& columns, std::size_t row) const {
    Form f;
    for (std::size_t c = 0; c < columns.size(); ++c) {
      const double effect = block.columns[c * block.rows + row];
      if (columns[c] > 0 && std::abs(effect) >= kNoEffect) f.add(effect, Form::of(columns[c]));
    }
    return f;
  }

  // Adds the block's derived numbers, and returns the number of every column of its expansion.
  std::vector<int> columns_of(const FirstOrderBlock& block) {
    std::vector<int> columns = moving_[out_.faces.size()];
    const auto number_of = [&](std::size_t n) {
      const auto at = std::find(block.moving_number.begin(), block.moving_number.end(), n);
      return at == block.moving_number.end() ? 0 : columns[static_cast<std::size_t>(at - block.moving_number.begin())];
    };
    for (const auto& products : block.products) {
      FitDerived d;
      for (const FirstOrderProduct& p : products)
        if (const int n = number_of(p.number), o = number_of(p.other); n > 0 && o > 0)
          d.products.push_back({n, o, p.coefficient});
      columns.push_back(d.products.empty() ? 0 : derive_products(std::move(d)));
    }
    for (const FirstOrderSlide& s : block.slides) {
      assert(s.ends == 1 || s.bases == 1);  // no program of the catalogue mixes them: first-order-cuts.md
      FitDerived slide{{}, s.bases == 1, {}};
      for (std::size_t k = 0; k < s.ends * s.bases; ++k) slide.of.push_back(row_form(block, columns, s.first_row + k));
      columns.push_back(derive(std::move(slide)));
    }
    return columns;
  }

  int derive(FitDerived d) {
    out_.derived.push_back(std::move(d));
    return out_.derived_at(out_.derived.size() - 1);
  }

  // Blocks of one stick have their products in common.
  int derive_products(FitDerived d) {
    for (std::size_t k = 0; k < out_.derived.size(); ++k)
      if (out_.derived[k].products == d.products) return out_.derived_at(k);
    return derive(std::move(d));
  }

  std::vector<FaceField> sawn_faces(const StandingBlock& b) {
    const FirstOrderBlock& block = expanded(b).block;
    const std::vector<int> columns = columns_of(block);
    std::vector<FaceField> fields;
    for (const StandingFace& f : b.faces) {
      const auto found = std::find_if(block.faces.begin(), block.faces.end(),
                                      [&](const FirstOrderFace& x) { return x.made_by == f.made_by; });
      assert(found != block.faces.end());
      std::array<Form, 4> rows;
      for (std::size_t k = 0; k < 4; ++k) rows[k] = row_form(block, columns, found->first_row + k);
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

  // Faces as sawn and glued, and as they swell from there.
  void glue(std::size_t p) {
    const StandingPieceParts& piece = puzzle_.pieces[p];
    const auto first = static_cast<std::size_t>(piece.first_block);
    const std::vector<std::vector<FaceField>> sawn(out_.faces.begin() + piece.first_block,
                                                   out_.faces.begin() + piece.first_block + piece.blocks);
    std::vector<BlockSwelling> swelling;
    for (std::size_t b = 0; b < sawn.size(); ++b) swelling.push_back(swelling_of(puzzle_.blocks[first + b]));
    const std::vector<BlockPose> glued = glued_poses(puzzle_, piece, sawn, glue_[p]),
                                 swollen = swollen_poses(puzzle_, piece, swelling);
    for (std::size_t b = 0; b < sawn.size(); ++b) {
      const StandingBlock& block = puzzle_.blocks[first + b];
      for (std::size_t f = 0; f < sawn[b].size(); ++f) {
        const Point n = direction(block.faces[f].plane.n);
        const FaceField swell = swollen_face(swelling[b], block, block.faces[f], puzzle_.unit_mm);
        out_.faces[first + b][f] = posed(sawn[b][f], n, glued[b]) + posed(swell, n, swollen[b]);
      }
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

void PuzzleErrors::derive(std::span<double> values) const {
  for (std::size_t k = 0; k < derived.size(); ++k) {
    const FitDerived& d = derived[k];
    double value = 0;
    for (const FitDerived::Product& p : d.products)
      value += p.coefficient * values[static_cast<std::size_t>(p.number)] * values[static_cast<std::size_t>(p.other)];
    for (std::size_t i = 0; i < d.of.size(); ++i) {
      const double form = d.of[i](values);
      value = i == 0 ? form : d.largest ? std::max(value, form) : std::min(value, form);
    }
    values[static_cast<std::size_t>(derived_at(k))] = value;
  }
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
