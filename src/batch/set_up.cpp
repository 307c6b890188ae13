#include "batch/set_up.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "batch/known_saw.h"

namespace stickwright {
namespace {

// Choosing the square stop: one length for each stop of the program that needs one; an unused entry is empty.
using SquareStops = std::vector<std::optional<Mm>>;

std::vector<SquareStops> choices_of_square_stops(const Program& program, const Sled& sled) {
  std::vector<SquareStops> all = {{}};
  for (const Stop& stop : program.stops) {
    std::vector<SquareStops> longer;
    for (const SquareStops& so_far : all) {
      if (stop.face == StopFace::mitered) {
        longer.push_back(so_far);
        longer.back().push_back({});
      } else {
        for (Mm length : sled.square_stops) {
          if (std::find(so_far.begin(), so_far.end(), length) != so_far.end()) continue;  // it stands elsewhere already
          longer.push_back(so_far);
          longer.back().push_back(length);
        }
      }
    }
    all = std::move(longer);
  }
  return all;
}

// The stack wanted: as thick as the distance for a mitered stop, what is left behind a square one otherwise.
Nm stack_target(const Stop& stop, const std::optional<Mm>& square, const Batch& batch) {
  const Mm distance = stop_distance(stop, batch.stick);
  return to_nm(square ? batch.shop.sled.back_to_blade - *square - distance : distance);
}

StopPlan stop_plan(const Stop& stop, const std::optional<Mm>& square, Nm target, Stack stack, const GaugeSet& set,
                   const Batch& batch) {
  StopPlan p{stop, stop_distance(stop, batch.stick), square, target, std::move(stack), {}, {}, {}};
  for (std::size_t i : p.stack.blocks) p.sizes.push_back(engraved(set.blocks[i]));
  // Behind a square stop a thicker stack pushes the stop towards the blade, so the distance shrinks.
  p.error = (square ? -1.0 : 1.0) *
            (to_mm(p.stack.total) - (square ? batch.shop.sled.back_to_blade - *square - p.distance : p.distance));
  p.u = Mm{p.stack.u_nm * 1e-6};
  return p;
}

std::pair<std::size_t, std::int64_t> cost(const std::vector<Stack>& stacks) {
  std::pair<std::size_t, std::int64_t> c{0, 0};
  for (const Stack& s : stacks) c.first += s.blocks.size(), c.second += s.tolerance.v;
  return c;
}

// All stacks of one set-up stand at once and share the set; of several square stops the one with the least stack.
Result<std::vector<StopPlan>> plan_stops(const Batch& batch, const GaugeSet& set, const Program& program) {
  std::optional<std::vector<StopPlan>> best;
  std::pair<std::size_t, std::int64_t> best_cost;
  Problem problem{"no_square_stop", "",
                  "this set-up needs a square-ended stop shorter than the way from the back stop to the blade. Add one "
                  "to sled.square_stops.",
                  ""};
  const Nm within = stack_allowance(batch.shop, set);
  for (const SquareStops& squares : choices_of_square_stops(program, batch.shop.sled)) {
    std::vector<Nm> targets;
    for (std::size_t k = 0; k < squares.size(); ++k)
      targets.push_back(stack_target(program.stops[k], squares[k], batch));
    if (std::any_of(targets.begin(), targets.end(), [](Nm t) { return t.v <= 0; })) continue;
    const auto stacks = build_stacks(targets, within, set);
    if (!stacks) {
      if (!best) problem = stacks.problem();
      continue;
    }
    if (!check_stacks(stacks.value(), targets, within, set))
      throw std::logic_error("the independent checker refuses a stack");
    if (best && cost(stacks.value()) >= best_cost) continue;
    best_cost = cost(stacks.value());
    best.emplace();
    for (std::size_t k = 0; k < squares.size(); ++k)
      best->push_back(stop_plan(program.stops[k], squares[k], targets[k], stacks.value()[k], set, batch));
  }
  if (!best) return problem;
  return *std::move(best);
}

Mm kerf_along_axis(const Batch& batch) {
  return std::numbers::sqrt2 * batch.shop.blade.kerf;
}

// A mitered stop is cut from its blank while the stack stands behind it: the blank must reach through the blade's cut.
std::optional<Problem> blank_too_short(const Batch& batch, const std::vector<StopPlan>& stops) {
  const Sled& sled = batch.shop.sled;
  for (const StopPlan& s : stops) {
    const Mm reach = to_mm(s.stack.total) + sled.mitered_blank;
    const Mm needed = sled.back_to_blade + Mm{unit_mm(batch.stick)} + kerf_along_axis(batch);
    if (!s.square_stop && reach < needed)
      return problem_at(
          *batch.shop.source, sled.back_to_blade_at, "blank_too_short",
          fmt::format("a blank of {:.2f} mm behind a stack of {:.3f} mm does not reach through the cut, {:.2f} mm "
                      "from the back stop. Make sled.mitered_blank at least {:.1f} mm.",
                      sled.mitered_blank.v, to_mm(s.stack.total).v, needed.v,
                      std::ceil((needed.v - to_mm(s.stack.total).v) * 10) / 10));
  }
  return {};
}

// Where the plane of a cut crosses the axis, in mm, read off the body that the forward model gives.
double axis_crossing(const Body& body, int made_by) {
  const BodyFace* f = face_made_by(body, made_by);
  return f ? f->plane.c / f->plane.n.t : 0;
}

// A stand-in that starts with a cut of its own is a piece of stick; one cut further from a block costs that block.
Mm stand_in_length(const Program& program, const TestBlock& t, const Batch& batch) {
  if (t.extra.empty()) return Mm{0};
  if (t.after_cut > 0) return Mm{static_cast<double>(program.length) * unit_mm(batch.stick)};
  const Body body = saw::cut(test_program(program, t), nominal_saw(batch.stick));
  return Mm{axis_crossing(body, std::max(t.face_a, t.face_b)) - axis_crossing(body, std::min(t.face_a, t.face_b))};
}

TestPlan test_plan(const Batch& batch, const Program& program, TestBlock test) {
  TestPlan t;
  t.length = stand_in_length(program, test, batch);
  if (t.length.v > 0) t.length = t.length + kerf_along_axis(batch);
  t.u_reading = Mm{one_reading(batch.shop.caliper).u};
  t.test = std::move(test);
  return t;
}

}  // namespace

PlanLimits plan_limits(const Batch& batch) {
  return {batch.shop.sled.closest_stop.v / unit_mm(batch.stick), !batch.shop.sled.square_stops.empty()};
}

Mm TestPlan::leave_it() const {
  const double target = test.across_flats.v;
  for (const ShimRow& row : shim_table)
    if (row.advice == StopAdvice::leave && row.first.v <= target && target <= row.last.v)
      return Mm{std::min(target - row.first.v, row.last.v - target)};
  return Mm{0};
}

int SetUp::blocks() const {
  int n = 0;
  for (const auto& [wood, count] : needed) n += count;
  for (const auto& [wood, count] : spares) n += count;
  return n;
}

int SetUp::readings(int one_in) const {
  return measurable() ? (blocks() + one_in - 1) / one_in : static_cast<int>(needed.size());
}

namespace {

// Without a word about it, a block is not measured better than its grade would be.
std::vector<WornBlock> worn_blocks(const GaugeBox& box, const GaugeSet& set) {
  std::vector<WornBlock> blocks;
  for (const WornSize& w : box.worn) {
    Nm give_or_take = kMeasuredBlock;
    for (const GaugeBlock& b : set.blocks)
      if (b.size == w.size) give_or_take = std::max(give_or_take, b.tolerance);
    blocks.push_back({w.size, w.is, w.give_or_take.value_or(give_or_take)});
  }
  return blocks;
}

}  // namespace

Result<GaugeSet> gauge_set_of(const Shop& shop) {
  const GaugeBox& box = shop.gauge_blocks;
  auto set = box.set.empty() ? custom_gauge_set(box.sizes, box.grade) : standard_gauge_set(box.set, box.grade);
  if (!set) {
    const bool grade = set.problem().code == "unknown_grade";
    return problem_at(*shop.source, grade ? box.grade_at : box.set_at, set.problem().code, set.problem().say);
  }
  auto left = without(set.value(), box.missing);
  if (!left) return problem_at(*shop.source, box.missing_at, left.problem().code, left.problem().say);
  auto known = with_worn(left.value(), worn_blocks(box, left.value()));
  if (!known) return problem_at(*shop.source, box.worn_at, known.problem().code, known.problem().say);
  return known;
}

Nm stack_allowance(const Shop& shop, const GaugeSet& set) {
  if (shop.gauge_blocks.within) return *shop.gauge_blocks.within;
  return std::max(Nm{1000}, Nm{(finest_step(as_engraved(set)).v + 1) / 2});
}

Result<SetUp> plan_set_up(const Batch& batch, const GaugeSet& set, const Block& block, int shape) {
  SetUp s;
  s.shape = shape;
  auto program = plan_cuts(block, plan_limits(batch));
  if (!program)
    return Problem{
        "no_program", block.full_name(),
        fmt::format(
            "it cannot be cut from sticks of {}: every way brings the blade nearer to a stop than the {:.2f} mm "
            "that the shop file allows (sled.closest_stop). Choose a larger stick.",
            show_mm_inch(batch.stick, 2), batch.shop.sled.closest_stop.v),
        ""};
  if (!check_program(block, *program, batch.stick)) throw std::logic_error("the forward model refuses a cut program");
  s.program = *std::move(program);
  auto stops = plan_stops(batch, set, s.program);
  if (!stops) {
    Problem p = stops.problem();
    p.where = block.full_name();
    return p;
  }
  s.stops = stops.take();
  if (auto problem = blank_too_short(batch, s.stops)) return *problem;
  for (std::size_t k = 0; k < s.stops.size(); ++k) {
    auto test = test_block(s.program, static_cast<int>(k), batch.stick);
    if (!test)
      return Problem{"no_test", block.full_name(),
                     "no test block with two parallel faces tells this stop. Measure the block itself with a square.",
                     ""};
    s.tests.push_back(test_plan(batch, s.program, *std::move(test)));
  }
  SawState saw = nominal_saw(batch.stick);
  saw.kerf_mm = batch.shop.blade.kerf.v;
  s.stick_per_block = stick_used(s.program, saw);
  return s;
}

}  // namespace stickwright
