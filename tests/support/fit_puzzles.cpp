#include "support/fit_puzzles.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <random>

#include "batch/fit_inputs.h"
#include "saw/forward.h"

namespace stickwright::known {
namespace {

constexpr Mm kStick{16};
constexpr const char* kWood = "a wood";

Estimate about(double value, double u) {
  Estimate e;
  e.value = value, e.u = u, e.source = "made up";
  return e;
}

// Everything off by about as much as in a real shop; all values at their planned ones.
ShopState made_up_shop(const Program& program) {
  ShopState s;
  s.planned_mm = kStick.v;
  s.miter_error_rad = about(0, 3e-4);
  s.blade_tilt_rad = about(0, 5e-4);
  s.cradles[0] = {about(0, 6e-4), about(0, 4e-4), about(2e-6, 5e-7), about(-1e-6, 4e-7)};
  s.sticks[0] = {about(kStick.v, 0.02), about(kStick.v, 0.02), about(0, 8e-4),
                 about(0, 0.5),         about(0.0025, 5e-4),   about(0.0021, 4e-4)};
  s.run_out_mm = about(0, 0.01);
  s.stop_error_mm.assign(program.stops.size(), about(0, 0.02));
  s.seating_mm.assign(program.cuts.size(), about(0, 0.008));
  s.clamp_change_n = about(0, 30);
  s.gauge_temperature_c = about(20, 1);
  s.cradle_warmer_k = about(0, 0.5);
  s.gauge_expansion = about(11.5e-6, 5e-7);
  s.sled_expansion = about(8e-6, 2e-6);
  s.stop_expansion = about(1e-4, 2e-5);
  s.back_to_blade_mm = about(182.4, 0);
  for (const Stop& stop : program.stops) s.stack_behind_mm.push_back(stop.face == StopFace::square ? 60 : 0);
  return s;
}

Cells piece_around(const Cells& free, Cell start, std::size_t size, std::mt19937_64& random) {
  Cells piece{start};
  while (piece.size() < size) {
    Cells next;
    for (Cell c : piece)
      for (Cell n : mitered().neighbors(c))
        if (std::binary_search(free.begin(), free.end(), n) && std::find(piece.begin(), piece.end(), n) == piece.end())
          next.push_back(n);
    if (next.empty()) break;
    piece.push_back(next[random() % next.size()]);
  }
  std::sort(piece.begin(), piece.end());
  return piece;
}

GlueUp in_order(const GlueUp& g, const std::vector<int>& order) {
  GlueUp out;
  std::vector<int> place(order.size());
  for (std::size_t k = 0; k < order.size(); ++k) {
    out.blocks.push_back(g.blocks[static_cast<std::size_t>(order[k])]);
    place[static_cast<std::size_t>(order[k])] = static_cast<int>(k);
  }
  for (Joint j : g.joints) {
    j.a = place[static_cast<std::size_t>(j.a)], j.b = place[static_cast<std::size_t>(j.b)];
    if (j.a > j.b) std::swap(j.a, j.b), j.plane = {-j.plane.n, -j.plane.c};
    out.joints.push_back(j);
  }
  return out;
}

}  // namespace

FitPuzzle fit_puzzle(std::string name, ClosedPuzzle puzzle, ShopKnown shop) {
  FitPuzzle p{std::move(name), std::move(puzzle), std::move(shop), {}, {}, {}, 1};
  p.contacts = block_contacts(p.puzzle);
  p.errors = puzzle_errors(p.puzzle, p.shop);
  p.gaps = gap_forms(p.puzzle, p.errors.faces, p.contacts);
  return p;
}

FitPuzzle fit_puzzle(std::string name, const std::vector<Cells>& pieces, const std::vector<std::vector<Vec>>& datum,
                     const std::vector<std::vector<int>>& order) {
  std::vector<MadePiece> made;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    MadePiece m;
    m.name = "piece " + std::to_string(i + 1), m.copies = 1, m.cells = pieces[i];
    if (i < datum.size()) m.datum = datum[i];
    made.push_back(std::move(m));
  }
  Split split = split_pieces(made);
  for (std::size_t i = 0; i < order.size(); ++i)
    if (!order[i].empty()) split.pieces[i] = in_order(split.pieces[i], order[i]);
  ShopKnown shop;
  std::vector<int> axes;
  shop.woods = {kWood};
  for (const Block& b : split.shapes) {
    shop.programs.push_back(plan_cuts(b).value());
    shop.shape_names.push_back(b.full_name());
    shop.states.push_back(made_up_shop(shop.programs.back()));
    axes.push_back(shop.programs.back().stick_axis);
  }
  shop.movement = {{about(0.002, 0), about(1e-4, 0)}};
  shop.gluing = {about(0.03, 0.015), about(0, 0.05), about(0, 0.015)};
  run_grain(split, axes);
  std::vector<StandingGlueUp> standing;
  for (std::size_t i = 0; i < made.size(); ++i)
    standing.push_back({made[i].name, &split.pieces[i], Isometry{},
                        std::vector<std::string>(split.pieces[i].blocks.size(), kWood), made[i].datum});
  ClosedPuzzle closed = closed_puzzle(standing, split, shop.programs, unit_mm(kStick));
  return fit_puzzle(std::move(name), std::move(closed), std::move(shop));
}

FitPuzzle planned_fit_puzzle(const std::string& batch_file, std::size_t which) {
  const auto plan = plan_set_ups(batch_file);
  assert(plan);
  const PuzzlePlan& planned = plan.value().puzzles[which];
  FitPuzzle p = fit_puzzle(planned.design.design.name, closed_puzzle(plan.value(), planned), shop_known(plan.value()));
  p.copies = planned.copies;
  return p;
}

std::vector<Cells> binding_pieces(const Cells& solid, int pieces, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  while (true) {
    std::vector<Cells> out;
    Cells free = solid;
    const std::size_t each = solid.size() / static_cast<std::size_t>(pieces);
    while (!free.empty()) {
      const bool last = out.size() + 1 == static_cast<std::size_t>(pieces);
      out.push_back(piece_around(free, free[random() % free.size()], last ? free.size() : each, random));
      Cells rest;
      std::set_difference(free.begin(), free.end(), out.back().begin(), out.back().end(), std::back_inserter(rest));
      free = std::move(rest);
    }
    if (out.size() != static_cast<std::size_t>(pieces)) continue;
    const FitPuzzle p = fit_puzzle("tried", out);
    if (FitProgram(p.gaps.rows).can_bind()) return out;
  }
}

double most_off(const FitPuzzle& p, const std::vector<double>& values) {
  double most = 0;
  for (std::size_t b = 0; b < p.puzzle.blocks.size(); ++b)
    for (std::size_t f = 0; f < p.puzzle.blocks[b].faces.size(); ++f) {
      const FaceField& field = p.errors.faces[b][f];
      const Point turn{field.turn.a(values), field.turn.b(values), field.turn.t(values)};
      const double offset = field.offset(values);
      for (Vec v : p.puzzle.blocks[b].faces[f].loop)
        most = std::max(most, std::abs(offset - dot(turn, in_mm({v, 1}, p.puzzle.unit_mm))));
    }
  return most;
}

std::vector<double> no_errors(const FitPuzzle& p) {
  std::vector<double> values(p.errors.values(), 0.0);
  values[0] = 1;
  return values;
}

std::vector<double> drawn_errors(const FitPuzzle& p, std::uint64_t seed, double largest_mm) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<double> values = no_errors(p);
  const auto scale_by = [&](double k) {
    for (std::size_t i = 1; i <= p.errors.numbers.size(); ++i) values[i] *= k;
    p.errors.derive(values);
  };
  for (std::size_t k = 0; k < p.errors.numbers.size(); ++k) values[k + 1] = p.errors.numbers[k].off.u * normal(random);
  // Small first: products of two numbers do not count then.
  scale_by(1e-3);
  scale_by(largest_mm / most_off(p, values));
  return values;
}

ClosedFit linear_fit(const FitPuzzle& p, const FitProgram& program, const std::vector<double>& values) {
  std::vector<double> h;
  for (const Form& f : p.gaps.gap) h.push_back(f(values));
  return program.solve(h);
}

}  // namespace stickwright::known
