#include "batch/known_saw.h"

#include <fmt/core.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "jig/compliance.h"
#include "metrology/stack_budget.h"
#include "shop/jig_lines.h"
#include "wood/grain.h"
#include "wood/moisture.h"
#include "wood/species.h"

namespace stickwright {
namespace {

constexpr const char* kAssumed = "assumed: the shop file says nothing of it";
constexpr double kDegree = std::numbers::pi / 180;

// Standard uncertainties that are assumed where nothing is said: our own guesses, no source.
constexpr double kMiterU = 0.03 * kDegree, kTurnU = 0.05 * kDegree;  // tilt, roll, pitch, squareness of sticks
constexpr double kStickU = 0.03, kStopU = 0.03, kSeatingU = 0.01;    // mm
constexpr double kRunOutHalf = 0.05;                                 // mm
constexpr double kForceShare = 0.15;                                 // of the clamp force
constexpr double kAirHalfWidth = 3;                                  // K
constexpr double kMinutesShare = 0.25;  // of an evening's spread of temperature, from a setting to its test
constexpr double kRunOutChanges = 0.1;  // share of itself that the run-out is different from when the stop was made

// The shim table: readings from this far below the target to where a shim of this thickness would be wanted.
constexpr double kUnderMm = 0.1, kMostShimMm = 0.5;
constexpr Mm kTableStep{0.005};

Estimate normal(double value, double u, std::string source) {
  Estimate e;
  e.value = value;
  e.u = u;
  e.source = std::move(source);
  return e;
}

Estimate angle_or(const std::optional<Estimate>& taught, const std::optional<Angle>& said, double assumed) {
  if (taught) return *taught;
  if (said) return normal(0, said->rad(), "shop file, [known]");
  return normal(0, assumed, kAssumed);
}

Estimate length_or(double value, const std::optional<Mm>& said, double assumed) {
  return said ? normal(value, said->v, "shop file, [known]") : normal(value, assumed, kAssumed);
}

void set_errors(ShopState& s, const Known& known, const Taught& taught) {
  s.miter_error_rad = angle_or(taught.errors[0], known.miter, kMiterU);
  s.blade_tilt_rad = angle_or(taught.errors[1], known.tilt, kTurnU);
  s.cradles[0].roll_rad = angle_or(taught.errors[2], known.roll, kTurnU);
  s.cradles[0].pitch_rad = angle_or(taught.errors[3], known.pitch, kTurnU);
}

Estimate per_newton(const Effect& effect, const Newton& force) {
  Estimate e = effect.value;
  e.value = effect.per_newton;
  e.u = force.v > 0 ? effect.value.u / force.v : 0;
  return e;
}

// How the first cradle of the shop yields when the clamp does not press as it did when the saw was trued.
void set_clamp(ShopState& s, const Batch& batch, std::vector<std::string>& cautions) {
  const Shop& shop = batch.shop;
  if (shop.cradles.empty()) return;
  const Cradle& cradle = shop.cradles.front();
  const auto yield = yield_of(clamped(cradle, batch.stick));
  if (!yield) {
    cautions.push_back(yield.problem().say);
    return;
  }
  s.cradles[0].yaw_per_n = per_newton(yield.value().miter, cradle.clamp_force);
  s.cradles[0].pitch_per_n = per_newton(yield.value().pitch, cradle.clamp_force);
  const auto& spread = shop.known.clamp_force_spread;
  s.clamp_change_n = normal(0, spread.value_or(kForceShare) * cradle.clamp_force.v,
                            spread ? "shop file, [known]" : "assumed, a share of the clamp force");
  cautions.insert(cautions.end(), yield.value().cautions.begin(), yield.value().cautions.end());
}

Estimate expansion_of(const std::optional<Material>& material, const char* what) {
  if (material) return material->expansion;
  // Steel to soft plastics lie between 10 and 100; wood along the grain and sheets of it below.
  return within(10e-6, 10e-6, Spread::rectangular,
                fmt::format("assumed: the shop file does not say what the {} is made of", what));
}

void set_temperatures(ShopState& s, const Shop& shop) {
  const auto air = [&](double value) {
    return shop.air ? within(value, shop.air->temperature_spread.v, Spread::rectangular, "shop file, [air]")
                    : within(20, kAirHalfWidth, Spread::rectangular, kAssumed);
  };
  s.gauge_temperature_c = air(shop.air ? shop.air->gauge_temperature.v : 20);
  s.cradle_warmer_k =
      within(0, kMinutesShare * (shop.air ? shop.air->temperature_spread.v : kAirHalfWidth), Spread::rectangular,
             "a test follows its setting: a quarter of the evening's spread, assumed");
  s.gauge_expansion =
      within(kBlockExpansion, kBlockExpansionHalfWidth, Spread::rectangular, "steel, ISO 3650, from memory");
  s.sled_expansion = expansion_of(shop.sled.base_material, "sled");
  s.stop_expansion = expansion_of(shop.sled.stop_material, "stop");
  s.back_to_blade_mm = normal(shop.sled.back_to_blade.v, 0, "shop file, [sled]");
}

// Percent moisture content that the sticks have gained since they were milled: between nothing and what the air would
// give them in the end, nobody knows how much of it.
Estimate moisture_gained(const Shop& shop) {
  constexpr double kDrift = 0.5;  // percent, where nothing is said: our own guess
  if (!shop.air || !shop.air->humidity || !shop.air->humidity_at_milling)
    return within(0, kDrift, Spread::rectangular, kAssumed);
  const auto now = equilibrium_moisture(shop.air->temperature, *shop.air->humidity);
  const auto then = equilibrium_moisture(shop.air->temperature, *shop.air->humidity_at_milling);
  if (!now || !then) return within(0, kDrift, Spread::rectangular, "assumed: the air is outside the published table");
  const double change = now.value().value - then.value().value;
  return within(change / 2, std::abs(change) / 2, Spread::rectangular,
                "humidity at milling and now, Wood Handbook eq 4-5; none to all of it taken up");
}

StickOf<Estimate> stick_of(const Batch& batch, const std::string& wood) {
  StickOf<Estimate> s = known_stick(batch.shop, batch.stick);
  s.moisture_change = moisture_gained(batch.shop);
  const auto species = find_species(wood);
  s.movement_1 = s.movement_2 = species ? movement_across(*species.value()) : movement_across_unknown();
  return s;
}

// Of the woods that the set-up cuts, the one that moves most.
std::size_t liveliest(const KnownSaw& saw, const SetUp& set_up) {
  std::size_t best = 0;
  bool any = false;
  for (std::size_t k = 0; k < saw.woods.size(); ++k) {
    if (!set_up.needed.count(saw.woods[k])) continue;
    if (!any || saw.state.sticks[k].movement_1.value > saw.state.sticks[best].movement_1.value) best = k;
    any = true;
  }
  return best;
}

Estimate sum_of(const std::vector<BudgetInput>& parts) {
  Estimate sum;
  double square = 0;
  for (const BudgetInput& p : parts) {
    sum.value += p.sensitivity * p.input.value;
    square += std::pow(p.sensitivity * p.input.u, 2);
  }
  sum.u = std::sqrt(square);
  sum.source = "stack, and how the stop is pushed home";
  return sum;
}

}  // namespace

StickOf<Estimate> known_stick(const Shop& shop, Mm stick) {
  StickOf<Estimate> s;
  s.side_1_mm = s.side_2_mm = length_or(stick.v, shop.known.stick, kStickU);
  s.corner_error_rad = angle_or({}, shop.known.corner, kTurnU);
  return s;
}

KnownSaw known_saw(const Batch& batch, const std::vector<std::string>& woods, const Taught& taught) {
  KnownSaw saw;
  saw.woods = woods;
  ShopState& s = saw.state;
  s.planned_mm = batch.stick.v;
  set_errors(s, batch.shop.known, taught);
  set_clamp(s, batch, saw.cautions);
  set_temperatures(s, batch.shop);
  s.sticks.clear();
  for (const std::string& wood : woods) s.sticks.push_back(stick_of(batch, wood));
  s.kerf_mm = normal(batch.shop.blade.kerf.v, 0, "shop file, [blade]");
  const auto& run_out = batch.shop.blade.run_out;  // the whole swing, so half of it to either side
  s.run_out_mm = within(0, kRunOutChanges * (run_out ? run_out->v / 2 : kRunOutHalf), Spread::rectangular,
                        run_out ? "a tenth of the run-out, assumed" : kAssumed);
  s.seating_mm = {taught.seating ? *taught.seating : length_or(0, batch.shop.known.seating, kSeatingU)};
  return saw;
}

Estimate one_reading(const Caliper& caliper) {
  return normal(0, std::hypot(caliper.resolution.v / std::sqrt(12.0), caliper.repeat.v),
                fmt::format("{}: step {:g} mm (rectangular), repeat {:g} mm", caliper.name, caliper.resolution.v,
                            caliper.repeat.v));
}

std::vector<BudgetInput> stop_parts(const Batch& batch, const GaugeSet& set, const StopPlan& stop) {
  std::vector<BudgetInput> parts = {{"stack's nominal sum", "mm", normal(stop.error.v, 0, "exact"), 1}};
  // Behind a square stop a thicker stack pushes the stop towards the blade. Temperatures are numbers of the state.
  const double way = stop.square_stop ? -1 : 1;
  for (BudgetInput line : stack_budget(stop.stack, set, normal(kReferenceCelsius, 0, "ISO 1")).lines)
    if (line.sensitivity *= way; line.unit == "um") parts.push_back(std::move(line));
  parts.push_back({kPushedHome, "mm", length_or(0, batch.shop.known.stop, kStopU), 1});
  if (stop.square_stop)
    parts.push_back({"square stop and way to the blade", "mm",
                     normal(0, std::numbers::sqrt2 * one_reading(batch.shop.caliper).u, "measured with the caliper"),
                     1});
  return parts;
}

ShopState state_at(const KnownSaw& saw, const Batch& batch, const GaugeSet& set, const SetUp& set_up) {
  ShopState state = saw.state;
  state.seating_mm.assign(set_up.program.cuts.size(), saw.state.seating_mm.front());
  state.stop_error_mm.clear();
  for (const StopPlan& s : set_up.stops) {
    state.stop_error_mm.push_back(sum_of(stop_parts(batch, set, s)));
    state.stack_behind_mm.push_back(s.square_stop ? to_mm(s.stack.total).v : 0);
  }
  return state;
}

Prediction predict_test(const KnownSaw& saw, const Batch& batch, const GaugeSet& set, const SetUp& set_up,
                        std::size_t stop, Draw draw) {
  const TestBlock& test = set_up.tests[stop].test;
  Across across{test_program(set_up.program, test), test.face_a, test.face_b, test.stop, {}};
  ShopState state = state_at(saw, batch, set, set_up);
  state.sticks = {saw.state.sticks[liveliest(saw, set_up)]};
  state.seating_mm.assign(across.program.cuts.size(), saw.state.seating_mm.front());
  return predict(across, state, stop_parts(batch, set, set_up.stops[stop]), one_reading(batch.shop.caliper), draw);
}

std::vector<Leaf> leaves_of(const Shop& shop) {
  std::vector<Leaf> leaves;
  for (Nm thickness : shop.feeler_leaves) leaves.push_back(printed_leaf(thickness));
  return leaves;
}

void predict_tests(const KnownSaw& saw, const Batch& batch, const GaugeSet& set, std::vector<SetUp>& set_ups) {
  const std::vector<Leaf> leaves = leaves_of(batch.shop);
  std::vector<std::pair<SetUp*, std::size_t>> tests;
  for (SetUp& s : set_ups)
    for (std::size_t k = 0; k < s.tests.size(); ++k) tests.push_back({&s, k});
  // Each is by itself, and drawing saws takes its time.
  tbb::parallel_for(std::size_t{0}, tests.size(), [&](std::size_t i) {
    const auto [set_up, k] = tests[i];
    TestPlan& t = set_up->tests[k];
    t.prediction = predict_test(saw, batch, set, *set_up, k);
    const double target = to_mm(to_nm(t.test.across_flats)).v, span = std::abs(t.test.per_stop) * kMostShimMm;
    t.shim_table =
        shim_table(t.prediction, leaves, Mm{target - kUnderMm}, Mm{target + std::max(span, kUnderMm)}, kTableStep);
  });
}

}  // namespace stickwright
