#include "batch/fit_inputs.h"

#include <fmt/core.h>

#include <algorithm>
#include <numbers>

#include "saw/forward.h"
#include "wood/grain.h"
#include "wood/moisture.h"
#include "wood/species.h"

namespace stickwright {
namespace {

// Our own guesses, no source; a maker measures them.
constexpr double kLine = 0.03, kLineSpread = 0.015, kByHand = 0.08, kAgainstPlate = 0.02;  // mm
constexpr Mm kHandGives{0.01}, kEased{0.3};
constexpr double kIndoors = 8;  // percent moisture content

Estimate known_or_assumed(const std::optional<Mm>& u, double assumed, double value = 0) {
  Estimate e;
  e.value = value;
  e.u = u ? u->v : assumed;
  e.source = u ? "shop file, [glue]" : "assumed: the shop file says nothing of it";
  return e;
}

// Takes a made piece to where it stands.
Isometry stand_of(const MadePiece& made, const StandingPiece& standing) {
  return shape_of(mitered(), standing.cells).pose * shape_of(mitered(), made.cells).pose.inverse();
}

// A square stop's face reaches a unit nearer to the blade than its distance (saw/program.cpp).
double most_short(const BatchPlan& plan, const Dimension& stop) {
  const StopPlan& s = plan.set_ups[static_cast<std::size_t>(stop.shape)].stops[static_cast<std::size_t>(stop.stop)];
  const double corner = s.stop.face == StopFace::square ? unit_mm(plan.batch.stick) : 0;
  const double spare = s.distance.v - corner - std::numbers::sqrt2 * plan.batch.shop.sled.closest_stop.v;
  return std::clamp(spare, 0.0, kMostAllowance);
}

}  // namespace

std::vector<Dimension> sizes_to_choose(const BatchPlan& plan, const PuzzleErrors& errors) {
  std::vector<Dimension> sizes = dimensions_of(errors);
  for (Dimension& d : sizes)
    if (d.size_of == SizeOf::stop) d.most_short = most_short(plan, d);
  return sizes;
}

ClosedPuzzle closed_puzzle(const BatchPlan& plan, const PuzzlePlan& puzzle) {
  std::vector<StandingGlueUp> pieces;
  for (const StandingPiece& s : puzzle.design.standing) {
    const auto made = static_cast<std::size_t>(s.made);
    pieces.push_back({s.name, &plan.split.pieces[puzzle.first + made], stand_of(puzzle.design.made[made], s),
                      puzzle.wood_of[made][static_cast<std::size_t>(s.copy)], puzzle.design.made[made].datum});
  }
  std::vector<Program> programs;
  for (const SetUp& s : plan.set_ups) programs.push_back(s.program);
  return closed_puzzle(pieces, plan.split, programs, unit_mm(plan.batch.stick));
}

ShopKnown shop_known(const BatchPlan& plan) {
  ShopKnown known;
  known.woods = plan.saw.woods;
  for (const SetUp& s : plan.set_ups) {
    known.programs.push_back(s.program);
    known.shape_names.push_back(plan.split.shapes[static_cast<std::size_t>(s.shape)].full_name());
    known.states.push_back(state_at(plan.saw, plan.batch, plan.gauge_blocks, s));
  }
  for (const std::string& wood : known.woods) {
    const auto species = find_species(wood);
    known.movement.push_back(
        {species ? movement_across(*species.value()) : movement_across_unknown(), movement_along()});
  }
  const GlueMeans& glue = plan.batch.shop.glue;
  known.gluing.line = known_or_assumed(glue.line_spread, kLineSpread, glue.line ? glue.line->v : kLine);
  known.gluing.by_hand = known_or_assumed(glue.slip, kByHand);
  known.gluing.against_plate = known_or_assumed(glue.slip_in_jig, kAgainstPlate);
  return known;
}

Mm hand_gives(const Shop& shop) {
  return shop.fit.hand_gives.value_or(kHandGives);
}

Mm eased(const Shop& shop) {
  return shop.fit.eased.value_or(kEased);
}

double moisture_at_making(const Shop& shop) {
  if (!shop.air || !shop.air->humidity) return kIndoors;
  const auto now = equilibrium_moisture(shop.air->temperature, *shop.air->humidity);
  return now ? now.value().value : kIndoors;
}

std::vector<std::string> assumed_of(const Batch& batch) {
  const Shop& shop = batch.shop;
  std::vector<std::string> out;
  const auto add = [&](bool known, const char* words, double value) {
    if (!known) out.push_back(fmt::format(fmt::runtime(words), value));
  };
  add(shop.glue.line.has_value(), "glue lines of {:.3f} mm", kLine);
  add(shop.glue.line_spread.has_value(), "which differ by {:.3f} mm (standard deviation)", kLineSpread);
  add(shop.glue.slip.has_value(), "blocks placed by hand to {:.3f} mm", kByHand);
  add(shop.glue.slip_in_jig.has_value(), "in the glue jig to {:.3f} mm", kAgainstPlate);
  add(shop.fit.hand_gives.has_value(), "hands that press {:.3f} mm shut", kHandGives.v);
  add(shop.fit.eased.has_value(), "edges eased by {:.3f} mm", kEased.v);
  add(!batch.customer || (shop.air && shop.air->humidity), "wood at {:.0f} % when it is glued", kIndoors);
  return out;
}

}  // namespace stickwright
